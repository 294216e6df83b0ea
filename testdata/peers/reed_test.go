package peers

import (
	"fmt"
	"strings"
	"testing"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// reed is an invented recipe of one stage: ten readings, then the rules.
type reed struct {
	bound *recipe.Bound
	asked []int // places in a vector, in the order in which they are asked for
}

// line is a reading as it is typed.
func (r *reed) line(i int, v vector) string {
	return fmt.Sprintf("%d.%03d mm", v[r.asked[i]]/1000, v[r.asked[i]]%1000)
}

func reedSet(t testing.TB) *dimension.Set {
	t.Helper()
	mm, ok := quantity.UnitNamed("mm")
	if !ok {
		t.Fatal("no mm")
	}
	plausible, err := quantity.ParseTolerance("0.05 .. 90 mm", quantity.Style{Want: quantity.Length, Bare: mm})
	if err != nil {
		t.Fatal(err)
	}
	set := &dimension.Set{ID: "reed", Title: "a reed, invented", Major: 1}
	for _, n := range many {
		d := dimension.Dimension{Name: n, Title: strings.ReplaceAll(n, ".", " "), Kind: quantity.Length, Unit: mm, Subject: "piece",
			Across: true, Condition: dimension.Either, Tool: "dial indicator", More: "much", Less: "little", Plausible: plausible}
		s, _ := manyScope{}.Lookup(n)
		if s.Datum != "" {
			d.Across, d.Datum, d.How, d.Tool = false, s.Datum, "to the middle", "caliper"
		}
		if s.Condition == "wet" {
			d.Condition = dimension.Wet
		}
		set.Dimensions = append(set.Dimensions, d)
	}
	return set
}

func reedText(rules []peerRule) []byte {
	var b strings.Builder
	b.WriteString("canewright: recipe 1\ntitle: a reed\nid: a-reed\nversion: 1\ninstrument: reed 1\n")
	b.WriteString("targets: {overall: 30 .. 80 mm}\nstages:\n  - stage: measure\n    measure: [" + strings.Join(many, ", ") + "]\n    expect:\n")
	for _, r := range rules {
		fmt.Fprintf(&b, "      - %q\n", r.ours)
	}
	return []byte(b.String())
}

// bindReed reads and checks the recipe.
func bindReed(t testing.TB, text []byte, set *dimension.Set) *recipe.Bound {
	t.Helper()
	f, list := recipe.Load("reed.yaml", text)
	if f != nil {
		var b *recipe.Bound
		var more diagnostic.List
		if b, more = recipe.Bind(f, set, tool.Standard()); b != nil {
			return b
		}
		list = more
	}
	var b strings.Builder
	_ = list.Text(&b)
	t.Fatal(b.String())
	return nil
}

func boundReed(t testing.TB, rules []peerRule) *reed {
	t.Helper()
	r := &reed{bound: bindReed(t, reedText(rules), reedSet(t))}
	for _, m := range r.bound.Stages[0].Measures {
		for i, n := range many {
			if r.bound.Slots[m.Slot].Name == n {
				r.asked = append(r.asked, i)
			}
		}
	}
	if len(r.asked) != len(many) {
		t.Fatalf("%d readings are asked for, not %d", len(r.asked), len(many))
	}
	return r
}
