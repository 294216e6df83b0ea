package comparison_test

import (
	"testing"

	"canewright/engine/comparison"
)

func ruled(targets, rules string) string {
	return "settings:\n  gap: {value: 0.10 mm, why: mine}\ntargets: {" + targets + "}\nstages:\n  - stage: gouge\n    measure: [gouge.centre, gouge.side]\n    expect:\n" + rules
}

const bothGouges = "gouge.centre: 1.30 ± 0.02 mm, gouge.side: 1.15 ± 0.02 mm"

func TestRulesThatNeverBothHold(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a, b  string
		never bool
		given int
	}{
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre - gouge.side <= 0.05 mm", true, 0},
		{"gouge.centre - gouge.side >= gap", "gouge.side >= gouge.centre", true, 3}, // with A's setting, and what is plausible
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre - gouge.side <= 0.10 mm", false, 0},
		{"gouge.centre >= 1.2 mm", "gouge.centre <= 1.1 mm", true, 0},
		{"gouge.centre >= 1.2 mm", "gouge.side <= 1.1 mm", false, 0},
		{"gouge.centre >= 3 mm", "gouge.centre <= 1 mm", false, 0}, // the first can never hold alone: that is check's matter
		{"gouge.centre * gouge.centre >= 1.44 mm2", "gouge.centre <= 1.1 mm", true, 1},
	} {
		got := compared(t, ruled(bothGouges, "      - that: "+c.a+"\n"), ruled(bothGouges, "      - that: "+c.b+"\n")).Clashes
		if len(got) == 1 != c.never {
			t.Errorf("%s, %s: %+v", c.a, c.b, got)
		}
		if c.never && len(got) == 1 && (got[0].A.That != c.a || got[0].B.That != c.b || got[0].A.Stage != "gouge" || len(got[0].Given) != c.given) {
			t.Errorf("%+v", got[0])
		}
	}
}

func TestRulesThatRefuseTargets(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		rule, targets string
		found, never  bool
	}{
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre: 1.30 ± 0.02 mm, gouge.side: 1.25 ± 0.02 mm", true, true},
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre: 1.30 ± 0.02 mm, gouge.side: 1.22 ± 0.02 mm", true, false},
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre: 1.30 ± 0.02 mm, gouge.side: 1.20 ± 0.02 mm", false, false}, // the middle stands on the limit
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre: 1.30 ± 0.02 mm", false, false},                             // the side may be anything
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre: at most 1.30 mm, gouge.side: at least 1.25 mm", true, true},
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre: at most 1.30 mm, gouge.side: at most 1.25 mm", false, false}, // one limit has no middle
	} {
		a, b := ruled(bothGouges, "      - that: "+c.rule+"\n"), ruled(c.targets, "      - that: gouge.centre <= 2 mm\n")
		for _, mirror := range []bool{false, true} {
			x, y, of := a, b, "A"
			if mirror {
				x, y, of = b, a, "B"
			}
			var got []comparison.Refusal
			for _, r := range compared(t, x, y).Refusals {
				if r.Rule.That == c.rule {
					got = append(got, r)
				}
			}
			if len(got) == 1 != c.found || c.found && (got[0].Never != c.never || got[0].Of != of) {
				t.Errorf("%s of %s, %s: %+v", c.rule, of, c.targets, got)
			}
		}
	}
}
