package wire_test

import (
	"context"
	"testing"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/session"
	"canewright/recipes"
	"canewright/safety"
)

// measured is the bundled recipe the benchmarks work on.
const measured = "bassoon/from-shaped-cane"

// BenchmarkJudgeAnswer is one answer with a reading, from the line typed to
// the events: notes of the stage, parse, estimate, verdict, moves.
func BenchmarkJudgeAnswer(b *testing.B) {
	bound := bundled(b)[measured]
	d, err := benchtest.Start(bound, 1, notes(b))
	if err != nil {
		b.Fatal(err)
	}
	q := d.Question()
	for range 1000 {
		if q.Asked == bench.AskReading || q.Asked == bench.AskNothing {
			break
		}
		if _, err := d.Answer(d.Right(q)); err != nil {
			b.Fatal(err)
		}
		q = d.Question()
	}
	if q.Asked != bench.AskReading {
		b.Fatalf("no reading is ever asked, but %q", q.Prompt)
	}
	text := d.Right(q)
	stage := d.StageNotes()
	answer := bench.Answer{Seen: d.State.Last, Text: text}
	judge := func(stage bench.NotesFor) {
		evs, err := bench.Decide(d.State, answer, stage, bench.Moment{At: d.Now})
		if err != nil {
			b.Fatal(err)
		}
		if r, ok := evs[0].Body.(bench.ReadingTaken); !ok || r.Said == nil || r.Said.Side != quantity.Inside.String() {
			b.Fatalf("the answer %q was not judged: %+v", text, evs[0].Body)
		}
	}
	b.Run("decide", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			judge(func(recipe.Use) ([]bench.Note, error) { return stage, nil })
		}
	})
	b.Run("with notes", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			judge(d.For)
		}
	})
	b.Run("with question", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			judge(d.For)
			if q := d.Question(); q.Asked != bench.AskReading {
				b.Fatal(q.Asked)
			}
		}
	})
}

// BenchmarkCheckRecipe reads, checks and binds the bundled recipe; the
// instrument's answer is at hand.
func BenchmarkCheckRecipe(b *testing.B) {
	w := works(b)
	r, err := w.Recipe(context.Background(), measured)
	if err != nil {
		b.Fatal(err)
	}
	set, err := dimension.Decode(r.Snapshot.Set)
	if err != nil {
		b.Fatal(err)
	}
	name, data, ok := recipes.Read(measured)
	if !ok {
		b.Fatal("not bundled")
	}
	b.ReportAllocs()
	for b.Loop() {
		f, list := recipe.Load(name, data)
		if f == nil {
			b.Fatal(findings(list))
		}
		if bound, list := recipe.Bind(f, set, w.Tools()); bound == nil {
			b.Fatal(findings(list))
		}
	}
}

// BenchmarkLoadNotes: the safety notes as every start takes them, and read and
// checked afresh from their file.
func BenchmarkLoadNotes(b *testing.B) {
	c, err := safety.Load()
	if err != nil {
		b.Fatal(err)
	}
	data := c.Bytes()
	b.Run("worked out", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := safety.Load(); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("afresh", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if c, list := safety.Read("safety/notes.yaml", data); c == nil {
				b.Fatal(findings(list))
			}
		}
	})
}

// BenchmarkAskInstrument starts the instrument's process, asks and stops it.
func BenchmarkAskInstrument(b *testing.B) {
	h := works(b).Host()
	for b.Loop() {
		if _, err := h.Set(context.Background(), "bassoon", 1); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFirstQuestion is what follow does up to its first question, in an
// empty home, without the start of the program itself.
func BenchmarkFirstQuestion(b *testing.B) {
	ctx := context.Background()
	for b.Loop() {
		w := works(b)
		book, err := w.Logbook(ctx)
		if err != nil {
			b.Fatal(err)
		}
		r, err := w.Recipe(ctx, measured)
		if err != nil {
			b.Fatal(err)
		}
		out, err := w.Outside(book)
		if err != nil {
			b.Fatal(err)
		}
		s, err := session.Start(ctx, out, session.Batch{Name: "first", Title: r.Bound.File.Title, Snapshot: r.Snapshot}, bench.Beginning{Pieces: []string{"1"}})
		if err != nil {
			b.Fatal(err)
		}
		if q, err := s.Question(); err != nil || q.Asked == bench.AskNothing {
			b.Fatal(q.Asked, err)
		}
		if err := book.Close(); err != nil {
			b.Fatal(err)
		}
	}
}
