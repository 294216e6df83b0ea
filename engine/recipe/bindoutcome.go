package recipe

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

var (
	atMostForm = regexp.MustCompile(`^([1-9][0-9]?) +times?$`)
	oneInForm  = regexp.MustCompile(`^1 piece in ([1-9][0-9]?)$`)
)

const outcomeWords = "going on, once more, set aside, resting, thrown away, or go back to an earlier stage"

// outcome resolves what follows; nil means going on.
func (b *binder) outcome(o *outcome) Outcome {
	if o == nil {
		return Outcome{How: GoingOn}
	}
	out := Outcome{Do: b.text(o.do), Because: b.text(o.because)}
	if o.backTo.Value != "" {
		out.How = BackTo
		out.To = b.earlier(o.backTo)
		m := atMostForm.FindStringSubmatch(o.atMost.Value)
		switch {
		case o.atMost.Value == "" || o.then == nil:
			b.list.Hinted("recipe/way-back", o.place, "write {go back to: "+clip(o.backTo.Value)+", at most: 3 times, then: set aside}",
				"a way back needs at most and then, or a piece could go round for ever")
			return Outcome{How: GoingOn}
		case m == nil:
			b.list.Hinted("recipe/way-back", o.atMost.Whole, "write at most: 3 times", "%q does not say how often", clip(o.atMost.Value))
		default:
			out.AtMost, _ = strconv.Atoi(m[1])
		}
		then := b.outcome(o.then)
		if then.How == BackTo {
			b.list.Hinted("recipe/way-back", o.then.place, "after the last time write set aside, thrown away or going on", "a way back cannot end in another way back")
		}
		out.Then = &then
		return out
	}
	switch How(o.word.Value) {
	case GoingOn, OnceMore, Resting, SetAside, ThrownAway:
		out.How = How(o.word.Value)
		return out
	}
	out.How = GoingOn
	if o.word.Value == "" {
		return out
	}
	if rest, ok := strings.CutPrefix(o.word.Value, "go back to "); ok {
		b.list.Hinted("recipe/way-back", o.word.Whole, "write {go back to: "+clip(rest)+", at most: 3 times, then: set aside}",
			"a way back needs at most and then, or a piece could go round for ever")
		return out
	}
	hint := "what can follow: " + outcomeWords
	if n := diagnostic.Near(o.word.Value, []string{string(GoingOn), string(OnceMore), string(Resting), string(SetAside), string(ThrownAway)}); n != "" {
		hint = "did you mean " + n + "?"
	}
	if n, ok := saidOtherwise(o.word.Value); ok {
		hint = "did you mean " + string(n) + "?"
	}
	b.list.Hinted("recipe/outcome", o.word.Whole, hint, "%q is nothing that can follow", clip(o.word.Value))
	return out
}

// saidOtherwise knows what else a maker may call what follows.
func saidOtherwise(word string) (How, bool) {
	switch word {
	case "go on", "ok", "next", "pass", "continue":
		return GoingOn, true
	case "again", "repeat", "redo", "once again", "one more":
		return OnceMore, true
	case "rest", "wait":
		return Resting, true
	case "aside", "put aside", "keep":
		return SetAside, true
	case "throw away", "discard", "scrap", "bin":
		return ThrownAway, true
	}
	return "", false
}

// earlier finds the nearest earlier stage of a name.
func (b *binder) earlier(t diagnostic.Text) int {
	all := b.namedAt[t.Value]
	if n, _ := slices.BinarySearch(all, b.at); n > 0 {
		return all[n-1]
	}
	if len(all) > 0 {
		b.list.Hinted("recipe/way-back", t.Whole, "a way back leads to an earlier stage; to repeat this one write once more", "%q does not come before this stage", clip(t.Value))
		return 0
	}
	if len(b.namedAt) == 0 { // a target of the whole recipe
		b.list.Hinted("recipe/way-back", t.Whole, "write the target, with its way back, at the stage that measures it", "a target of the whole recipe cannot lead back to a stage")
		return 0
	}
	b.list.Hinted("recipe/unknown-stage", t.Whole, b.nearStage(t.Value), "there is no stage %q", clip(t.Value))
	return 0
}

func (b *binder) nearStage(name string) string {
	if b.list.Len() > mostHints {
		return ""
	}
	if n := b.near(name, len(b.flat), b.stageNames); n != "" {
		return "did you mean " + n + "?"
	}
	return "write the name as it stands after stage:"
}

func (b *binder) each(t diagnostic.Text) Each {
	switch t.Value {
	case "", "each piece":
		return Each{}
	case "the batch":
		return Each{Batch: true}
	case "the first piece":
		return Each{First: true}
	case "each tube":
		return Each{}
	}
	if m := oneInForm.FindStringSubmatch(t.Value); m != nil {
		n, _ := strconv.Atoi(m[1])
		return Each{Every: n}
	}
	b.list.Hinted("recipe/for", t.Whole, "write each tube, each piece, the batch, the first piece, or 1 piece in 4", "%q does not say whom this is for", clip(t.Value))
	return Each{}
}

// into reads how many pieces a tube is split into; 0 where the stage is no
// split.
func (b *binder) into(t diagnostic.Text) int {
	if t.Value == "" {
		return 0
	}
	n, err := strconv.Atoi(strings.TrimSuffix(strings.TrimSuffix(t.Value, " pieces"), " piece"))
	if err != nil || n < 1 || n > MostPerTube {
		b.list.Hinted("recipe/number", t.Whole, fmt.Sprintf("write how many, 1 to %d: into: 4 pieces", MostPerTube), "%q is not a number of pieces", clip(t.Value))
		return 1
	}
	return n
}

func (b *binder) wait(w *wait) *Wait {
	if w == nil {
		return nil
	}
	out := &Wait{Until: b.text(w.until), Because: b.text(w.because)}
	read := func(t diagnostic.Text, has bool, ms *int64, text *string) {
		if !has {
			return
		}
		*text = t.Value
		if t.Value == "overnight" {
			*ms = Overnight
			return
		}
		e, err := quantity.Parse(t.Value, quantity.Style{Want: quantity.Time})
		if err != nil {
			b.fault("recipe/wait", t, err, "write overnight, or a time: 3 h, 2 d, 1 h 30 min, 2 weeks")
			return
		}
		if e.Value.Q <= 0 {
			b.list.Hinted("recipe/wait", t.Whole, "leave the line out if there is nothing to wait for", "a wait is longer than nothing")
		}
		*ms = e.Value.Q
	}
	read(w.least, w.hasLeast, &out.Least, &out.LeastText)
	read(w.usual, w.hasUsual, &out.Usual, &out.UsualText)
	read(w.most, w.hasMost, &out.Most, &out.MostText)
	if !w.hasLeast && !w.hasUsual && !w.hasMost && out.Until == "" {
		b.list.Hinted("recipe/wait", w.place, "write usual: 2 d, at least: overnight, or until: it sinks", "this wait says neither how long nor until when")
	}
	if out.Least > 0 && out.Most > 0 && out.Least > out.Most || out.Usual > 0 && out.Most > 0 && out.Usual > out.Most || out.Usual > 0 && out.Least > out.Usual {
		b.list.Hinted("recipe/wait", w.place, "at least, usual and at most go from short to long", "the times of this wait are the wrong way round")
	}
	return out
}
