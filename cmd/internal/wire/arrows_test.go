package wire_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	pathpkg "path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// top is the top of the repository.
const top = "../../.."

// arrows: which of our packages each may import, beside itself. Folders below
// one follow it. Anything else fails.
var arrows = map[string]string{
	"engine/quantity":       "",
	"engine/diagnostic":     "",
	"engine/cane":           "",
	"engine/statistics":     "",
	"engine/yamldoc":        "engine/diagnostic",
	"engine/tool":           "engine/quantity",
	"engine/formula":        "engine/quantity engine/diagnostic",
	"engine/dimension":      "engine/formula engine/yamldoc engine/quantity engine/diagnostic",
	"engine/gauging":        "engine/quantity engine/tool",
	"engine/recipe":         "engine/dimension engine/formula engine/gauging engine/tool engine/yamldoc engine/quantity engine/diagnostic engine/cane",
	"engine/adaptation":     "engine/recipe engine/yamldoc engine/diagnostic",
	"engine/interview":      "engine/recipe engine/dimension engine/tool engine/yamldoc engine/quantity engine/diagnostic",
	"engine/bench":          "engine/recipe engine/gauging engine/quantity engine/remedy engine/dimension",
	"engine/session":        "engine/bench engine/recipe engine/dimension",
	"engine/remedy":         "engine/recipe engine/dimension engine/formula engine/quantity engine/diagnostic",
	"engine/toolbox":        "engine/cane engine/recipe engine/dimension engine/yamldoc engine/quantity engine/diagnostic",
	"engine/review":         "engine/bench engine/recipe engine/dimension engine/quantity",
	"engine/comparison":     "engine/recipe engine/dimension engine/formula engine/tool engine/quantity engine/diagnostic",
	"engine/logbook":        "engine/bench engine/session",
	"engine/planning":       "engine/bench",
	"engine/picture":        "engine/quantity",
	"engine/parcel":         "engine/diagnostic",
	"engine/library":        "engine/recipe engine/yamldoc engine/diagnostic",
	"engine/enquiry":        "engine/logbook engine/planning engine/statistics",
	"safety":                "engine/bench engine/recipe engine/session engine/yamldoc engine/diagnostic engine/tool",
	"plugins/proto":         "",
	"plugins/sdk":           "plugins/proto engine/quantity",
	"plugins/citation":      "plugins/sdk engine/quantity",
	"plugins/bassoon":       "plugins/sdk",
	"plugins/oboe":          "plugins/sdk",
	"plugins/englishhorn":   "plugins/sdk",
	"plugins/contrabassoon": "plugins/sdk",
	"plugins/oboedamore":    "plugins/sdk",
	"plugins/uilleann":      "plugins/sdk",
	"plugins/folder":        "plugins/sdk engine/yamldoc engine/diagnostic engine/dimension engine/formula engine/quantity engine/tool",
	"plugins/host":          "plugins/proto engine/dimension engine/session engine/quantity",
	"plugins/examples":      "",
	"plugins/conform":       "plugins/host plugins/proto engine/dimension engine/formula engine/diagnostic engine/tool",
	"recipes":               "",
	"cmd/internal/wire":     "*",
	"cmd/internal/terminal": "engine/session engine/bench engine/quantity engine/diagnostic engine/picture",
	"cmd/internal/page":     "engine/session engine/bench engine/quantity engine/diagnostic engine/picture",
	"cmd/internal/cli":      "*",
	"cmd/internal/card":     "engine/recipe engine/bench engine/dimension engine/quantity engine/diagnostic",
	"cmd/internal/paper":    "cmd/internal/card engine/recipe engine/bench engine/dimension engine/picture engine/quantity engine/diagnostic",
	"cmd/canewright":        "cmd/internal/cli",
}

// only: who may import a foreign module.
var only = map[string][]string{
	"gopkg.in/yaml.v3":                {"engine/yamldoc"},
	"github.com/expr-lang/expr":       {"engine/formula"},
	"github.com/hashicorp/go-plugin":  {"plugins/sdk", "plugins/host"},
	"modernc.org/sqlite":              {"engine/logbook"},
	"github.com/spf13/cobra":          {"cmd/internal/cli"},
	"gonum.org/v1/gonum":              {"engine/gauging", "engine/cane", "engine/statistics"},
	"google.golang.org/grpc":          {"plugins"},
	"google.golang.org/protobuf":      {"plugins"},
	"github.com/charmbracelet/x":      {"cmd/internal/terminal"},
	"golang.org/x/sys":                {"cmd/internal/terminal"},
	"codeberg.org/go-pdf/fpdf":        {"cmd/internal/paper"},
	"codeberg.org/go-fonts":           {"cmd/internal/paper"},
	"golang.org/x/image":              {"cmd/internal/paper"},
	"golang.org/x/term":               {"cmd/internal/terminal", "cmd/internal/cli"},
	"github.com/creack/pty":           {},
	"github.com/rogpeppe/go-internal": {},
	"pgregory.net/rapid":              {},
}

// Leaves may import the standard library alone, but for what is named here.
func TestImportsFollowTheArrows(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	err := fs.WalkDir(os.DirFS(top), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (path == "testdata" || strings.HasPrefix(d.Name(), ".") && path != ".") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		dir := pathpkg.Dir(path)
		from := owner(dir)
		if from == "" {
			t.Errorf("%s: the folder %s is not in the house", path, dir)
			return nil
		}
		seen[from] = true
		f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(top, path), nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, imp := range f.Imports {
			what := strings.Trim(imp.Path.Value, `"`)
			if mine, ok := strings.CutPrefix(what, "canewright/"); ok {
				to := owner(mine)
				if to != from && arrows[from] != "*" && !slices.Contains(strings.Fields(arrows[from]), to) {
					t.Errorf("%s imports %s: there is no arrow from %s to %s", path, what, from, to)
				}
				continue
			}
			for module, who := range only {
				if (what == module || strings.HasPrefix(what, module+"/")) && !slices.ContainsFunc(who, func(w string) bool { return from == w || strings.HasPrefix(from, w+"/") }) {
					t.Errorf("%s imports %s, which is for %v alone", path, what, who)
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(seen) < 15 {
		t.Errorf("only %d packages were read", len(seen))
	}
}

func owner(dir string) string {
	for d := dir; d != "." && d != "/" && d != ""; d = pathpkg.Dir(d) {
		if _, ok := arrows[d]; ok {
			return d
		}
	}
	return ""
}

// The top level is fixed.
func TestTheTopLevelIsFixed(t *testing.T) {
	t.Parallel()
	want := []string{"DEVELOPERS.md", "LICENSE", "README.md", "cmd", "engine", "go.mod", "go.sum", "plugins", "recipes", "safety", "testdata"}
	entries, err := os.ReadDir(top)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), ".") {
			got = append(got, e.Name())
		}
	}
	for _, w := range want {
		if !slices.Contains(got, w) {
			t.Errorf("%s is missing", w)
		}
	}
	for _, g := range got {
		if !slices.Contains(want, g) && g != "canewright" { // a program built here
			t.Errorf("%s does not belong at the top level", g)
		}
	}
}
