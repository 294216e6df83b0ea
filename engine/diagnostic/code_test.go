package diagnostic

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

const top = "../.."

var codeForm = regexp.MustCompile(`^[a-z]+/[a-z]+(-[a-z0-9]+)*$`)

// Every code that is used is listed, every listed code is used, and each is
// seen by a test or stands in a golden file.
func TestEveryCodeIsListedUsedAndTested(t *testing.T) {
	t.Parallel()
	listed, used := Codes(), map[string]string{}
	var tested strings.Builder
	families := map[string]bool{}
	for c, means := range listed {
		if !codeForm.MatchString(c) || means == "" || strings.HasSuffix(means, ".") {
			t.Errorf("%s: %q", c, means)
		}
		family, _, _ := strings.Cut(c, "/")
		families[family] = true
	}
	err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		name := d.Name()
		if d.IsDir() {
			if strings.HasPrefix(name, ".") && path != top || name == "peers" {
				return filepath.SkipDir
			}
			return nil
		}
		inTestdata := strings.Contains(filepath.ToSlash(path), "/testdata/")
		switch {
		case name == "code.go" || name == "code_test.go":
		case strings.HasSuffix(name, "_test.go"), inTestdata && strings.HasSuffix(name, ".txtar"):
			b, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			tested.Write(b)
		case strings.HasSuffix(name, ".go") && !inTestdata:
			return codesOf(path, families, used)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	seen := tested.String()
	for c, path := range used {
		if listed[c] == "" {
			t.Errorf("%s, used in %s, is not listed", c, path)
		}
	}
	var all []string
	for c := range listed {
		all = append(all, c)
	}
	slices.Sort(all)
	for _, c := range all {
		if used[c] == "" {
			t.Errorf("%s is listed and not used", c)
		}
		if !regexp.MustCompile(regexp.QuoteMeta(c) + `\b([^-]|$)`).MatchString(seen) {
			t.Errorf("%s is tried by no test and stands in no golden file", c)
		}
	}
	if len(used) < 90 {
		t.Errorf("only %d codes were found", len(used))
	}
}

// codesOf notes the codes of a Go file: literals of a known family, and
// whatever is the first argument of a call that reports, or a Code field.
func codesOf(path string, families map[string]bool, used map[string]string) error {
	f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
	if err != nil {
		return err
	}
	note := func(e ast.Expr, whatever bool) {
		lit, ok := e.(*ast.BasicLit)
		if !ok || lit.Kind != token.STRING {
			return
		}
		s, err := strconv.Unquote(lit.Value)
		if err != nil || !codeForm.MatchString(s) {
			return
		}
		if family, _, _ := strings.Cut(s, "/"); whatever || families[family] {
			used[s] = path
		}
	}
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.ImportSpec:
			return false
		case *ast.BasicLit:
			note(n, false)
		case *ast.KeyValueExpr:
			if k, ok := n.Key.(*ast.Ident); ok && strings.EqualFold(k.Name, "code") {
				note(n.Value, true)
			}
		case *ast.CallExpr:
			name := ""
			switch fun := n.Fun.(type) {
			case *ast.SelectorExpr:
				name = fun.Sel.Name
			case *ast.Ident:
				name = fun.Name
			}
			if (strings.EqualFold(name, "errorf") || name == "Hinted") && len(n.Args) > 0 {
				note(n.Args[0], true)
			}
		}
		return true
	})
	return nil
}
