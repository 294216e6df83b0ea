package bench

import (
	"strings"
	"time"

	"canewright/engine/recipe"
)

// Rack lists where each piece is and since when; pieces that stand alike are
// drawn together: "pieces 1 to 8: rest the blank, waiting, since 14 d".
func Rack(s *State, now time.Time) []string {
	type group struct {
		kind           string
		marks          []string
		where, why     string
		oldest, newest time.Time
	}
	var groups []*group
	at := map[string]*group{}
	for _, p := range s.Pieces {
		if p.Kind == ofTube && p.Place == Finished {
			continue // it lives on in its pieces
		}
		where, why := s.stands(p)
		key := p.Kind + where + why
		g := at[key]
		if g == nil {
			g = &group{kind: p.Kind, where: where, why: why, oldest: p.Since, newest: p.Since}
			at[key] = g
			groups = append(groups, g)
		}
		g.marks = append(g.marks, p.Mark)
		if p.Since.Before(g.oldest) {
			g.oldest = p.Since
		}
		if p.Since.After(g.newest) {
			g.newest = p.Since
		}
	}
	var out []string
	for _, g := range groups {
		who := g.kind + " "
		if len(g.marks) > 1 {
			who = g.kind + "s "
		}
		when := Since(g.oldest, now)
		if last := Since(g.newest, now); last != when {
			if strings.HasSuffix(last, " ago") {
				when = strings.TrimSuffix(when, " ago")
			}
			when += " to " + last
		}
		out = append(out, who+joinRuns(g.marks)+": "+g.where+" "+when+g.why)
	}
	return out
}

// stands says where a piece is, and why.
func (s *State) stands(p *Piece) (where, why string) {
	if p.Place == Finished {
		return "finished", ""
	}
	where = s.b.Stages[p.Stage].Name
	switch p.Place {
	case AtWork:
		return where + ", come", ""
	case InWait:
		return where + ", resting, begun", ""
	}
	if p.Why != "" && (p.Place == Aside || p.Place == Thrown) {
		why = " (" + p.Why + ")"
	}
	return where + ", " + string(p.Place), why
}

// NextEnd is when the next running wait reaches its least time, or where none
// is stated its usual one, after now, and what to say then. It is no gate: the
// player says when a wait is over.
func (s *State) NextEnd(now time.Time) (at time.Time, say string, ok bool) {
	var marks []string
	var stage int
	for _, p := range s.Pieces {
		if p.Place != InWait {
			continue
		}
		w := s.b.Stages[p.Stage].Wait
		ms := w.Least
		if ms == 0 {
			ms = w.Usual
		}
		end := p.Since.Add(time.Duration(ms) * time.Millisecond)
		if ms == 0 || !end.After(now) {
			continue
		}
		switch {
		case !ok || end.Before(at):
			at, ok, stage, marks = end, true, p.Stage, []string{p.Mark}
		case end.Equal(at) && p.Stage == stage:
			marks = append(marks, p.Mark)
		}
	}
	if !ok {
		return at, "", false
	}
	st := s.b.Stages[stage]
	text := st.Wait.LeastText
	if st.Wait.Least == 0 {
		text = st.Wait.UsualText
	}
	who := ""
	if len(s.Pieces) > 1 {
		kind := s.Piece(marks[0]).Kind
		who = ", " + kind + " " + marks[0]
		if len(marks) > 1 {
			who = ", " + kind + "s " + joinRuns(marks)
		}
	}
	if st.Wait.Least == recipe.Overnight && text == "overnight" {
		text = "the night"
	}
	return at, upperFirst(st.Name) + who + ": " + text + " is over.", true
}
