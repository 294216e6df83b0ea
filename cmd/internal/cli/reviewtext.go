package cli

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"
	"time"

	"canewright/engine/quantity"
	"canewright/engine/review"
)

// reviewPrinter writes a review in words; ruled leaves lines for remarks.
type reviewPrinter struct {
	c     *commander
	ruled bool
}

func (p reviewPrinter) print(r *reviewed) {
	c := p.c
	c.clean("", r.Batch+": "+r.Title)
	by := ""
	if r.Author != "" {
		by = ", by " + r.Author
	}
	c.clean("", fmt.Sprintf("recipe %s, version %d%s, sha256 %s", r.Recipe, r.Version, by, r.Digest[:16]))
	switch {
	case r.Own != nil && r.Own.Same:
		c.clean("", "It is your recipe "+r.Own.Name+", word for word.")
	case r.Own != nil:
		c.clean("", "It is not your "+r.Own.Name+":")
		for _, d := range r.Own.Different {
			c.clean("  - ", d)
		}
	case r.Bundled != "":
		c.clean("", "It is the bundled "+r.Bundled+", word for word.")
	default:
		c.clean("", "It is none of the bundled recipes; --recipe compares it with yours.")
	}
	line := "begun " + stamp(r.Started, r.Zone)[:10] + ", last entry " + stamp(r.Last, r.Zone)[:10]
	if len(r.Who) > 0 {
		line += "; at the bench: " + strings.Join(r.Who, ", ")
	}
	c.clean("", line)
	p.rule()

	p.head("WHAT BECAME OF THE PIECES")
	for _, x := range r.Pieces {
		line := x.Kind + " " + x.Mark + ": " + placeOf(x) + ", " + stamp(x.Since, r.Zone)[:10]
		if x.Tube != "" {
			line += ", from tube " + x.Tube
		}
		if x.Why != "" {
			line += " (" + x.Why + ")"
		}
		c.clean("  ", line)
	}
	p.rule()

	p.deviations(r)
	p.left(r)
	p.waits(r)
	p.judged(r)
	p.tools(r)
	p.rules(r)
	p.corrected(r)
	p.notes(r)
}

func (p reviewPrinter) head(words string) { p.c.printf("\n%s\n", words) }

// rule leaves a line for a remark, in the printed form.
func (p reviewPrinter) rule() {
	if p.ruled {
		const lead = "Remark: "
		p.c.printf("\n%s%s\n", lead, strings.Repeat("_", p.c.sys.Width-len(lead)))
	}
}

// none says that a section is empty, in one line.
func (p reviewPrinter) none(n int, words string) bool {
	if n == 0 {
		p.c.wrap("  ", words)
	}
	return n == 0
}

func (p reviewPrinter) deviations(r *reviewed) {
	p.head("LARGEST DEVIATIONS")
	c := p.c
	c.wrap("  ", fmt.Sprintf("%s against a target, %d outside. Counted in half-widths of the tolerance: 1 is the limit.", count(r.Judged, "reading"), r.Outside))
	for i, d := range r.Deviations {
		read := strings.Join(d.Readings, "; ")
		if d.Mean != "" {
			read += " (mean " + d.Mean + ")"
		}
		c.clean(fmt.Sprintf("  %d. ", i+1), subjects(d.Subjects)+", "+d.Stage+visit(d.Visit)+": "+d.Title+" "+read)
		words := d.Word
		switch {
		case d.OnLimit:
			words = "on the limit, which is inside"
		case !d.Said:
		case d.Sure:
			words += ", sure"
		default:
			words += ", unsure"
		}
		c.clean("     ", "target "+d.Target+"; "+halves(d.Halves)+" half-widths off; "+words)
		if len(d.Typed) > 0 {
			c.clean("     ", "typed at first: "+strings.Join(d.Typed, "; "))
		}
		p.rule()
	}
	if len(r.Deviations) == 0 {
		p.rule()
	}
}

// halves is a deviation to a tenth, or to a hundredth below 2: the limit is 1.
func halves(x float64) string {
	switch {
	case x < 2:
		return strconv.FormatFloat(x, 'f', 2, 64)
	case x < 1e4:
		return strconv.FormatFloat(x, 'f', 1, 64)
	}
	return strconv.FormatFloat(x, 'g', 3, 64)
}

func (p reviewPrinter) left(r *reviewed) {
	p.head("LEFT OUT, OR NOT REACHED")
	if p.none(len(r.LeftOut)+len(r.NotReached)+len(r.Before), "Nothing.") {
		p.rule()
		return
	}
	for _, l := range r.LeftOut {
		what := "the work"
		switch l.What {
		case "measurement":
			what = l.Title
		case "look":
			what = "the look"
		}
		p.c.clean("  - ", l.Stage+": "+what+" left out, "+subjects(l.Subjects)+reason(l.Why))
	}
	for _, a := range r.Before {
		p.c.clean("  - ", subjects(a.Subjects)+": taken up at "+a.Stage+"; "+count(a.Stages, "stage")+" before it were not done here")
	}
	for _, a := range r.NotReached {
		p.c.clean("  - ", subjects(a.Subjects)+" ("+a.Place+"): "+a.Stage+" and what follows not reached, "+count(a.Stages, "stage"))
	}
	p.rule()
}

func (p reviewPrinter) waits(r *reviewed) {
	p.head("WAITS CUT SHORT")
	if !p.none(len(r.Waits), "None.") {
		for _, w := range r.Waits {
			words := "cut short"
			if !w.AtLeast {
				words = "shorter than usual"
			}
			p.c.clean("  - ", w.Stage+", "+subjects(w.Subjects)+": "+words+", "+span(w.Took)+" ("+w.Asked+"); "+span(w.Short+minute-1)+" less"+cmp.Or(reason(w.Why), "; no reason given"))
		}
	}
	p.rule()
}

func (p reviewPrinter) judged(r *reviewed) {
	p.head("UNSURE READINGS ACCEPTED")
	if !p.none(len(r.Unsure), "None.") {
		for _, u := range r.Unsure {
			words := "let stand"
			if u.Passed {
				words = "taken as right"
			}
			if u.Side != "" {
				words += "; it was " + u.Side
			}
			line := u.Stage + ", " + subjects(u.Subjects) + ": " + u.Title + " " + strings.Join(u.Readings, "; ")
			if u.Target != "" {
				line += ", target " + u.Target
			}
			p.c.clean("  - ", line+": "+words)
		}
	}
	p.rule()
}

func (p reviewPrinter) tools(r *reviewed) {
	p.head("OTHER TOOLS, WET OR DRY")
	if !p.none(len(r.Other)+len(r.Wet), "As the recipe has it.") {
		for _, o := range r.Other {
			line := o.Stage + ", " + subjects(o.Subjects) + ": " + o.Used
			if o.Instead != "" {
				line += " instead of " + o.Instead
			} else {
				line += " besides"
			}
			if o.Title != "" {
				line += " for " + o.Title + ", " + count(o.Readings, "reading")
			}
			if o.Unknown {
				line += "; not known here, so no note could be chosen for it"
			}
			p.c.clean("  - ", line)
		}
		for _, w := range r.Wet {
			p.c.clean("  - ", w.Stage+", "+subjects(w.Subjects)+": "+w.Title+" read "+w.Was+", "+w.Asked+" is asked; "+count(w.Readings, "reading"))
		}
	}
	p.rule()
}

func (p reviewPrinter) rules(r *reviewed) {
	p.head("RULES THAT DID NOT HOLD, OR WERE LEFT OPEN")
	p.none(len(r.Rules), "None.")
	for _, x := range r.Rules {
		line := x.Stage + ", " + subjects(x.Subjects) + ": " + x.That
		if len(x.With) > 0 {
			line += " (" + strings.Join(x.With, ", ") + ")"
		}
		p.c.clean("  - ", line)
		if x.NotJudged {
			p.c.clean("    ", x.Said)
			continue
		}
		p.c.clean("    ", "then: "+x.Then)
	}
	if r.NotJudged > 0 {
		p.c.wrap("  ", count(r.NotJudged, "rule")+" could not be judged: something was not measured.")
	}
	p.rule()
}

func (p reviewPrinter) corrected(r *reviewed) {
	p.head("CORRECTED, AND TAKEN BACK")
	p.c.wrap("  ", count(len(r.Corrected), "correction")+", "+count(r.TakenBack, "answer")+" taken back.")
	for _, x := range r.Corrected {
		p.c.clean("  - ", x.Stage+", "+subjects(x.Subjects)+": "+x.Title+" "+x.Was+" is "+x.Now)
		for _, ch := range x.Changes {
			p.c.clean("    ", ch)
		}
	}
	p.rule()
}

func (p reviewPrinter) notes(r *reviewed) {
	p.head("SAFETY NOTES ANSWERED")
	if !p.none(len(r.Notes), "None came up.") {
		for _, n := range r.Notes {
			line := n.Signal + " " + n.ID
			if t := r.titles[n.ID]; t != "" {
				line += ", " + t
			}
			p.c.clean("  - ", line+": answered "+times(n.Times)+": "+strings.Join(n.Answers, " / "))
		}
	}
	p.rule()
	if len(r.Remarks) > 0 {
		p.head("WRITTEN DOWN AT THE BENCH")
		for _, x := range r.Remarks {
			line := x.Text
			if len(x.Marks) > 0 {
				line = subjects(x.Subjects) + ": " + line
			}
			if x.Stage != "" {
				line = x.Stage + ", " + line
			}
			p.c.clean("  - ", line)
		}
		p.rule()
	}
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return strconv.Itoa(n) + " times"
}

func reason(why string) string {
	if why == "" {
		return ""
	}
	return "; reason given: " + why
}

func visit(n int) string {
	if n < 2 {
		return ""
	}
	return " (visit " + strconv.Itoa(n) + ")"
}

const minute = int64(time.Minute / time.Millisecond)

// span is a time in its largest parts, whole ones: what is begun does not count.
func span(ms int64) string {
	step := minute
	switch {
	case ms < step:
		return "under a minute"
	case ms >= int64(24*time.Hour/time.Millisecond):
		step *= 60
	}
	return quantity.Format(quantity.Value{Kind: quantity.Time, Q: ms - ms%step}, quantity.Unit{}, step)
}

// subjects names pieces: "piece 3", "pieces 1-4, 7", "tube A".
func subjects(s review.Subjects) string {
	switch len(s.Marks) {
	case 0:
		return "the batch"
	case 1:
		return s.Kind + " " + s.Marks[0]
	}
	var runs []string
	for i := 0; i < len(s.Marks); {
		j := i
		for j+1 < len(s.Marks) && follows1(s.Marks[j], s.Marks[j+1]) {
			j++
		}
		switch {
		case j > i+1:
			runs = append(runs, s.Marks[i]+"-"+s.Marks[j])
		default:
			runs = append(runs, s.Marks[i:j+1]...)
		}
		i = j + 1
	}
	return s.Kind + "s " + strings.Join(runs, ", ")
}

// follows1 reports that b is the number after a.
func follows1(a, b string) bool {
	x, err1 := strconv.Atoi(a)
	y, err2 := strconv.Atoi(b)
	return err1 == nil && err2 == nil && y == x+1 && strconv.Itoa(x) == a
}
