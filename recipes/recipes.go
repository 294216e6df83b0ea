// Package recipes holds the bundled recipes: <instrument>/<id>/recipe.yaml with
// its cases.yaml. They are licensed CC-BY-4.0 (see LICENSE in this folder).
package recipes

import (
	"embed"
	"io/fs"
	"path"
	"strings"
)

// Files are the bundled recipes.
//
//go:embed */*/*.yaml
var Files embed.FS

// All lists the names of the bundled recipes, "bassoon/from-shaped-cane", in
// order.
func All() []string {
	found, err := fs.Glob(Files, "*/*/recipe.yaml")
	if err != nil {
		panic(err) // the pattern is fixed
	}
	for i, f := range found {
		found[i] = path.Dir(f)
	}
	return found
}

// Read returns the file of a bundled recipe. The name may leave the instrument
// out where that is plain: "from-shaped-cane".
func Read(name string) (file string, data []byte, ok bool) {
	name = strings.Trim(strings.TrimPrefix(path.Clean(strings.ReplaceAll(name, `\`, "/")), "recipes/"), "/")
	name = strings.TrimSuffix(name, "/recipe.yaml")
	var hits []string
	for _, n := range All() {
		if n == name {
			hits = []string{n}
			break
		}
		if path.Base(n) == name {
			hits = append(hits, n)
		}
	}
	if len(hits) != 1 {
		return "", nil, false
	}
	file = "recipes/" + hits[0] + "/recipe.yaml"
	data, err := Files.ReadFile(hits[0] + "/recipe.yaml")
	return file, data, err == nil
}

// Cases returns the cases beside a bundled recipe.
func Cases(name string) (file string, data []byte, ok bool) {
	data, err := Files.ReadFile(name + "/cases.yaml")
	return "recipes/" + name + "/cases.yaml", data, err == nil
}
