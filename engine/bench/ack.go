package bench

import "strconv"

// ackKey: a note's text of one revision, answered in one session.
func ackKey(session, id string, revision int) string {
	return session + "/" + id + "/" + strconv.Itoa(revision)
}

// ackHere: the same, at one visit of one piece to one stage, for notes that
// repeat every time.
func ackHere(session, id string, revision int, stage, piece string, visit int) string {
	return ackKey(session, id, revision) + "/" + stage + "/" + piece + "/" + strconv.Itoa(visit)
}

// dues sorts the notes of a stage. ask: to be shown in full and answered before
// anything of the stage is recorded, every note from CAUTION up that was not
// answered in this session, and DANGER at every visit of every piece. show: the same, but a
// note answered earlier in the session counts for them (Note.Under), so they
// are shown in full without a question. short: said in one line.
type dues struct{ ask, show, short []Note }

func (s *State) due(notes []Note, stage string, pieces []*Piece) dues {
	var d dues
	for _, n := range notes {
		answered := s.Acks[ackKey(s.Session, n.ID, n.Revision)]
		switch {
		case n.Signal == Danger && s.answeredHere(n, stage, pieces),
			n.Signal == Notice, n.Signal != Danger && answered:
			d.short = append(d.short, n)
		case n.Signal != Danger && n.Under != "" && s.answeredAny(notes, n.Under):
			d.show = append(d.show, n)
		default:
			d.ask = append(d.ask, n)
		}
	}
	return d
}

// answeredHere reports whether a note was answered in this session for the
// visit of each of these pieces.
func (s *State) answeredHere(n Note, stage string, pieces []*Piece) bool {
	for _, p := range pieces {
		if !s.Acks[ackHere(s.Session, n.ID, n.Revision, stage, p.Mark, p.Visit)] {
			return false
		}
	}
	return true
}

// answeredAny reports whether some revision of a note was answered in this
// session; that the text changed meanwhile is told by its own revision.
func (s *State) answeredAny(notes []Note, id string) bool {
	for _, n := range notes {
		if n.ID == id {
			return s.Acks[ackKey(s.Session, id, n.Revision)]
		}
	}
	return s.Acks[ackAny(s.Session, id)]
}

func ackAny(session, id string) string { return session + "/" + id }
