package bench_test

import (
	"slices"
	"testing"

	"canewright/engine/bench"
	"canewright/engine/recipe"
)

// Invented notes: knife asks in every session, its sister counts under it, the
// lamp is a danger, the floor is a notice.
var (
	knife  = bench.Note{ID: "N-1", Revision: 2, Signal: bench.Caution, Ask: "Where is the thumb?", Accept: []string{"behind"}, Short: "thumb behind the edge"}
	gouge  = bench.Note{ID: "N-2", Revision: 1, Signal: bench.Caution, Ask: "Where is the hand?", Accept: []string{"away"}, Under: "N-1", Short: "hand away"}
	fire   = bench.Note{ID: "N-3", Revision: 1, Signal: bench.Danger, Ask: "What is out?", Accept: []string{"flame*"}, Short: "no flame"}
	slip   = bench.Note{ID: "N-4", Revision: 1, Signal: bench.Notice, Short: "the floor is wet"}
	solder = bench.Note{ID: "N-5", Revision: 1, Signal: bench.Warning, Ask: "What is on?", Accept: []string{"goggles"}, Short: "goggles on"}
)

// noted begins a batch whose notes follow the tools of a stage.
func noted(t *testing.T, pieces int, by map[string][]bench.Note, body string) *table {
	t.Helper()
	b := begin(t, pieces, body)
	b.Notes = func(now, _ recipe.Use) ([]bench.Note, error) {
		var out []bench.Note
		for _, x := range now.Tools {
			out = append(out, by[x.Name]...)
		}
		return out, nil
	}
	return b
}

const scraping = `
stages:
  - {stage: scrape, tools: [knife], do: scrape, measure: [wire.first]}
  - {stage: again, tools: [knife], do: scrape}
`

func ids(notes []bench.Note) (out []string) {
	for _, n := range notes {
		out = append(out, n.ID)
	}
	return out
}

func TestNothingOfAStageBeforeItsNoteIsAnswered(t *testing.T) {
	t.Parallel()
	b := noted(t, 1, map[string][]bench.Note{"knife": {knife, slip}}, scraping)
	b.asks("note, scrape, piece 1: Where is the thumb?")
	q := b.Question()
	if !slices.Equal(ids(q.Notes), []string{"N-1"}) || len(q.Do) != 0 || q.Keys != "answer in your own words" {
		t.Errorf("%+v", q)
	}
	for _, text := range []string{"", "ok", "27.0", "skip", "done", "go on", "1", "all", "1: 27"} {
		b.no(text, "That does not answer the note; nothing is recorded. Say what protects you. Where is the thumb?")
	}
	b.say("remark dark", "written down.")
	evs := b.say(" Behind the edge ", "Noted.")
	a := evs[0].Body.(bench.NoteAcknowledged)
	if len(evs) != 1 || a != (bench.NoteAcknowledged{ID: "N-1", Revision: 2, Signal: "CAUTION", Answer: "Behind the edge"}) || evs[0].Subject.Kind != "batch" || evs[0].Stage != "scrape" {
		t.Errorf("%+v", evs)
	}
	b.asks("reading, scrape, piece 1: first wire, from the butt")
	if q := b.Question(); len(q.Notes) != 0 || !slices.Equal(ids(q.Short), []string{"N-1", "N-4"}) {
		t.Errorf("full %v, short %v", ids(q.Notes), ids(q.Short))
	}
	b.say("27", "")
	b.asks("work, again, piece 1: Done?") // answered in this session
	if err := b.Reopen(); err != nil {
		t.Fatal(err)
	}
	b.asks("note, again, piece 1: Where is the thumb?") // another session
}

// A text that changed is answered anew.
func TestAnotherRevisionIsAskedAgain(t *testing.T) {
	t.Parallel()
	by := map[string][]bench.Note{"knife": {knife}}
	b := noted(t, 1, by, scraping)
	b.say("behind", "Noted.")
	newer := knife
	newer.Revision = 3
	by["knife"] = []bench.Note{newer}
	b.asks("note, scrape, piece 1: Where is the thumb?")
}

// What lets go of the piece needs no note; undo neither.
func TestPuttingAwayNeedsNoNote(t *testing.T) {
	t.Parallel()
	b := noted(t, 1, map[string][]bench.Note{"knife": {knife}}, scraping)
	evs := b.say("aside", "set aside.")
	if evs[0].Stage != "" {
		t.Errorf("%+v", evs)
	}
	b.say("undo", "Taken back: set aside.")
	b.asks("note, scrape, piece 1: Where is the thumb?")
}

// A note under another is shown in full, without a question, where the other
// was answered in this session.
func TestANoteUnderAnotherIsShownWithoutAQuestion(t *testing.T) {
	t.Parallel()
	const body = `
stages:
  - {stage: scrape, tools: [knife], do: scrape}
  - {stage: gouge, tools: [gouger], do: gouge}
  - {stage: gouge more, tools: [gouger], do: gouge}
`
	by := map[string][]bench.Note{"knife": {knife}, "gouger": {gouge}}
	b := noted(t, 1, by, body)
	b.say("behind", "Noted.")
	b.say("", "")
	b.asks("work, gouge, piece 1: Done?")
	if q := b.Question(); !slices.Equal(ids(q.Notes), []string{"N-2"}) {
		t.Errorf("shown %v", ids(q.Notes))
	}
	evs := b.say("", "")
	if a, ok := evs[0].Body.(bench.NoteAcknowledged); !ok || a.ID != "N-2" || a.Answer != "shown; the answer to N-1 counts for it" {
		t.Errorf("%+v", evs)
	}
	if q := b.Question(); len(q.Notes) != 0 || !slices.Equal(ids(q.Short), []string{"N-2"}) {
		t.Errorf("shown %v, short %v", ids(q.Notes), ids(q.Short))
	}
	b = noted(t, 1, by, "stages: [{stage: gouge, tools: [gouger], do: gouge}]\n")
	b.asks("note, gouge, piece 1: Where is the hand?") // the other was not answered
}

// All notes that stand on the screen are answered with the gravest.
func TestOneAnswerServesAllThatStandOnTheScreen(t *testing.T) {
	t.Parallel()
	b := noted(t, 1, map[string][]bench.Note{"knife": {solder, knife, gouge}}, scraping)
	b.asks("note, scrape, piece 1: What is on?")
	b.no("behind", "That does not answer the note; nothing is recorded. Say what protects you. What is on?")
	evs := b.say("goggles", "Noted.")
	if len(evs) != 3 {
		t.Errorf("%+v", evs)
	}
	b.asks("reading, scrape, piece 1: first wire, from the butt")
}

// DANGER is asked at every visit.
func TestDangerIsAskedAtEveryVisit(t *testing.T) {
	t.Parallel()
	b := noted(t, 1, map[string][]bench.Note{"knife": {fire}}, `
stages:
  - stage: warm
    tools: [knife]
    look: {question: how, answers: {well: going on, cold: once more}}
`)
	b.asks("note, warm, piece 1: What is out?")
	b.say("all flames", "Noted.")
	b.say("cold", "once more. (how cold)")
	b.asks("note, warm, piece 1: What is out?")
	b.no("cold", "That does not answer the note; nothing is recorded. Say what protects you. What is out?")
	b.say("flame", "Noted.")
	b.asks("look, warm, piece 1: how")
}

// What is in hand in an evening is what stages had events in it.
func TestEvening(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, "stages: [{stage: a, tools: [knife]}, {stage: b, tools: [candle]}]\n")
	if !b.State.Evening().Empty() {
		t.Error("something is in hand before anything was done")
	}
	b.say("", "")
	if u := b.State.Evening(); !u.Has("blade") || u.Has("flame") {
		t.Errorf("%+v", u)
	}
	b.say("", "finished. / That was the last one. The batch is closed.")
	if u := b.State.Evening(); !u.Has("blade") || !u.Has("flame") {
		t.Errorf("%+v", u)
	}
	if err := b.Reopen(); err != nil || !b.State.Evening().Empty() {
		t.Errorf("another evening begins with %+v (%v)", b.State.Evening(), err)
	}
}

// Pieces that are answered for together may be at different visits: the answer
// to a DANGER holds for each of them.
func TestDangerIsAnsweredForEachVisitOfAGroup(t *testing.T) {
	t.Parallel()
	b := noted(t, 2, map[string][]bench.Note{"knife": {fire}}, `
stages:
  - {stage: warm, tools: [knife], do: warm it}
  - {stage: look, look: {question: how, answers: {well: going on, cold: {go back to: warm, at most: 3 times, then: set aside}}}}
`)
	b.Mark = "1"
	b.say("flame", "Noted.")
	b.say("", "")
	b.say("cold", "Piece 1: back to warm. (how cold)")
	if err := b.Reopen(); err != nil {
		t.Fatal(err)
	}
	b.Mark = ""
	b.asks("note, warm, pieces 1 and 2: What is out?")
	evs := b.say("flame", "Noted.")
	if len(evs) != 2 || evs[0].Visit != 2 || evs[1].Visit != 1 {
		t.Errorf("%+v", evs)
	}
	b.asks("work, warm, pieces 1 and 2: Done?")
	b.say("", "")
}

// A second piece that comes to the same stage brings the DANGER again, though
// the first was answered for at its own first visit.
func TestDangerIsAskedForEveryPiece(t *testing.T) {
	t.Parallel()
	b := noted(t, 2, map[string][]bench.Note{"knife": {fire}}, `
stages:
  - stage: warm
    tools: [knife]
    look: {question: how, answers: {well: going on}}
`)
	b.asks("note, warm, piece 1: What is out?")
	b.say("flame", "Noted.")
	b.asks("look, warm, piece 1: how")
	b.say("well", "Piece 1: finished.")
	b.asks("note, warm, piece 2: What is out?")
}
