package cli

import (
	"slices"
	"strings"

	"canewright/engine/adaptation"
	"canewright/engine/diagnostic"
)

// flagged makes the changes the flags name.
func (a *adapting) flagged(p *adaptation.Places) error {
	o := a.o
	for _, name := range o.drop {
		stage, what := "", strings.TrimSpace(name)
		if s, n, ok := strings.Cut(name, ":"); ok {
			stage, what = strings.TrimSpace(s), strings.TrimSpace(n)
		}
		found := stage == "" && a.editor.Forget(what)
		if !a.forgetTarget(p, stage, what) && !found {
			return usagef("adapt: your version says nothing of %q", diagnostic.Clean(name))
		}
	}
	for _, s := range o.settings {
		name, value, ok := strings.Cut(s, "=")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		if !ok || value == "" {
			return hinted{usagef("adapt: --set %q", diagnostic.Clean(s)), `write --set "shaper.width = 14.6 mm"`}
		}
		if !slices.Contains(p.Settings, name) {
			return hinted{usagef("adapt: the recipe has no setting %q", diagnostic.Clean(name)), nearOr(name, p.Settings, "its settings are ")}
		}
		if err := readable(value, p.Values[name], true); err != nil {
			return hinted{usagef("adapt: --set %q: %w", diagnostic.Clean(s), err), "nothing was written"}
		}
		a.editor.Setting(name, value, o.why)
	}
	for _, t := range o.targets {
		if err := a.target(p, t); err != nil {
			return err
		}
	}
	for _, s := range o.leave {
		if err := knownStage(p, s); err != nil {
			return err
		}
		a.editor.LeaveOut(strings.TrimSpace(s), o.why)
	}
	for _, m := range o.moves {
		stage, where, anchor, ok := splitMove(p, m)
		if !ok {
			return hinted{usagef("adapt: --move %q", diagnostic.Clean(m)), `write --move "ream after cut the tip", with two stages of the recipe; canewright show lists them`}
		}
		a.editor.Move(stage, where, anchor, o.why)
	}
	for _, h := range []struct{ key, text string }{{"title", o.title}, {"author", o.author}} {
		if h.text != "" {
			a.editor.Head(h.key, h.text)
		}
	}
	if o.id != "" && a.own.Own != nil {
		a.editor.Head("id", o.id)
	}
	return nil
}

func (a *adapting) forgetTarget(p *adaptation.Places, stage, name string) bool {
	if stage != "" {
		return a.editor.ForgetTarget(stage, name)
	}
	found := false
	for _, at := range p.Targets[name] {
		found = a.editor.ForgetTarget(at.Stage, name) || found
	}
	return found
}

// target sets a target wherever the recipe sets it, or at the stage named.
func (a *adapting) target(p *adaptation.Places, s string) error {
	left, value, ok := strings.Cut(s, "=")
	value = strings.TrimSpace(value)
	if !ok || value == "" {
		return hinted{usagef("adapt: --target %q", diagnostic.Clean(s)), `write --target "gouge.centre = 1.28 ± 0.03 mm", or --target "wires: wire.first = 27 ± 0.5 mm"`}
	}
	stage, name, staged := strings.Cut(left, ":")
	if !staged {
		stage, name = "", left
	}
	stage, name = strings.TrimSpace(stage), strings.TrimSpace(name)
	was := "± 0.5 mm"
	if places := p.Targets[name]; len(places) > 0 {
		was = places[0].Text
	}
	if err := readable(value, was, false); err != nil {
		return hinted{usagef("adapt: --target %q: %w", diagnostic.Clean(s), err), "nothing was written"}
	}
	if staged {
		if err := knownStage(p, stage); err != nil {
			return err
		}
		a.editor.Target(stage, name, value, a.o.why)
		return nil
	}
	places := p.Targets[name]
	if len(places) == 0 {
		return hinted{usagef("adapt: the recipe has no target %q", diagnostic.Clean(name)), nearOr(name, p.Names, "its targets are ") + `; to give a stage a new one: --target "STAGE: NAME = TOLERANCE"`}
	}
	for _, at := range places[1:] {
		if at.Text != places[0].Text {
			var all []string
			for _, at := range places {
				where := at.Stage
				if where == "" {
					where = "the whole recipe"
				}
				all = append(all, where+" ("+at.Text+")")
			}
			return hinted{usagef("adapt: %s has several targets: %s", name, diagnostic.Clean(strings.Join(all, ", "))), `say which: --target "STAGE: ` + name + ` = ` + diagnostic.Clean(value) + `"`}
		}
	}
	for _, at := range places {
		a.editor.Target(at.Stage, name, value, a.o.why)
	}
	return nil
}

func knownStage(p *adaptation.Places, stage string) error {
	if stage = strings.TrimSpace(stage); slices.Contains(p.Stages, stage) {
		return nil
	}
	return hinted{usagef("adapt: the recipe has no stage %q", diagnostic.Clean(stage)), nearOr(stage, p.Stages, "its stages are ")}
}

func nearOr(word string, known []string, list string) string {
	if n := diagnostic.Near(word, known); n != "" {
		return "did you mean " + diagnostic.Clean(n) + "?"
	}
	if len(known) == 0 {
		return "it has none"
	}
	return list + diagnostic.Clean(strings.Join(known, ", "))
}

// splitMove reads "ream after cut the tip"; a name may hold "after" itself.
func splitMove(p *adaptation.Places, m string) (stage, where, anchor string, ok bool) {
	for _, w := range []string{"after", "before"} {
		for rest, from := m, 0; ; {
			i := strings.Index(rest[from:], " "+w+" ")
			if i < 0 {
				break
			}
			i += from
			a, b := strings.TrimSpace(rest[:i]), strings.TrimSpace(rest[i+len(w)+2:])
			if slices.Contains(p.Stages, a) && slices.Contains(p.Stages, b) && a != b {
				return a, w, b, true
			}
			from = i + 1
		}
	}
	return "", "", "", false
}
