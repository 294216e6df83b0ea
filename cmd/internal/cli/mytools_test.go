package cli_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"canewright/cmd/internal/wire"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/toolbox"
	"canewright/recipes"
)

// Every setting and target of every bundled recipe gets a verdict; with the tools
// the recipe itself states, and no others, nothing changes; with a shaper 1 mm
// wider, what is put in a setting's or target's place makes a recipe that can be
// followed.
func TestEveryBundledRecipeCarriesOver(t *testing.T) {
	t.Parallel()
	w := &wire.Works{Env: func(string) string { return "" }, Now: time.Now, Rand: bytes.NewReader(make([]byte, 64))}
	changed := map[string]int{}
	for _, name := range recipes.All() {
		r, err := w.Recipe(context.Background(), name)
		if err != nil || r.Bound == nil {
			t.Fatal(name, err)
		}
		written := r.Bound.File.Written()
		states := toolbox.Carry(r.Bound, &toolbox.Box{All: toolbox.Set{}}).States
		same, wider := toolbox.Set{}, toolbox.Set{}
		for field, text := range states {
			f, ok := toolbox.FieldNamed(field)
			if !ok {
				t.Fatalf("%s states %s", name, field)
			}
			e, err := f.Parse(text, false)
			if err != nil {
				t.Fatal(err)
			}
			same[field], wider[field] = e, e
			if f.Tool == "shaper" {
				e.Value.Q += 1_000_000
				e.Text = quantity.Format(e.Value, e.Unit, e.Step)
				wider[field] = e
			}
		}
		if got := toolbox.Carry(r.Bound, &toolbox.Box{All: same}); got.Count(toolbox.Changes)+got.Count(toolbox.Breaks) > 0 {
			t.Errorf("%s: its own tools change something: %+v", name, got.Entries)
		}
		got := toolbox.Carry(r.Bound, &toolbox.Box{All: wider})
		var lines []toolbox.Entry
		for _, e := range got.Entries {
			if e.What != toolbox.OfRule {
				lines = append(lines, e)
			}
			if e.Verdict == toolbox.Unknown && len(e.Ask) == 0 {
				t.Errorf("%s: nobody says what to ask for %s", name, e.Name)
			}
		}
		if len(lines) != len(written) {
			t.Errorf("%s: %d verdicts for %d settings and targets", name, len(lines), len(written))
			continue
		}
		_, data, ok := recipes.Read(name)
		if !ok {
			t.Fatal(name)
		}
		text := strings.Split(string(data), "\n")
		for i, e := range slices.Backward(lines) { // from below: places above stay
			if e.Verdict != toolbox.Changes {
				continue
			}
			changed[name]++
			at := written[i].Value.Whole
			line := []rune(text[at.From.Line-1])
			text[at.From.Line-1] = string(line[:at.From.Col-1]) + e.Now + string(line[at.To.Col-1:])
		}
		file := filepath.Join(t.TempDir(), "recipe.yaml")
		if err := os.WriteFile(file, []byte(strings.Join(text, "\n")), 0o600); err != nil {
			t.Fatal(err)
		}
		adapted, err := w.Recipe(context.Background(), file)
		if err != nil || adapted.Bound == nil || adapted.List.Failed() {
			t.Errorf("%s, adapted, cannot be followed: %v %v", name, err, adapted.List.Sorted())
			continue
		}
		if again := toolbox.Carry(adapted.Bound, &toolbox.Box{All: wider}); again.Count(toolbox.Changes) > 0 {
			t.Errorf("%s, adapted to these tools, changes again: %+v", name, again.Entries)
		}
		if recipe.Digest(data) == recipe.Digest([]byte(strings.Join(text, "\n"))) != (changed[name] == 0) {
			t.Errorf("%s: %d changes", name, changed[name])
		}
	}
	// shaper.width, and shape.fold or shape.widest wherever it has a target; the
	// English horn's is measured without one.
	for name, want := range map[string]int{"bassoon/from-tube": 3, "oboe/from-tube": 2, "oboe/long-scrape": 2, "oboe/short-scrape": 2, "english-horn/four-days": 1} {
		if changed[name] != want {
			t.Errorf("%s: %d changes, want %d", name, changed[name], want)
		}
	}
}
