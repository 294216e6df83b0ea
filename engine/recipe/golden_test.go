package recipe_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

const golden = "../../testdata/golden/recipe"

// Every refusal of a recipe has a file that tries it: the recipe, and what is
// said of it. UPDATE=1 rewrites what is said.
func TestGolden(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(golden, "*.txtar"))
	if err != nil || len(files) < 60 {
		t.Fatalf("golden files: %d, %v", len(files), err)
	}
	for _, f := range files {
		t.Run(strings.TrimSuffix(filepath.Base(f), ".txtar"), func(t *testing.T) {
			t.Parallel()
			a, err := txtar.ParseFile(f)
			if err != nil {
				t.Fatal(err)
			}
			if len(a.Files) != 2 || a.Files[1].Name != "findings" {
				t.Fatal("want the files recipe.yaml and findings")
			}
			data := a.Files[0].Data
			if !bytes.Contains(data, []byte("canewright:")) && !strings.HasPrefix(filepath.Base(f), "file-") {
				t.Fatal("want a whole recipe")
			}
			b, list := check(t, a.Files[0].Name, data)
			if b != nil {
				_, rules := b.CheckRules()
				list.Append(rules)
				list.Append(b.CheckPaper())
			}
			if bad := misplaced(list); bad != "" {
				t.Error(bad)
			}
			if (b == nil) != list.Failed() {
				t.Errorf("bound: %v, with errors: %v", b != nil, list.Failed())
			}
			got := text(t, list)
			if os.Getenv("UPDATE") != "" {
				a.Files[1].Data = []byte(got)
				if err := os.WriteFile(f, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if want := string(a.Files[1].Data); strings.TrimRight(got, "\n") != strings.TrimRight(want, "\n") {
				t.Errorf("findings:\n%s\nwant:\n%s", got, want)
			}
		})
	}
}
