package formula

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"canewright/engine/diagnostic"
)

// Every mistake of units, conditions and places has a file that tries it, one
// formula a line, and says what is said of it. UPDATE=1 rewrites what is said.
// In files whose name begins with nowhere-, nobody knows how places lie.
func TestGolden(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/golden/formula/*.txtar")
	if err != nil || len(files) < 15 {
		t.Fatalf("golden files: %d, %v", len(files), err)
	}
	for _, f := range files {
		base := strings.TrimSuffix(filepath.Base(f), ".txtar")
		t.Run(base, func(t *testing.T) {
			t.Parallel()
			a, err := txtar.ParseFile(f)
			if err != nil || len(a.Files) != 2 {
				t.Fatalf("want the files formulas and findings: %v", err)
			}
			var scope Scope = placed{}
			if strings.HasPrefix(base, "nowhere-") {
				scope = bench{}
			}
			var got strings.Builder
			for _, line := range strings.Split(strings.TrimSpace(string(a.Files[0].Data)), "\n") {
				f, list := Compile(diagnostic.Plain("formula", line), scope)
				if (f == nil) != (list.Len() > 0) || (f == nil) == (base == "accepted") {
					t.Errorf("%s: compiled %v with %d findings", line, f != nil, list.Len())
				}
				got.WriteString(listed(list))
			}
			if os.Getenv("UPDATE") != "" {
				a.Files[1].Data = []byte(got.String())
				if err := os.WriteFile(f, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if want := string(a.Files[1].Data); strings.TrimSpace(got.String()) != strings.TrimSpace(want) {
				t.Errorf("findings:\n%s\nwant:\n%s", got.String(), want)
			}
		})
	}
}
