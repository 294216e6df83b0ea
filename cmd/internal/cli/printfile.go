package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"canewright/cmd/internal/paper"
	"canewright/engine/diagnostic"
)

// writeSheet writes the pages and says what it wrote.
func (c *commander) writePages(s *paper.Sheet, path string, svg bool) error {
	if !svg {
		data, err := paper.PDF(s.Pages, s.Title, c.sys.Now())
		if err != nil {
			return err
		}
		if err := writeNew("sheet", path, data); err != nil {
			return err
		}
		c.printf("Wrote %s: %s.\n", diagnostic.Clean(path), count(len(s.Pages), "page"))
		c.printKinds(s)
		return nil
	}
	stem := strings.TrimSuffix(path, filepath.Ext(path))
	if !strings.EqualFold(filepath.Ext(path), ".svg") {
		stem = path
	}
	name := func(i int) string { return fmt.Sprintf("%s-%d.svg", stem, i+1) }
	for i := range s.Pages { // all or none
		if _, err := os.Lstat(name(i)); err == nil {
			return thereAlready("sheet", name(i))
		}
	}
	for i, p := range s.Pages {
		data, err := paper.SVG(p, fmt.Sprintf("%s, page %d of %d", s.Title, i+1, len(s.Pages)))
		if err != nil {
			return err
		}
		if err := writeNew("sheet", name(i), data); err != nil {
			return err
		}
	}
	c.printf("Wrote %s to %s: %s.\n", diagnostic.Clean(name(0)), diagnostic.Clean(filepath.Base(name(len(s.Pages)-1))), count(len(s.Pages), "page"))
	c.printKinds(s)
	return nil
}

// printKinds says which pages hold what, to print some of them again.
func (c *commander) printKinds(s *paper.Sheet) {
	var kinds []string
	at := 0
	for _, k := range []struct {
		name  string
		pages int
	}{{"safety notes", s.Notes}, {"the card", len(s.Pages) - s.Notes - s.Strips}, {"strips 1 : 1", s.Strips}} {
		from := at + 1
		switch at += k.pages; {
		case k.pages == 1:
			kinds = append(kinds, fmt.Sprintf("%s: page %d", k.name, from))
		case k.pages > 1:
			kinds = append(kinds, fmt.Sprintf("%s: pages %d to %d", k.name, from, at))
		}
	}
	c.wrap("  ", strings.Join(kinds, "; "))
}
