package safety

import (
	"slices"
	"strings"
)

// check follows the references between notes and tries every question.
func (r *reader) check() {
	byID := map[string]*draft{}
	for _, d := range r.notes {
		if first := byID[d.note.ID]; first != nil {
			r.list.Errorf("safety/duplicate-id", d.node.Get("id").Span(), "two notes are called %q", d.note.ID)
			continue
		}
		byID[d.note.ID] = d
	}
	for _, d := range r.notes {
		r.followAid(d, byID)
		r.checkUnder(d, byID)
		r.checkQuestion(d)
		if d.note.Signal >= Caution && d.aid == nil {
			r.list.Errorf("safety/empty", d.node.Get("id").Span(), "note %s has no first aid", d.note.ID)
		}
		if len(d.note.Sources) == 0 {
			r.list.Hinted("safety/no-source", d.node.Get("id").Span(), "add sources: or unsourced:", "note %s does not say where it comes from", d.note.ID)
		}
	}
	for _, key := range sortedKeys(r.sources) {
		// The form of the notes themselves rests on the definitions.
		if !r.used[key] && key != "S-Z5354-DEF" {
			r.list.Errorf("safety/no-source", r.places[key], "nothing rests on source %s", key)
		}
	}
}

// followAid writes out first aid that is said elsewhere: nobody looks up a
// number with a bleeding hand.
func (r *reader) followAid(d *draft, byID map[string]*draft) {
	var added []string
	passed := []*draft{}
	for at := d; ; {
		if slices.Contains(passed, at) {
			r.list.Errorf("safety/circle", d.aid.Span(), "the first aid of %s leads back to itself", d.note.ID)
			return
		}
		passed = append(passed, at)
		if at.as == "" {
			parts := append([]string{at.note.FirstAid}, added...)
			d.note.FirstAid = strings.TrimSpace(strings.Join(parts, " "))
			break
		}
		if at.and != "" {
			added = append([]string{at.and}, added...)
		}
		next := byID[at.as]
		if next == nil {
			r.list.Errorf("safety/unknown-word", at.aid.Span(), "there is no note %q to take first aid from", at.as)
			return
		}
		at = next
	}
	d.as, d.and = "", ""
}

// checkUnder: an answer counts for another note only if it was given about
// something at least as grave.
func (r *reader) checkUnder(d *draft, byID map[string]*draft) {
	if d.underNode == nil {
		return
	}
	over := byID[d.note.Under]
	if over == nil || over == d || over.underNode != nil {
		r.list.Errorf("safety/under", d.underNode.Span(), "%q is no note that is asked about by itself", d.note.Under)
		return
	}
	if d.note.Signal > Caution {
		r.list.Errorf("safety/under", d.underNode.Span(), "a %s is asked about by itself", d.note.Signal)
	}
	raised := func(d *draft) Signal {
		if d.note.Signal == Caution && len(d.raisedBy) > 0 {
			return Warning
		}
		return d.note.Signal
	}
	if over.note.Signal < d.note.Signal || raised(over) < raised(d) {
		r.list.Errorf("safety/under", d.underNode.Span(), "%s is graver than %s", d.note.ID, over.note.ID)
	}
}

// checkQuestion: the question must be answerable, and not by pressing on.
func (r *reader) checkQuestion(d *draft) {
	n := d.note
	if n.Signal <= Notice {
		return
	}
	at := d.node.Get("id").Span()
	if n.Ask == "" || len(n.Accept) == 0 {
		r.list.Hinted("safety/question", at, "add ask: and accept:", "note %s asks nothing", n.ID)
		return
	}
	if n.Accepts(n.Ask) {
		r.list.Errorf("safety/question", d.node.Get("ask").Span(), "the question of %s answers itself", n.ID)
	}
	for _, a := range d.node.Get("accept").Items() {
		if !n.Accepts(strings.ReplaceAll(a.Value(), "*", "")) {
			r.list.Errorf("safety/question", a.Span(), "%q can never be the answer", a.Value())
		}
	}
}
