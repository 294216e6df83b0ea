package wire_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"canewright/engine/recipe"
)

// Every file, folder, function and method that DEVELOPERS.md names exists.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	t.Parallel()
	text := read(t, "DEVELOPERS.md")
	files := regexp.MustCompile(`(?:cmd|engine|plugins|recipes|safety|testdata)(?:/[A-Za-z0-9_.-]+)+`).FindAllString(text, -1)
	if len(files) < 25 {
		t.Fatalf("only %d files are named", len(files))
	}
	for _, f := range files {
		f = strings.TrimSuffix(f, ".")
		if strings.Contains(f, "INSTRUMENT") {
			continue
		}
		if _, err := os.Stat(filepath.Join(top, f)); err != nil {
			t.Errorf("DEVELOPERS.md names %s, which is not there", f)
		}
	}
	known := declared(t)
	names := 0
	for _, m := range regexp.MustCompile("`([A-Za-z]+(?:\\.[A-Za-z]+)?)`").FindAllStringSubmatch(text, -1) {
		name := m[1]
		if strings.ToLower(name) == name && !strings.Contains(name, ".") {
			continue // a package, a word of a recipe
		}
		if name == "newXCmd" || name == "runX" {
			continue
		}
		names++
		if !known[name] {
			t.Errorf("DEVELOPERS.md names %s, which is not there", name)
		}
	}
	if names < 30 {
		t.Errorf("only %d functions and types are named", names)
	}
}

// declared lists functions, types, and methods as Type.Method.
func declared(t *testing.T) map[string]bool {
	known := map[string]bool{}
	err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() && strings.HasPrefix(d.Name(), ".git") {
			return err
		}
		if !strings.HasSuffix(path, ".go") {
			return nil
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		for _, decl := range f.Decls {
			switch x := decl.(type) {
			case *ast.FuncDecl:
				if x.Recv == nil {
					known[x.Name.Name] = true
					continue
				}
				typ := x.Recv.List[0].Type
				if p, ok := typ.(*ast.StarExpr); ok {
					typ = p.X
				}
				if id, ok := typ.(*ast.Ident); ok {
					known[id.Name+"."+x.Name.Name] = true
				}
			case *ast.GenDecl:
				for _, s := range x.Specs {
					if ts, ok := s.(*ast.TypeSpec); ok {
						known[ts.Name.Name] = true
					}
				}
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return known
}

func read(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(top, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// README.md opens with the job in one paragraph, names exactly two commands
// after cloning with the follow command under the first, and its first recipe
// is ten lines that can be followed.
func TestReadmeKeepsItsPromises(t *testing.T) {
	t.Parallel()
	text := read(t, "README.md")
	blocks := regexp.MustCompile("(?s)```(sh|yaml)\n(.*?)```").FindAllStringSubmatch(text, -1)
	if len(blocks) < 4 {
		t.Fatalf("%d blocks", len(blocks))
	}
	for i, want := range []string{"go run ./cmd/canewright demo\n", "go run ./cmd/canewright follow bassoon/from-shaped-cane --pieces 2\n", "go test ./...\n"} {
		if blocks[i][2] != want {
			t.Errorf("block %d is %q, want %q", i+1, blocks[i][2], want)
		}
	}
	yaml := blocks[3][2]
	if n := strings.Count(yaml, "\n"); n != 10 {
		t.Errorf("the first recipe has %d lines", n)
	}
	f, list := recipe.Load("README.md", []byte(yaml))
	if f == nil || list.Len() > 0 {
		t.Fatal(findings(list))
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "mine.yaml")
	if err := os.WriteFile(path, []byte(yaml), 0o600); err != nil {
		t.Fatal(err)
	}
	r, err := works(t).Recipe(t.Context(), path)
	if err != nil || r.Bound == nil || r.List.Len() > 0 {
		t.Fatalf("%v\n%s", err, findings(r.List))
	}
}
