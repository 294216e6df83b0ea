package session_test

import (
	"errors"
	"testing"

	"canewright/engine/bench"
)

// A row of the card may be of a piece at another stage than the one asked: the
// notes of the row's own stage come first.
func TestNoRowBeforeTheNotesOfItsStage(t *testing.T) {
	t.Parallel()
	e := newEvening()
	s := e.start(t, "1", "2")
	s.Later(true)
	give(t, s, "2 x", "2 go on")
	if p, q := s.State().Piece("2"), question(t, s); p.Stage != 1 || q.Stage != "soak" {
		t.Fatalf("piece 2 is at stage %d, the question is at %s", p.Stage, q.Stage)
	}
	kept := len(e.keep.events["batch"])
	var r *bench.Refusal
	if _, err := s.Answer(ctx, question(t, s).Seq, "2 1.31 straight"); !errors.As(err, &r) || r.Message != "A safety note comes first for piece 2." {
		t.Errorf("got %v", err)
	}
	if n := len(e.keep.events["batch"]); n != kept {
		t.Errorf("%d events were kept before the note", n-kept)
	}
	if err := s.Pick("2"); err != nil {
		t.Fatal(err)
	}
	give(t, s, "behind", "2 1.31 straight")
}
