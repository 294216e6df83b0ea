package cli_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/recipe"
)

// maker types: mostly what is asked, in every way the bench knows, and now and
// then something that is refused.
type maker struct {
	*mirror
	bound *recipe.Bound
	notes func(now, evening recipe.Use) ([]bench.Note, error)
	rand  *rand.Rand
}

// typed is a line and whether an answer comes of it.
type typed struct {
	line  string
	keeps bool
}

// lines are up to n lines from here, fewer where the batch ends before.
func (m *maker) lines(n int) ([]typed, error) {
	var out []typed
	for tries := 0; len(out) < n; tries++ {
		q, err := m.s.Question()
		if err != nil {
			return nil, err
		}
		away := m.marks(bench.Aside)
		if q.Asked == bench.AskNothing && (len(away) == 0 || m.rand.IntN(3) == 0) {
			break
		}
		line := m.right(q)
		if q.Asked == bench.AskNothing {
			line = "bring back " + away[0]
		} else if m.rand.IntN(4) > 0 && tries%8 != 7 { // now and then the plain way, so that it goes on
			line = m.line(q)
		}
		line = strings.Join(strings.Fields(line), " ")
		evs, err := m.types(line)
		if err != nil {
			return nil, fmt.Errorf("stage %q, %q: %w", q.Stage, line, err)
		}
		if len(evs) == 0 && m.rand.IntN(3) > 0 && !strings.HasPrefix(line, "piece") && !strings.HasPrefix(line, "@") {
			continue // what is refused is typed less often
		}
		out = append(out, typed{line, len(evs) > 0})
	}
	return out, nil
}

func (m *maker) marks(at ...bench.Place) []string {
	var out []string
	for _, p := range m.s.State().Pieces {
		for _, a := range at {
			if p.Place == a {
				out = append(out, p.Mark)
			}
		}
	}
	return out
}

func (m *maker) one(of ...string) string {
	if len(of) == 0 {
		return "1"
	}
	return of[m.rand.IntN(len(of))]
}

// right is an answer with which the piece goes on.
func (m *maker) right(q bench.Question) string {
	if q.Asked == bench.AskRow {
		return m.row(m.s.State().Piece(q.Pieces[0]))
	}
	d := benchtest.Driver{Bound: m.bound, State: m.s.State(), Notes: m.notes}
	if len(q.Pieces) > 0 {
		d.Mark = q.Pieces[0]
	}
	return d.Right(q)
}

// row is the line of a card for a piece: what of its boxes is not filled yet.
func (m *maker) row(p *bench.Piece) string {
	if p.Place != bench.AtWork {
		return "go on"
	}
	st := &m.bound.Stages[p.Stage]
	out := []string{p.Mark}
	for _, b := range m.bound.Boxes(p.Stage, p.Number) {
		switch b.Kind {
		case recipe.BoxReading:
			x := &st.Measures[b.Measure]
			if _, closed := p.Closed[x.Slot]; closed || len(p.Open[x.Slot]) >= b.Turn {
				out = append(out, "-")
				continue
			}
			out = append(out, strings.ReplaceAll(benchtest.Middle(m.bound.Slots[x.Slot], x.Target), " ", ""))
		case recipe.BoxLook:
			out = append(out, m.look(st))
		case recipe.BoxPieces:
			out = append(out, "3")
		default:
			out = append(out, "x")
		}
	}
	return strings.Join(out, " ")
}

// look is an answer by its number: mostly one with which the piece goes on.
func (m *maker) look(st *recipe.Stage) string {
	if m.rand.IntN(6) > 0 {
		for i, a := range st.Look.Answers {
			if a.Outcome.How == recipe.GoingOn {
				return fmt.Sprint(i + 1)
			}
		}
	}
	return fmt.Sprint(1 + m.rand.IntN(len(st.Look.Answers)))
}

// line is one of the many things that can be typed at a question.
func (m *maker) line(q bench.Question) string {
	here, all := m.one(q.Pieces...), m.one(m.s.State().UnderWay()...)
	v := m.right(q)
	if m.rand.IntN(3) == 0 { // words that go anywhere
		return m.one(
			"undo", here+" undo", all+" undo", "-", "rack", "?", "more", "piece "+all, "piece",
			"remark a little dark", here+" remark grün, ふし, كتابة", "all remark from the same tube", "who Anna", "who Zoë",
			"through", "by stage", here+" aside dropped", "aside", all+" throw away cracked",
			"bring back "+m.one(m.marks(bench.Aside)...), "+8 left rail A", here+" +3 tip", "wet", all+" dry",
			"using nail varnish", "using clasp knife instead of knife", here+" using pliers too",
			m.correction(), m.correction(), "@00:00", "@now", "@yesterday 23:59", "@23:59 "+v,
		)
	}
	switch q.Asked {
	case bench.AskNote:
		return m.one(v, v, "ok", "", "yes")
	case bench.AskReading, bench.AskSettle:
		return m.one(v, v, here+": "+v, all+" "+v, all+": "+v, "all "+v, "all: "+v, "all but "+all+": "+v, v+"; "+v, v+"; "+v+"; "+v,
			"skip", here+" skip", "all skip", "keep", here+" keep", m.off(v), here+": "+m.off(v), "", "", "thick", v+"!")
	case bench.AskLook:
		n := fmt.Sprint(1 + m.rand.IntN(max(1, len(q.Choices))))
		return m.one(v, v, here+": "+v, all+" "+v, "all "+v, "all but "+all+" "+v, n, here+" "+n, "skip", m.one(q.Choices...))
	case bench.AskWork:
		return m.one("", "", "done", "all done", "all but "+all+" done", here+" done", all+": done", "skip", all+" skip no time", "maybe")
	case bench.AskInto:
		return m.one("", "3", "4", "0", here+" 2", "all 4", here+": 5", "forty")
	case bench.AskWait:
		return m.one("go on", "go on now", "all go on", here+" go on", all+" go on", "")
	case bench.AskRow:
		p := m.s.State().Piece(here)
		row := m.row(p)
		other := m.row(m.s.State().Piece(all))
		return m.one(row, row, row, other, other, strings.Replace(row, " ", " @00:01 ", 1), here+" -", row+" 9 9 9", here+" "+m.off("1.30"), "all done", "done")
	}
	return v
}

// off is a reading beside the mark: less, or more.
func (m *maker) off(v string) string {
	number, unit, _ := strings.Cut(v, " ")
	var x float64
	if _, err := fmt.Sscanf(number, "%g", &x); err != nil {
		return v
	}
	return strings.TrimSpace(fmt.Sprintf("%.2f %s", x*(0.93+m.rand.Float64()*0.14), unit))
}

// correction puts a reading of some piece right.
func (m *maker) correction() string {
	for _, p := range m.s.State().Pieces {
		for slot := range m.bound.Slots {
			if last, ok := p.Last[slot]; ok && len(last.List) > 0 && m.rand.IntN(3) == 0 {
				old := last.List[m.rand.IntN(len(last.List))]
				return fmt.Sprintf("%s correct %s to %s", p.Mark, old.Text, m.off(old.Text))
			}
		}
	}
	return "correct 1.13 to 1.31"
}

// stream is all answers from here to the end of the batch, as a maker would
// type them whose reeds all come out right.
func stream(t *testing.T, d *benchtest.Driver) []string {
	t.Helper()
	var out []string
	for range 2000 {
		q := d.Question()
		if q.Asked == bench.AskNothing {
			return out
		}
		a := d.Right(q)
		if _, err := d.Answer(a); err != nil {
			t.Fatalf("stage %q, %q: %v", q.Stage, a, err)
		}
		out = append(out, a)
	}
	t.Fatal("2000 answers do not bring the batch to its end")
	return nil
}
