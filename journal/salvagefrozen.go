package journal

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
)

// findFrozen finds the frozen recipe and sheet of a batch by the beginnings of
// their digests, which are all that its own record has.
func (s *salvage) findFrozen(b *batchRecord) error {
	if short := b.Plan.Sheet; len(short) == len(digestKey{}) {
		b.Plan.Sheet = slices.Concat(short, make([]byte, 32-len(short))) // no digest: the sheet is lost as well
		if key, err := s.first(stageSheets, short); err != nil {
			return err
		} else if key != nil {
			b.Plan.Sheet = key[:32]
		}
	}
	if len(b.Plan.Recipe) != len(digestKey{}) {
		return nil
	}
	key, err := s.first(stageRecipes, b.Plan.Recipe)
	if err != nil {
		return err
	}
	if key != nil {
		b.Plan.Recipe = key[:32]
		return nil
	}
	content, err := encoder().Marshal(recipeContent{Slug: s.slug(b.ID), Title: "not known: the frozen recipe is lost"})
	if err != nil {
		return err
	}
	lost(&s.report.LostRecipes, &s.report.LostRecipeCount, fmt.Sprintf("%x...", b.Plan.Recipe))
	b.Plan.Recipe, err = s.placeholder(content)
	return err
}

// first gives the first key of a stage that begins with prefix; nil where there is none.
func (s *salvage) first(stage string, prefix []byte) (first []byte, err error) {
	err = s.stage.each(stage, prefix, func(key, _ []byte) error { first = key; return errEnough })
	if errors.Is(err, errEnough) {
		err = nil
	}
	return first, err
}

// recipe writes the frozen recipe of a batch, unless it is there already, and
// gives its slug.
func (s *salvage) recipe(b *batchRecord) (string, error) {
	key := b.Plan.Recipe
	if slug, ok := s.frozen[string(key)]; ok {
		return slug, nil
	}
	for _, mark := range []byte{0, 1} {
		where := s.stage.get(stageRecipes, append(bytes.Clone(key), mark))
		if where == nil {
			continue
		}
		record, err := s.fetch(where)
		if err != nil {
			return "", err
		}
		content, _, err := openBlob(record)
		var recipe recipeContent
		if err != nil || decoder().Unmarshal(content, &recipe) != nil {
			continue
		}
		s.frozen[string(key)] = recipe.Slug
		return recipe.Slug, s.out.put(recipesBucket, key, record)
	}
	slug := s.slug(b.ID)
	content, err := encoder().Marshal(recipeContent{Slug: slug, Title: "not known: the frozen recipe is lost"})
	if err != nil {
		return "", err
	}
	s.frozen[string(key)] = slug
	lost(&s.report.LostRecipes, &s.report.LostRecipeCount, fmt.Sprintf("%x", key))
	return slug, s.out.record(recipesBucket, key, blobRecord{Length: len(content), Data: content, Lost: true})
}

// placeholder writes a frozen recipe of ours.
func (s *salvage) placeholder(content []byte) ([]byte, error) {
	key := sumOf(content)
	var recipe recipeContent
	if err := decoder().Unmarshal(content, &recipe); err != nil {
		return nil, err
	}
	s.frozen[string(key)] = recipe.Slug
	return key, s.out.record(recipesBucket, key, blobRecord{Length: len(content), Data: content})
}

// sheet writes the frozen sheet of a batch.
func (s *salvage) sheet(b *batchRecord) error {
	where := s.stage.get(stageSheets, slices.Concat(b.Plan.Sheet, b.ID[:]))
	if where == nil {
		// The same sheet may stand under a key that is damaged, or belong to another
		// batch as well: its digest says that it is the same.
		seen := 0
		err := s.stage.each(stageSheets, b.Plan.Sheet, func(key, value []byte) error {
			if seen++; seen > mostFindings {
				return errEnough
			}
			stranger := s.stage.get(stageIDs, append([]byte{'b'}, key[len(b.Plan.Sheet):]...)) == nil
			if where != nil && !stranger {
				return nil
			}
			where = value
			if !stranger {
				return nil
			}
			if err := s.stage.put(stageClaimed, key, []byte{}); err != nil {
				return err
			}
			return errEnough
		})
		if err != nil && !errors.Is(err, errEnough) {
			return err
		}
	}
	if where != nil {
		record, err := s.fetch(where)
		if err != nil {
			return err
		}
		return s.out.put(sheetsBucket, b.ID[:], record)
	}
	if s.stage.get(stageLost, b.ID[:]) == nil {
		lost(&s.report.LostSheets, &s.report.LostSheetCount, b.Plan.Number)
	}
	return s.out.record(sheetsBucket, b.ID[:], blobRecord{Data: []byte{}, Lost: true})
}
