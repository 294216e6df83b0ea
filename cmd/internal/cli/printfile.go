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
	return nil
}
