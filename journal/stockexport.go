package journal

import (
	"bufio"
	"encoding/csv"
	"encoding/json"
	"io"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
)

// containerPage is how many containers are read before the file is let go.
const containerPage = 256

// ExportContainers writes the containers of f to w, in the order they were added,
// and returns how many it wrote. The formats are those of Export: JSON Lines have
// one ContainerView with its events a line (see ContainerSchema), CSV one row
// without them. A journal that was never made has no containers.
func (j *Journal) ExportContainers(w io.Writer, format string, f ContainerFilter) (n int, err error) {
	out := bufio.NewWriterSize(w, 64<<10)
	var put func(Container) error
	flush := out.Flush
	switch format {
	case CSV:
		rows := csv.NewWriter(out)
		rows.UseCRLF = true
		if err := rows.Write(containerHeader()); err != nil {
			return 0, writing(err)
		}
		put = func(c Container) error { return rows.Write(containerRow(c)) }
		flush = func() error {
			if rows.Flush(); rows.Error() != nil {
				return rows.Error()
			}
			return out.Flush()
		}
	case JSONLines:
		lines := json.NewEncoder(out)
		lines.SetEscapeHTML(false)
		put = func(c Container) error { return lines.Encode(c.View()) }
	default:
		return 0, fault.Usagef("there is no export format %q", format).Try("name %s or %s", CSV, JSONLines)
	}
	if there, err := j.Exists(); err != nil {
		return 0, err
	} else if there {
		err = j.eachContainer(f, format == JSONLines, func(c Container) error {
			n++
			return put(c)
		})
		if err != nil {
			return n, err
		}
	}
	if err := flush(); err != nil {
		return n, writing(err)
	}
	return n, nil
}

// eachContainer gives fn the containers of f, while the file is free.
func (j *Journal) eachContainer(f ContainerFilter, events bool, fn func(Container) error) error {
	var last id
	for more := true; more; {
		var page []Container
		more = false
		err := j.read(func(tx *bolt.Tx) error {
			r, err := newReader(tx)
			if err != nil {
				return err
			}
			containers, err := bucket(tx, containersBucket)
			if err != nil {
				return err
			}
			cursor := containers.Cursor()
			for key, value := cursor.Seek(last[:]); key != nil; key, value = cursor.Next() {
				if string(key) == string(last[:]) {
					continue
				}
				if len(page) == containerPage {
					more = true
					return nil
				}
				c, err := decodeContainer(key, value)
				if err != nil {
					return err
				}
				if last = c.ID; !f.matches(c) {
					continue
				}
				shown := c.public()
				if events {
					if shown, err = r.publicContainer(c); err != nil {
						return err
					}
				}
				page = append(page, shown)
			}
			return nil
		})
		if err != nil {
			return err
		}
		for _, c := range page {
			if err := fn(c); err != nil {
				return writing(err)
			}
		}
	}
	return nil
}

func (f ContainerFilter) matches(c *containerRecord) bool {
	return (f.Substance == "" || foldName(f.Substance) == foldName(c.Substance)) &&
		(f.Lot == "" || foldName(f.Lot) == foldName(c.Lot)) && (f.Empty || c.Emptied == nil)
}

func containerHeader() []string {
	return []string{
		"number", "id", "substance", "form", "lot", "supplier", "received", "opened", "expires", "amount (g)", "left (g)", "amount (mL)", "left (mL)",
		"observed", "observed_at", "sds_place", "sds_revised", "sds_looked_at", "place", "note", "by", "added", "emptied",
	}
}

func containerRow(c Container) []string {
	v := c.View()
	text := func(t *string) string {
		if t == nil {
			return ""
		}
		return *t
	}
	return []string{
		v.Number, v.ID, cell(v.Substance), cell(v.Form), cell(v.Lot), cell(v.Supplier), v.Received, v.Opened, v.Expires,
		figureOrNone(v.AmountG), figureOrNone(v.LeftG), figureOrNone(v.AmountML), figureOrNone(v.LeftML),
		cell(v.Observed), text(v.ObservedAt), cell(v.SDS.Place), v.SDS.Revised, v.SDS.LookedAt, cell(v.Place), cell(v.Note), cell(v.By),
		v.Added, text(v.Emptied),
	}
}
