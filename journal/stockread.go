package journal

import (
	"fmt"
	"strconv"
	"strings"

	bolt "go.etcd.io/bbolt"

	"hepar/recipe/fault"
	"hepar/recipe/measure"
)

// ContainerFilter says which containers ListContainers gives. Its zero value is
// all that are not empty.
type ContainerFilter struct {
	Substance string // in any case of letters
	Lot       string // likewise
	Empty     bool   // those that are empty as well
}

// Container reads one container with its events. Ref is its number ("S-012",
// "s-12") or its whole id.
func (j *Journal) Container(ref string) (out Container, err error) {
	err = j.read(func(tx *bolt.Tx) error {
		r, err := newReader(tx)
		if err != nil {
			return err
		}
		c, err := r.container(ref)
		if err != nil {
			return err
		}
		out, err = r.publicContainer(c)
		return err
	})
	return out, err
}

// ListContainers gives the containers of f, without their events, in the order
// they were added. A journal that was never made has none.
func (j *Journal) ListContainers(f ContainerFilter) ([]Container, error) {
	if there, err := j.Exists(); err != nil || !there {
		return nil, err
	}
	var all []Container
	err := j.read(func(tx *bolt.Tx) error {
		containers, err := bucket(tx, containersBucket)
		if err != nil {
			return err
		}
		return containers.ForEach(func(key, value []byte) error {
			c, err := decodeContainer(key, value)
			if err != nil {
				return err
			}
			if f.matches(c) {
				all = append(all, c.public())
			}
			return nil
		})
	})
	return all, err
}

// Shelf gives what is left of a substance. It counts what is past its date or
// seen to be spent as well: whoever asks must look at each container.
func (j *Journal) Shelf(substance string) (Stock, error) {
	s := Stock{Substance: substance}
	if strings.TrimSpace(substance) == "" {
		return s, fault.Usagef("no substance is named").Try("name the substance as the recipe does")
	}
	var err error
	s.Containers, err = j.ListContainers(ContainerFilter{Substance: substance})
	for _, c := range s.Containers {
		s.Grams += c.LeftG
		s.ML += c.LeftML
	}
	s.Grams, s.ML = measure.Grams(tidy(float64(s.Grams))), tidy(s.ML)
	return s, err
}

// container reads the container that ref names.
func (r *reader) container(ref string) (*containerRecord, error) {
	ref = strings.ToUpper(strings.TrimSpace(ref))
	if number, ok := parseContainerNumber(ref); ok {
		numbers, err := bucket(r.tx, numbersBucket)
		if err != nil {
			return nil, err
		}
		value := numbers.Get([]byte(number))
		if value == nil {
			return nil, noContainer(number)
		}
		if len(value) != len(id{}) {
			return nil, fmt.Errorf("%w: the number %s leads nowhere", errTangled, number)
		}
		c, err := r.containerByID(id(value))
		if err == nil && c.Number != number {
			err = fmt.Errorf("%w: the number %s leads to container %s", errTangled, number, c.Number)
		}
		return c, err
	}
	whole, high, ok := idRange(ref)
	if !ok || whole != high {
		return nil, fault.Usagef("%q is not the number of a container", measure.Clean(ref)).Try("give a number as in S-012")
	}
	containers, err := bucket(r.tx, containersBucket)
	if err != nil {
		return nil, err
	}
	value := containers.Get(whole[:])
	if value == nil {
		return nil, noContainer(ref)
	}
	return decodeContainer(whole[:], value)
}

func noContainer(ref string) error {
	return fault.Usagef("there is no container %s on the shelf", ref).Try("see the numbers with 'hepar stock list'")
}

// containerByID reads a container that must be there.
func (r *reader) containerByID(i id) (*containerRecord, error) {
	containers, err := bucket(r.tx, containersBucket)
	if err != nil {
		return nil, err
	}
	value := containers.Get(i[:])
	if value == nil {
		return nil, fmt.Errorf("%w: container %s is missing", errTangled, i)
	}
	return decodeContainer(i[:], value)
}

func decodeContainer(key, value []byte) (*containerRecord, error) {
	if len(key) != len(id{}) {
		return nil, fmt.Errorf("%w: a container has the odd key %x", errTangled, key)
	}
	var c containerRecord
	if err := unseal(value, &c); err != nil {
		return nil, fmt.Errorf("container %s: %w", id(key), err)
	}
	if c.ID != id(key) {
		return nil, fmt.Errorf("%w: container %s stands in the place of %s", errTangled, c.ID, id(key))
	}
	return &c, nil
}

// publicContainer gives a container with its events, and in each the number of
// the batch it was for.
func (r *reader) publicContainer(c *containerRecord) (Container, error) {
	out := c.public()
	for _, seq := range c.Events {
		e, err := r.event(seq)
		if err != nil {
			return out, err
		}
		shown := e.public()
		if len(e.Used) == 1 {
			shown.Amount = amountText(e.Used[0].Amount, e.Used[0].Unit)
		}
		if e.For != nil {
			b, err := r.batch(*e.For)
			if err != nil {
				return out, err
			}
			shown.Batch = b.Plan.Number
		}
		out.Events = append(out.Events, shown)
	}
	return out, nil
}

// containerNumber writes a short number of a container.
func containerNumber(n int) string { return fmt.Sprintf("S-%03d", n) }

// parseContainerNumber reads "S-012" (or "S-12") and writes it as it is stored.
func parseContainerNumber(ref string) (string, bool) {
	digits, found := strings.CutPrefix(ref, "S-")
	if !found || digits == "" || len(digits) > 9 {
		return "", false
	}
	n, err := strconv.ParseUint(digits, 10, 32)
	return containerNumber(int(n)), err == nil && n > 0
}

// containerCount gives the counting part of a short number of a container.
func containerCount(number string) int {
	n, err := strconv.Atoi(strings.TrimPrefix(number, "S-"))
	if err != nil {
		return 0
	}
	return n
}
