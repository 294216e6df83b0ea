package recipe_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/tool"

	"pgregory.net/rapid"
)

// A stranger's recipe that is nothing but numbers costs no time.
func TestPapersOfAStrangerAreCheckedSoon(t *testing.T) {
	t.Parallel()
	var targets, settings strings.Builder
	for i := range 3000 {
		fmt.Fprintf(&settings, "  s%d: 27 mm (1 1/17 in)\n", i)
		fmt.Fprintf(&targets, "  - stage: s%d\n    targets: {wire.first: 27 ± 1 mm (1 1/17 in), wire.second: 29 ± 1 mm, wire.gap: 5 ± 1 mm}\n    measure: [wire.first, wire.second]\n", i)
	}
	long := strings.Repeat("at 27 mm (1/17 in) = 3 in ", 20_000)
	data := []byte(head + "about: " + long + "\nsettings:\n" + settings.String() + "stages:\n  - stage: long\n    do: " + long + "\n" + targets.String())
	f, list := recipe.Load("recipe.yaml", data)
	if f == nil {
		t.Fatal(list.Sorted())
	}
	b, list := recipe.Bind(f, shawm(t), tool.Standard())
	if b == nil {
		t.Fatal(list.Sorted())
	}
	begun := time.Now()
	found := b.CheckPaper()
	if d := time.Since(begun); d > 10*time.Second {
		t.Errorf("it took %v", d)
	}
	if bad := misplaced(found); bad != "" {
		t.Error(bad)
	}
	if found.Len() < 400 {
		t.Errorf("only %d findings", found.Len())
	}
}

// Two columns rounded from one length are never more than a remark apart, and
// those that are further apart than both roundings always are a warning. The
// inch is 25.4 mm (NIST SP 811, 2008, B.8).
func TestColumnsOfOneLength(t *testing.T) {
	t.Parallel()

	rapid.Check(t, func(rt *rapid.T) {
		um := rapid.Int64Range(1_000, 90_000).Draw(rt, "µm")
		parts := rapid.SampledFrom([]int64{16, 32, 64}).Draw(rt, "parts")
		decimals := rapid.IntRange(0, 2).Draw(rt, "decimals")
		off := rapid.Int64Range(0, 4).Draw(rt, "off")
		place := []int64{1000, 100, 10}[decimals]
		mm := (um + place/2) / place * place // µm, rounded
		k := (um*10*parts + 127_000) / 254_000
		shown := fmt.Sprintf("%.*f ± 1 mm (%d %d/%d in)", decimals, float64(mm)/1000, (k+off)/parts, (k+off)%parts, parts)
		if (k+off)%parts == 0 {
			return
		}
		b, list := check(t, "recipe.yaml", []byte(head+"targets:\n  wire.second: "+shown+"\nstages:\n  - stage: x\n    measure: [wire.second]\n"))
		if b == nil {
			rt.Fatal(list.Sorted())
		}
		apart := mm*1000*parts - (k+off)*25_400_000 // parts of nm
		if apart < 0 {
			apart = -apart
		}
		// In parts of a nm: half a place of mm, half a part of an inch.
		warned := 2*apart > place*1000*parts+25_400_000
		papers := b.CheckPaper()
		for _, d := range papers.Sorted() {
			if d.Code == "recipe/two-columns" && (d.Severity == diagnostic.Warning) != warned {
				rt.Fatalf("%s: %v, want a warning: %v", shown, d, warned)
			} else if d.Code == "recipe/two-columns" {
				warned = false
				if off == 0 && d.Severity == diagnostic.Warning {
					rt.Fatalf("%s is one length: %v", shown, d)
				}
			}
		}
		if warned {
			rt.Fatalf("%s: nothing was said", shown)
		}
	})
}

// What is said to be the finest a tool can tell, it can; half of it, it cannot.
func TestFinest(t *testing.T) {
	t.Parallel()
	for _, x := range tool.Standard().Tools() {
		if x.Step.Q == 0 || x.Step.Kind != quantity.Length {
			continue
		}
		finest := recipe.Finest(quantity.Length, x, 0.80)
		for _, c := range []struct {
			half int64
			fine bool
		}{{finest, false}, {finest / 2, true}} {
			text := fmt.Sprintf("20.000000 ± %d.%06d mm", c.half/1_000_000, c.half%1_000_000)
			b, list := check(t, "recipe.yaml", []byte(head+"targets:\n  wire.second: "+text+"\nstages:\n  - stage: x\n    measure: [{take: wire.second, with: "+x.Name+"}]\n"))
			if b == nil {
				t.Fatal(list.Sorted())
			}
			papers := b.CheckPaper()
			said := false
			for _, d := range papers.Sorted() {
				said = said || d.Code == "recipe/too-fine"
			}
			if said != c.fine {
				t.Errorf("%s with %s: too fine is %v", text, x.Name, said)
			}
		}
	}
}

// Numbers that add up are never doubted; parts that miss the whole by more than
// all their tolerances together always are, and nothing in between is a warning.
func TestSums(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		um := func(name string, low, high int64) int64 { return rapid.Int64Range(low, high).Draw(rt, name) * 10 }
		first, second := um("first", 2500, 3000), um("second", 1000, 1900)
		off := rapid.SampledFrom([]int64{0, 0, 1, -1}).Draw(rt, "sign") * um("off", 1, 400)
		a, b, c := um("a", 1, 80), um("b", 1, 80), um("c", 1, 80)
		mm := func(um int64) string { return fmt.Sprintf("%d.%03d", um/1000, um%1000) }
		body := fmt.Sprintf("targets:\n  wire.first: %s ± %s mm\n  wire.second: %s ± %s mm\n  wire.gap: %s ± %s mm\nstages:\n  - stage: x\n    measure: [wire.first, wire.second]\n",
			mm(first), mm(a), mm(second), mm(b), mm(first-second+off), mm(c))
		bound, list := check(t, "recipe.yaml", []byte(head+body))
		if bound == nil {
			rt.Fatal(list.Sorted())
		}
		var said diagnostic.Severity
		papers := bound.CheckPaper()
		for _, d := range papers.Sorted() {
			if d.Code == "recipe/sum" {
				said = d.Severity
			}
		}
		if off < 0 {
			off = -off
		}
		want := diagnostic.Severity("")
		switch {
		case off > a+b+c:
			want = diagnostic.Warning
		case off*off > a*a+b*b+c*c:
			want = diagnostic.Remark
		}
		if said != want {
			rt.Fatalf("%s%q, want %q", body, said, want)
		}
	})
}
