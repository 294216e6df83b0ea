package adaptation_test

import (
	"strings"
	"testing"

	"canewright/engine/adaptation"
	"canewright/engine/recipe"
	"canewright/recipes"
)

// origin is a bundled recipe and what an own version says of it.
func origin(t *testing.T, name string) ([]byte, adaptation.Origin) {
	t.Helper()
	file, data, ok := recipes.Read(name)
	f, list := recipe.Load(file, data)
	if !ok || f == nil {
		t.Fatal(name, list.Sorted())
	}
	return data, adaptation.OriginOf(f, data)
}

func whole(t *testing.T, own, origin []byte) string {
	t.Helper()
	o, list := adaptation.Load("mine.yaml", own)
	if o == nil {
		t.Fatal(list.Sorted())
	}
	w, list := o.Whole("origin.yaml", origin)
	if w == nil {
		t.Fatal(list.Sorted())
	}
	if f, list := recipe.Load("whole.yaml", w); f == nil {
		t.Fatalf("the whole is no recipe: %v\n%s", list.Sorted(), w)
	}
	return string(w)
}

func TestWhole(t *testing.T) {
	t.Parallel()
	data, o := origin(t, "bassoon/from-tube")
	e := adaptation.Edit(adaptation.Begin(o, "mine", "My reed", "Anna", ""))
	e.Setting("shaper.width", "0.575 in", "my shaper")
	e.Target("", "cane.length", "118 ± 0.5 mm", "my mandrel is short")
	e.Target("gouge", "gouge.centre", "1.28 ± 0.03 mm", "")
	e.LeaveOut("pre-gouge", "I buy it gouged: roughly")
	e.Move("ream", "after", "cut the tip", "")
	got := whole(t, e.Bytes(), data)
	for _, want := range []string{
		"canewright: recipe 1\n# builds on Bassoon reed from tube cane (bassoon-from-tube, version 1) by the canewright makers, CC-BY-4.0\n# sha256 " + o.SHA256 + "\ntitle: My reed\nid: mine\nversion: 1\n",
		"author: Anna, after the canewright makers\n",
		"  # own: was 15 mm\n  shaper.width:\n    value: 0.575 in\n    why: my shaper\n",
		"  # own: was 120 ± 0.5 mm; my mandrel is short\n  cane.length: 118 ± 0.5 mm\n",
		"      # own: was 1.30 +0.03 -0.02 mm\n      gouge.centre:\n        target: 1.28 ± 0.03 mm\n        above: {then: once more, do: through the machine again}\n        below: {then: set aside, because: it can serve for a thinner gouge}\n      gouge.end_difference:",
		"  # own: left out, pre-gouge; I buy it gouged: roughly\n\n  - stage: soak the split cane\n",
		"  # own: moved\n  - stage: ream\n",
		"# A wrong \"too thick\" costs a reed, so it is asked to be surer.\n",
	} {
		if !strings.Contains(got, want) {
			t.Errorf("the whole lacks\n%s", want)
		}
	}
	if strings.Contains(got, "stage: pre-gouge") {
		t.Error("pre-gouge is still there")
	}
	if i, j := strings.Index(got, "stage: cut the tip"), strings.Index(got, "stage: ream"); j < i {
		t.Error("ream did not move")
	}
	if t.Failed() {
		t.Log(string(e.Bytes()))
	}
	// What is forgotten again leaves the origin as it was but for its head.
	for _, name := range []string{"shaper.width", "cane.length", "gouge", "pre-gouge", "ream"} {
		if !e.Forget(name) {
			t.Errorf("nothing is said of %s", name)
		}
	}
	_, rest, _ := strings.Cut(whole(t, e.Bytes(), data), "\nabout: |")
	if _, want, _ := strings.Cut(string(data), "\nabout: |"); rest != want {
		t.Errorf("forgotten, it is not the origin again:\n%q\n%q", rest[:200], want[:200])
	}
	if string(e.Bytes()) != string(adaptation.Edit(adaptation.Begin(o, "mine", "My reed", "Anna", "")).Bytes()) {
		t.Errorf("something stays behind:\n%s", e.Bytes())
	}
}
