package adaptation

import (
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// Revision brings an own version from an older version of its origin to a newer
// one. Each difference is taken up or kept out, in their order.
type Revision struct {
	*Editor
	All []Difference

	here map[string]bool // stages the whole has, as far as it is settled
	kept int             // changes at the front that keep the older order
	// Stages that moved and were not put back (yet): nothing is told by their place.
	adrift map[string]bool
}

// Revise compares two versions of an origin, and says at each difference what
// of the own version touches the same thing.
func Revise(own, older, newer []byte) *Revision {
	r := &Revision{Editor: Edit(own), All: Differences(older, newer), here: map[string]bool{}, adrift: map[string]bool{}}
	for _, n := range outlineOf(open(newer)).names {
		r.here[n] = true
	}
	for _, d := range r.All {
		if d.Kind == StageMoved {
			r.adrift[d.Stage] = true
		}
	}
	r.meets()
	return r
}

func (e *Revision) meets() {
	for i := range e.All {
		d := &e.All[i]
		switch d.Kind {
		case SettingDiffers:
			if e.says("settings", d.Name) {
				d.Conflict = "you have set it yourself"
			}
		case TargetDiffers:
			if d.Stage == "" && e.says("targets", d.Name) || d.Stage != "" && e.saysTarget(d.Stage, d.Name) {
				d.Conflict = "you have set it yourself"
			} else if e.about(LeaveOut, d.Stage) {
				d.Conflict = "you leave this stage out"
			}
		case KeyDiffers:
			if b := e.changeOf(d.Stage); b != nil && b.get(d.Name) != nil {
				d.Conflict = "you have changed it yourself"
			} else if e.about(LeaveOut, d.Stage) {
				d.Conflict = "you leave this stage out"
			}
		case StageGone:
			var mine []string
			for _, n := range d.gone() {
				for _, verb := range []string{ChangeStage, LeaveOut, Move} {
					if e.about(verb, n) {
						mine = append(mine, "you "+verb+" "+n)
					}
				}
			}
			for _, n := range d.gone() {
				for _, where := range []string{"after", "before"} {
					for _, it := range e.find(where, n) {
						mine = append(mine, "your "+it.called()+" stands "+where+" it")
					}
				}
			}
			d.Conflict = strings.Join(mine, "; ")
		case StageMoved:
			if e.about(Move, d.Stage) {
				d.Conflict = "you move it too"
			}
		case StageAdded:
			if e.about(Add, d.Stage) {
				d.Conflict = "you have added a stage of this name"
			}
		}
	}
}

// called is the stage a change is about.
func (it *item) called() string {
	for _, v := range []string{ChangeStage, LeaveOut, Move, Add} {
		if n := it.verb(v); n != "" {
			return n
		}
	}
	return ""
}

func (e *Editor) says(key, name string) bool {
	return e.document.root.get(key) != nil && e.block(key).get(name) != nil
}

func (e *Editor) about(verb, stage string) bool { return len(e.find(verb, stage)) > 0 }

// changeOf is the change of a stage, nil if there is none.
func (e *Editor) changeOf(stage string) *block {
	if found := e.find(ChangeStage, stage); len(found) > 0 {
		return found[0].block
	}
	return nil
}

func (e *Editor) saysTarget(stage, name string) bool {
	b := e.changeOf(stage)
	if b == nil || b.get("targets") == nil {
		return false
	}
	p := b.get("targets")
	p.open()
	return p.block.get(name) != nil
}

// Take lets a difference into the own version: what it says of the same thing
// itself, it says no more.
func (e *Revision) Take(d Difference) {
	switch d.Kind {
	case SettingDiffers:
		if e.says("settings", d.Name) {
			e.block("settings").drop(d.Name)
		}
	case TargetDiffers:
		e.ForgetTarget(d.Stage, d.Name)
	case KeyDiffers:
		if e.document.root.get("changes") != nil {
			e.forgetKey(d.Stage, d.Name)
		}
	case StageMoved:
		e.remove(e.find(Move, d.Stage)...)
	case StageAdded:
		if e.about(Add, d.Stage) {
			e.Forget(d.Stage)
		}
	case StageRenamed:
		for _, key := range []string{ChangeStage, LeaveOut, Move, "after", "before"} {
			if found := e.find(key, d.Was); len(found) > 0 {
				for _, it := range found {
					it.block.put(textPart(key, d.Now))
				}
				e.byStage = nil
			}
		}
	case StageGone:
		var these []*item
		for _, n := range d.gone() {
			for _, where := range []string{"after", "before"} {
				for _, it := range e.find(where, n) {
					if to, anchor := e.stood(d); anchor != "" {
						it.block.drop(where)
						it.block.put(textPart(to, anchor))
						e.byStage = nil
					}
				}
			}
			for _, word := range []string{ChangeStage, LeaveOut, Move} {
				these = append(these, e.find(word, n)...)
			}
		}
		e.remove(these...)
	}
	if e.byStage == nil || d.Kind == SettingDiffers {
		e.tidy()
	}
}

// Keep leaves a difference out of the own version: it stays as it was, or as
// the player has it. Kept why is noted where something new is written.
func (e *Revision) Keep(d Difference, why string) {
	switch d.Kind {
	case SettingDiffers:
		switch {
		case e.says("settings", d.Name):
		case d.was == nil:
			e.LeaveOutValue("settings", d.Name)
		default:
			e.block("settings").put(d.was.copy())
		}
	case TargetDiffers:
		e.keepTarget(d, why)
	case KeyDiffers:
		if b := e.changeOf(d.Stage); b != nil && b.get(d.Name) != nil || e.about(LeaveOut, d.Stage) {
			return
		}
		if d.was == nil {
			e.without(d.Stage, d.Name)
			return
		}
		e.key(d.Stage, d.was)
	case StageAdded:
		if !e.about(Add, d.Stage) {
			e.LeaveOut(d.Stage, why)
		}
	case StageMoved:
		// Also where the player moves it: others are put back beside it.
		if where, anchor := e.stood(d); anchor != "" {
			b := &block{parts: []*part{textPart(Move, d.Stage), textPart(where, anchor)}}
			if why != "" {
				b.parts = append(b.parts, textPart("why", why))
			}
			e.front(b)
			delete(e.adrift, d.Stage)
		}
	case StageRenamed:
		e.Take(d) // the own version speaks of it by its new name
		b := e.stage(d.Now)
		if b.get("rename") == nil {
			b.parts = append(b.parts, textPart("rename", d.Was))
		}
	case StageGone:
		e.keepStage(d, why)
	}
}

// stood is where a stage stood before, told by a neighbour that is still there.
func (e *Revision) stood(d Difference) (where, anchor string) {
	for i := d.stood.i - 1; i >= 0; i-- {
		if n := d.called(d.stood.list.all[i].name()); e.here[n] && !e.adrift[n] {
			return "after", n
		}
	}
	for _, it := range d.stood.list.all[d.stood.i+1:] {
		if n := d.called(it.name()); e.here[n] && !e.adrift[n] {
			return "before", n
		}
	}
	return "", ""
}

// front puts a change that keeps the older order before the player's own, which
// build on it.
func (e *Revision) front(b *block) {
	l, it := e.changes(), &item{block: b}
	l.all = slices.Insert(l.all, e.kept, it)
	e.kept++
	e.note(it)
}

func (e *Revision) keepTarget(d Difference, why string) {
	if e.about(LeaveOut, d.Stage) {
		return
	}
	block := e.targets(d.Stage)
	own := block.get(d.Name)
	var v Value
	switch {
	case own != nil:
		n := own.value()
		if n.Value() == leaveOut {
			return
		}
		v = Value{node: n, Text: n.Value()}
		why = n.Get("why").Value()
	case d.was == nil:
		block.put(made(d.Name, []string{yamldoc.Quote(d.Name, false) + ": " + leaveOut}))
		return
	default:
		v = Value{node: d.was.value()}
	}
	var was *yamldoc.Node
	if d.was != nil {
		was = d.was.value()
	}
	// In full, so that nothing of the newer one shows through.
	lines := merged(d.Name, v, was)
	if d.now != nil {
		whole, _, _ := yamldoc.ParseBytes("", []byte(strings.Join(lines, "\n")+"\n"))
		for _, entry := range d.now.value().Entries() {
			key := entry.Key.Value()
			if whole.Get(d.Name).Get(key) != nil || key == "target" {
				continue
			}
			lines = append(spread(d.Name, lines), "  "+yamldoc.Quote(key, false)+": "+leaveOut)
		}
	}
	if why != "" {
		lines = append(spread(d.Name, lines), "  why: "+yamldoc.Quote(why, false))
	}
	block.put(made(d.Name, lines))
}

// spread is a target on lines of its own, so that more can be said below it.
func spread(name string, lines []string) []string {
	if len(lines) > 1 {
		return lines
	}
	_, text, _ := strings.Cut(lines[0], ": ")
	return []string{yamldoc.Quote(name, false) + ":", "  target: " + text}
}

// keepStage makes a stage that went one of the own version's.
func (e *Revision) keepStage(d Difference, why string) {
	where, anchor := e.stood(d)
	if e.about(LeaveOut, d.Was) {
		e.Forget(d.Was)
		return
	}
	b := &block{parts: []*part{textPart(Add, d.Was)}}
	if anchor != "" {
		b.parts = append(b.parts, textPart(where, anchor))
	}
	if why != "" {
		b.parts = append(b.parts, textPart("why", why))
	}
	mine := e.changeOf(d.Was)
	var without []string
	if mine != nil && mine.get("without") != nil {
		var list diagnostic.List
		for _, n := range mine.get("without").value().TextItems(&list, "a key") {
			without = append(without, n.Value())
		}
	}
	for _, p := range d.inner.parts {
		if p.key == "stage" || slices.Contains(without, p.key) || mine != nil && mine.get(p.key) != nil && p.key != "targets" {
			continue
		}
		b.parts = append(b.parts, p.copy())
	}
	if mine != nil {
		for _, p := range mine.parts {
			switch p.key {
			case ChangeStage, "why", "rename", "without":
			case "targets":
				p.open()
				t := b.get("targets")
				if t == nil {
					t = emptyMap("targets")
					b.parts = append(b.parts, t)
				}
				t.open()
				for _, q := range p.block.parts {
					n := q.value()
					if n.Value() == leaveOut {
						t.block.drop(q.key)
						continue
					}
					var was *yamldoc.Node
					if old := t.block.get(q.key); old != nil {
						was = old.value()
					}
					lines := merged(q.key, Value{node: n}, was)
					if why := n.Get("why").Value(); why != "" && len(lines) > 1 {
						lines = append(lines, "  why: "+yamldoc.Quote(why, false))
					}
					t.block.put(made(q.key, lines))
				}
			default:
				b.parts = append(b.parts, p.copy())
			}
		}
	}
	if mine != nil {
		e.remove(e.find(ChangeStage, d.Was)[0])
	}
	e.front(b)
	for _, n := range d.gone() {
		e.here[n] = true
	}
}

// gone are a stage that went and those inside it.
func (d Difference) gone() []string { return append([]string{d.Was}, d.within...) }
