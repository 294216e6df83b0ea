package wire_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"canewright/engine/dimension"
)

// Several recipes are read as if each were alone; what is wrong is told by the
// one it is wrong with.
func TestSeveralRecipesAskAhead(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var names []string
	for _, c := range []struct{ name, instrument string }{{"a", "bassoon 1"}, {"b", "oboe 1"}, {"c", "krummhorn 1"}, {"d", "oboe 7"}} {
		path := filepath.Join(dir, c.name+".yaml")
		text := "canewright: recipe 1\ntitle: T\nid: one\nversion: 1\ninstrument: " + c.instrument + "\nstages:\n  - stage: look\n    do: [Look.]\n"
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		names = append(names, path)
	}
	w := works(t)
	w.Ahead(context.Background(), append(names, filepath.Join(dir, "nothing.yaml")))
	for i, want := range []string{"", "", `there is no instrument "krummhorn" here`, "the recipe asks for dimension set oboe 7"} {
		r, err := w.Recipe(context.Background(), names[i])
		if err != nil {
			t.Fatalf("%s: %v", names[i], err)
		}
		if got := findings(r.List); (want == "") != (got == "") || !strings.Contains(got, want) {
			t.Errorf("%s: got %q, want %q", names[i], got, want)
		}
		if i > 1 {
			continue
		}
		alone, err := works(t).Recipe(context.Background(), names[i])
		if err != nil || string(alone.Snapshot.Set) != string(r.Snapshot.Set) {
			t.Errorf("%s: read alone it has another set, %v", names[i], err)
		}
		if set, err := dimension.Decode(r.Snapshot.Set); err != nil || set.ID != []string{"bassoon", "oboe"}[i] {
			t.Errorf("%s: the set is %v, %v", names[i], set, err)
		}
	}
}
