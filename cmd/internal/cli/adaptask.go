package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"canewright/engine/adaptation"
	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// asked goes through the settings and the targets, one question at a time.
func (a *adapting) asked(ctx context.Context, p *adaptation.Places, b *recipe.Bound) error {
	c := a.c
	in := c.asker()
	help := "Enter leaves a number as it is. Inches, fractions and thousandths are fine: 0.571 in, 1 1/16 ± 1/64 in; +- is as good as ±. - goes one question back; done ends here and keeps what you changed. Stages are left out afterwards: canewright adapt --help."
	c.wrap("", help)
	type question struct{ stage, name, was, why string }
	var all []question
	for _, n := range p.Settings {
		all = append(all, question{"", n, p.Values[n], p.Whys[n]})
	}
	settings := len(all)
	for _, n := range p.Names {
		for _, at := range p.Targets[n] {
			// One question where the recipe sets one number in several places.
			if at.Grid || sameBefore(p.Targets[n], at) {
				continue
			}
			all = append(all, question{at.Stage, n, at.Text, ""})
		}
	}
	mine := a.mine()
	for i := 0; i < len(all); i++ {
		q := all[i]
		c.printf("\n")
		c.wrap("", diagnostic.Clean(strings.TrimPrefix(q.stage+": "+named(b, q.name), ": ")))
		line := q.was + inMillimetres(q.was)
		if q.why != "" {
			line += "; " + q.why
		}
		c.wrap("  ", diagnostic.Clean(line))
		if m := mine[[2]string{q.stage, q.name}]; m != "" && m != q.was {
			c.wrap("  ", diagnostic.Clean("so far yours: "+m+inMillimetres(m)+"; Enter keeps it"))
		}
		c.printf("yours: ")
		text, err := in.shown(ctx)
		switch {
		case errors.Is(err, errAtQuestion):
			return err
		case err != nil, text == "done":
			c.printf("\n")
			return nil
		case text == "-":
			i = max(i-2, -1)
			continue
		case text == "?":
			c.wrap("", help)
			i--
			continue
		case text == "":
			continue
		}
		if err := readable(text, q.was, i < settings); err != nil {
			c.wrap("", err.Error())
			i--
			continue
		}
		if also := inMillimetres(text); also != "" {
			c.wrap("  ", diagnostic.Clean(strings.Trim(also, " ()")))
		}
		c.printf("why? ")
		why, err := in.shown(ctx)
		if errors.Is(err, errAtQuestion) {
			return err
		}
		if why == "-" {
			i-- // the same question once more
			continue
		}
		mine[[2]string{q.stage, q.name}] = text
		if i < settings {
			a.editor.Setting(q.name, text, why)
		} else {
			for _, at := range p.Targets[q.name] {
				if at.Text == q.was {
					a.editor.Target(at.Stage, q.name, text, why)
				}
			}
		}
		if err != nil {
			c.printf("\n")
			return nil
		}
	}
	return nil
}

// named is a dimension in its own words, with where it is counted from.
func named(b *recipe.Bound, name string) string {
	if b.Set == nil {
		return name
	}
	d, ok := b.Set.Find(name)
	if !ok {
		return name
	}
	s := d.Title
	if d.Datum != "" {
		s += ", from " + d.Datum
	}
	return s + " (" + name + ")"
}

// sameBefore reports that an earlier place has the same number.
func sameBefore(all []adaptation.Place, at adaptation.Place) bool {
	for _, b := range all {
		if b == at {
			return false
		}
		if b.Text == at.Text {
			return true
		}
	}
	return false
}

// mine are the settings and targets that differ in the version at hand, by
// stage and name.
func (a *adapting) mine() map[[2]string]string {
	out := map[[2]string]string{}
	if a.own.Own == nil {
		return out
	}
	for _, d := range a.own.Own.Differences(a.own.Origin, a.own.Whole) {
		if d.Kind == adaptation.SettingDiffers || d.Kind == adaptation.TargetDiffers {
			out[[2]string{d.Stage, d.Name}] = d.Now
		}
	}
	return out
}

// readable refuses at once what is neither a number nor a tolerance. What was is
// written in another way, as rows of stations are, is left to the recipe.
func readable(text, was string, setting bool) error {
	if setting {
		if _, err := quantity.ParseAny(was, quantity.Style{}); err != nil {
			return nil
		}
		_, err := quantity.ParseAny(text, quantity.Style{})
		return err
	}
	if _, err := quantity.ParseAnyTolerance(was); err != nil {
		return nil
	}
	_, err := quantity.ParseAnyTolerance(text)
	if err == nil {
		return nil
	}
	// A number alone: say how to write it with the tolerance there is.
	if _, bare := quantity.ParseAny(text, quantity.Style{}); bare == nil {
		for _, sign := range []string{"±", "+"} {
			if i := strings.Index(was, sign); i > 0 {
				return fmt.Errorf("%w; with the tolerance there is: %s %s", err, text, was[i:])
			}
		}
	}
	return err
}

// inMillimetres is a length in inches once more in mm, in brackets; "" for
// anything else.
func inMillimetres(text string) string {
	if !strings.Contains(text, "in") && !strings.Contains(text, "thou") && !strings.Contains(text, `"`) {
		return ""
	}
	mm := quantity.Main(quantity.Length)
	if e, err := quantity.ParseAny(text, quantity.Style{}); err == nil && e.Value.Kind == quantity.Length {
		return " (" + quantity.Format(e.Value, mm, micrometre) + ")"
	}
	t, err := quantity.ParseAnyTolerance(text)
	if err != nil || t.Kind != quantity.Length {
		return ""
	}
	number := func(b quantity.Bound) string {
		return quantity.Format(quantity.Value{Kind: t.Kind, Q: b.Q}, mm, micrometre)
	}
	switch {
	case t.Low.Set && t.High.Set:
		return " (" + number(t.Low) + " to " + number(t.High) + ")"
	case t.Low.Set:
		return " (at least " + number(t.Low) + ")"
	case t.High.Set:
		return " (at most " + number(t.High) + ")"
	}
	return ""
}

// micrometre in nm: finer than any tool at the bench reads. What is judged is
// exact.
const micrometre = 1000
