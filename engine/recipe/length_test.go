package recipe_test

import (
	"strings"
	"testing"
)

// What is written out is read up to the limit, and what repeats add is not.
func TestLengthOfARecipe(t *testing.T) {
	t.Parallel()
	stages := func(n int) string { return strings.Repeat("  - stage: s\n", n) }
	for name, c := range map[string]struct {
		data string
		want string
		n    int
	}{
		"ten thousand stages":   {string(longRecipe(10_000)), "", 10_000},
		"all of one name":       {head + "stages:\n" + stages(10_000), "", 10_000},
		"one more":              {head + "stages:\n" + stages(10_001), "recipe.yaml:10007:5: error: this recipe has over 10000 stages", 0},
		"four hundred repeated": {head + "stages:\n  - {stage: a, times: 20, stages: [{stage: b, times: 20, stages: [{stage: c}]}]}\n", "", 400},
		"repeated too often": {head + "stages:\n  - {stage: a, times: 20, stages: [{stage: b, times: 20, stages: [{stage: c}, {stage: d}]}]}\n",
			"recipe.yaml:7:67", 0},
		"a big stage again and again": {head + "stages:\n  - {stage: s, do: '" + strings.Repeat("wind ", 20_000) + "'}\n" + strings.Repeat("  - {stage: s, again: s}\n", 200),
			"its repeats add over 20000 instructions", 0},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b, list := check(t, "recipe.yaml", []byte(c.data))
			said := text(t, list)
			if c.want != "" && (b != nil || !strings.Contains(said, c.want)) {
				t.Errorf("want %q:\n%s", c.want, said)
			}
			if c.want != "" {
				return
			}
			if b == nil || len(b.Stages) != c.n {
				t.Fatalf("not read:\n%s", said)
			}
			keys := map[string]bool{}
			for _, s := range b.Stages {
				keys[s.Key] = true
			}
			if len(keys) != c.n {
				t.Errorf("%d keys for %d stages", len(keys), c.n)
			}
		})
	}
}
