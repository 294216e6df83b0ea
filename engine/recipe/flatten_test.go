package recipe_test

import (
	"slices"
	"testing"

	"canewright/engine/dimension"
	"canewright/engine/recipe"
)

func names(b *recipe.Bound) []string {
	var out []string
	for _, s := range b.Stages {
		out = append(out, s.Name)
	}
	return out
}

func keys(b *recipe.Bound) []string {
	var out []string
	for _, s := range b.Stages {
		out = append(out, s.Key)
	}
	return out
}

func TestTimesWritesPlannedRepeatsOut(t *testing.T) {
	t.Parallel()
	b := bind(t, `
stages:
  - stage: twice
    times: 2
    stages:
      - {stage: soak, materials: [water]}
      - stage: thrice
        times: 3 times
        stages:
          - {stage: dry, do: leave it}
  - {stage: dry, do: leave it}
  - {stage: dry, do: leave it}
  - {stage: dry 2, do: leave it}
`)
	want := []string{"soak (1 of 2)", "dry (1 of 2) (1 of 3)", "dry (1 of 2) (2 of 3)", "dry (1 of 2) (3 of 3)",
		"soak (2 of 2)", "dry (2 of 2) (1 of 3)", "dry (2 of 2) (2 of 3)", "dry (2 of 2) (3 of 3)", "dry", "dry", "dry 2"}
	if got := names(b); !slices.Equal(got, want) {
		t.Errorf("names %q", got)
	}
	want[9], want[10] = "dry 2", "dry 2 2"
	if got := keys(b); !slices.Equal(got, want) {
		t.Errorf("keys %q", got)
	}
}

func TestAgainTakesOverAllThatIsNotWrittenAnew(t *testing.T) {
	t.Parallel()
	b := bind(t, `
stages:
  - stage: form the blank
    for: the batch
    because: it is the first
    tools: [mandrel, pliers]
    materials: [brass wire]
    do: [fold it, wire it]
    uses: [staple]
    condition: wet
    becomes: dry
    mark again: pencil
    no way back: yes
    targets: {wire.first: 27 ± 0.5 mm}
    measure: [wire.first]
    expect: [wire.first >= 20 mm]
    look: {question: how is it, answers: {round: going on}}
    wait: overnight
  - {stage: rebuild, again: form the blank}
  - stage: other
    again: rebuild
    for: each piece
    because: it is another
    tools: [knife]
    materials: [thread]
    do: [scrape it]
    uses: [bocal]
    takes off: [wire.first]
    condition: dry
    becomes: wet
    mark again: ink
    no way back: no
    targets: {wire.second: 19 ± 0.5 mm}
    measure: [wire.second]
    expect: [wire.second >= 20 mm]
    look: {question: what now, answers: {flat: going on}}
    wait: 1 d
`)
	first, same, other := b.Stages[0], b.Stages[1], b.Stages[2]
	if same.Name != "rebuild" || !same.Each.Batch || same.Because != first.Because || !slices.Equal(same.Do, first.Do) || !slices.Equal(same.Uses, first.Uses) ||
		same.Condition != dimension.Wet || same.Becomes != dimension.Dry || same.MarkAgain != "pencil" || !same.NoWayBack ||
		len(same.Measures) != 1 || same.Measures[0].Slot != first.Measures[0].Slot || len(same.Rules) != 1 || same.Look.Question != "how is it" || same.Wait.Usual != recipe.Overnight {
		t.Errorf("taken over: %+v", same)
	}
	if !same.Use.Has("pushed in") || !same.Use.Has("pliers") || !same.Use.Has("wire") {
		t.Errorf("the tools of the first stage are not in use: %+v", same.Use)
	}
	if other.Each.Batch || other.Because != "it is another" || !slices.Equal(other.Do, []string{"scrape it"}) || !slices.Equal(other.Uses, []string{"bocal"}) ||
		other.Condition != dimension.Dry || other.Becomes != dimension.Wet || other.MarkAgain != "ink" || other.NoWayBack ||
		len(other.TakesOff) != 1 || b.Slots[other.Measures[0].Slot].Name != "wire.second" || other.Rules[0].That.Text() != "wire.second >= 20 mm" ||
		other.Look.Question != "what now" || other.Wait.Usual != 24*3600*1000 {
		t.Errorf("written anew: %+v", other)
	}
	if other.Use.Has("pliers") {
		t.Errorf("the tools of the first stage are still in use: %+v", other.Use)
	}
}

// A stage named again keeps what its first name speaks of: the notes follow the
// words.
func TestAgainSpeaksOfWhatItsFirstNameDoes(t *testing.T) {
	t.Parallel()
	b := bind(t, `
stages:
  - {stage: scrape the tip, do: as before}
  - {stage: once round, again: scrape the tip}
  - {stage: and round, again: once round}
`)
	for _, s := range b.Stages {
		if !slices.Contains(s.Use.Actions, "scrape") {
			t.Errorf("%s: actions %v", s.Name, s.Use.Actions)
		}
	}
}

func TestAgainInsideNestedStagesFindsWhatStandsBefore(t *testing.T) {
	t.Parallel()
	b := bind(t, `
stages:
  - {stage: soak, materials: [water]}
  - stage: twice
    times: 2
    stages:
      - {stage: wet it, again: soak}
`)
	if len(b.Stages) != 3 || b.Stages[2].Use.Materials[0].Name != "water" {
		t.Errorf("%q", names(b))
	}
}
