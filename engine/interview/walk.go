package interview

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
)

// walk goes through the questions with the answers there are, and stops at the
// first that has none, or whose answer is refused.
type walk struct {
	iv      *Interview
	left    []string
	sheet   *sheet
	usual   Usual
	said    []string
	where   string
	pending *Question
	refused error
	meant   string // the last answer in words, where it was a number from a list
}

func (iv *Interview) walk(lines []string) *walk {
	w := &walk{iv: iv, left: lines, sheet: &sheet{}}
	w.run()
	return w
}

func (w *walk) run() {
	if !w.instrument() || !w.head() || !w.stages() {
		return
	}
	for i, st := range w.sheet.stages {
		w.where = fmt.Sprintf("stage %d of %d: %s", i+1, len(w.sheet.stages), st.name)
		if !w.stage(st) {
			return
		}
	}
	w.where = ""
	w.lines("Anything else on the sheet? A line each.", "nothing more", &w.sheet.remarks, nil)
}

// ask gives the next answer to take; false when there is none, or take refuses
// it.
func (w *walk) ask(q Question, take func(line string) error) bool {
	q.Where = w.where
	q.Said, w.said = w.said, nil
	if len(w.left) == 0 {
		w.pending = &q
		return false
	}
	line := w.left[0]
	w.left, w.meant = w.left[1:], ""
	if err := take(line); err != nil {
		w.refused, w.pending = err, &q
		return false
	}
	return true
}

func (w *walk) say(format string, a ...any) { w.said = append(w.said, fmt.Sprintf(format, a...)) }

// mostOfOne: so many lines, stages or numbers stand on no sheet.
const mostOfOne = 40

// lines takes a line after another until an empty one.
func (w *walk) lines(prompt, enter string, into *[]string, check func(string) error) bool {
	for len(*into) < mostOfOne {
		done := false
		q := Question{Prompt: prompt, Enter: enter}
		if len(*into) > 0 {
			q.Prompt, q.Enter = "And then?", "that is all"
		}
		if !w.ask(q, func(line string) error {
			if line == "" {
				done = true
				return nil
			}
			if check != nil {
				if err := check(line); err != nil {
					return err
				}
			}
			*into = append(*into, line)
			return nil
		}) {
			return false
		}
		if done {
			break
		}
	}
	return true
}

func (w *walk) instrument() bool {
	q := Question{Prompt: "Which instrument is it for?"}
	for _, in := range w.iv.Instruments {
		q.Offers = append(q.Offers, in.ID+": "+in.Title)
	}
	return w.ask(q, func(line string) error {
		at := -1
		if n, err := strconv.Atoi(line); err == nil && n >= 1 && n <= len(w.iv.Instruments) {
			at = n - 1
		}
		low := strings.ToLower(line)
		var names []string
		for i, in := range w.iv.Instruments {
			if names = append(names, in.ID); in.ID == strings.ReplaceAll(low, " ", "-") || strings.ToLower(in.Title) == low {
				at = i
			}
		}
		if at < 0 {
			hint := "type one of the numbers or names"
			if n := diagnostic.Near(low, names); n != "" && line != "" {
				hint = "did you mean " + n + "?"
			}
			return refuse(hint, "there is no such instrument here")
		}
		in := w.iv.Instruments[at]
		w.meant = in.ID
		set, err := w.iv.Set(in.ID, in.Major)
		if err != nil {
			return refuse("choose another, or look with: canewright instruments "+in.ID, err.Error())
		}
		w.sheet.instrument, w.sheet.set = in, set
		if w.iv.Usual != nil {
			w.usual = w.iv.Usual(in.ID)
		}
		return nil
	})
}

func (w *walk) head() bool {
	s := w.sheet
	return w.ask(Question{Prompt: "What is the sheet called?", Enter: "leaves it open"}, func(line string) error {
		s.title, s.noTitle = line, line == ""
		return nil
	}) && w.ask(Question{Prompt: "Whose sheet is it? A word of credit.", Enter: "nobody is named"}, func(line string) error {
		s.credit = line
		return nil
	})
}

func (w *walk) stages() bool {
	q := Question{
		Prompt: "Which stages are on it, in order? Numbers from the list or the sheet's own words, with commas between: 1, 3-5, wind the thread",
		Enter:  "leaves it open",
	}
	for _, u := range w.usual.Stages {
		q.Offers = append(q.Offers, u.Name)
	}
	return w.ask(q, func(line string) error {
		names, err := w.chosen(line, q.Offers)
		if err != nil {
			return err
		}
		w.inWords(names)
		if len(names) > mostOfOne {
			return refuse("take the ones you want to be asked about; more can be written in the file", "these are very many stages")
		}
		for _, n := range names {
			if utf8.RuneCountInString(n) > 60 {
				return refuse("a few words will do; what is done there is asked next", "the name of this stage is too long")
			}
			st := &stage{name: n}
			if u, ok := w.usual.stage(n); ok {
				st.batch = u.Batch
			}
			w.sheet.stages = append(w.sheet.stages, st)
		}
		if len(names) == 0 {
			w.sheet.noStages = true
			w.sheet.stages = []*stage{{name: noStage}}
		}
		return nil
	})
}

const noStage = "work from the sheet"

// chosen are the words and numbers of a line, with what the numbers stand for.
func (w *walk) chosen(line string, offers []string) ([]string, error) {
	var out []string
	for _, part := range strings.Split(line, ",") {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		of, err := w.offered(part, offers)
		if err != nil {
			return nil, err
		}
		if of == nil {
			of = []string{part}
		}
		out = append(out, of...)
	}
	return out, nil
}

// inWords keeps an answer in words: lists may be other ones when it is read
// again. Words that would be read otherwise are left as they were typed.
func (w *walk) inWords(words []string) {
	for _, s := range words {
		if _, err := strconv.Atoi(strings.SplitN(s, "-", 2)[0]); err == nil || strings.Contains(s, ",") {
			return
		}
	}
	w.meant = strings.Join(words, ", ")
}

// offered are the offers that a number, or a range of numbers, stands for; nil
// for words.
func (w *walk) offered(part string, offers []string) ([]string, error) {
	a, b, isRange := strings.Cut(strings.ReplaceAll(part, "–", "-"), "-")
	from, err := strconv.Atoi(strings.TrimSpace(a))
	if err != nil {
		return nil, nil
	}
	to := from
	if isRange {
		if to, err = strconv.Atoi(strings.TrimSpace(b)); err != nil {
			return nil, nil
		}
	}
	if from < 1 || to > len(offers) || from > to {
		if len(offers) == 0 {
			return nil, refuse("write the name", "there is no list to take a number from here")
		}
		return nil, refuse(fmt.Sprintf("the list goes from 1 to %d", len(offers)), fmt.Sprintf("%s is not in the list", part))
	}
	return offers[from-1 : to], nil
}

func (w *walk) stage(st *stage) bool {
	return w.tools(st) &&
		w.lines("What does the sheet say to do here? A line each.", "nothing", &st.do, braces) &&
		w.numbers(st) && w.conditionOf(st) && w.waitOf(st)
}

func (w *walk) tools(st *stage) bool {
	u, _ := w.usual.stage(st.name)
	q := Question{Prompt: "Which tools and materials does it name? Numbers or words, with commas between.", Offers: slices.Concat(u.Tools, u.Materials), Enter: "none"}
	if len(q.Offers) > 0 {
		q.Enter = "leaves it open (none: it needs none)"
	}
	return w.ask(q, func(line string) error {
		if line == "" && len(q.Offers) > 0 {
			st.asked = "which tools and materials? others take " + strings.Join(q.Offers, ", ")
		}
		if line == "" || strings.EqualFold(line, "none") {
			return nil
		}
		words, err := w.chosen(line, q.Offers)
		if err != nil {
			return err
		}
		w.inWords(words)
		for _, c := range words {
			if err := w.tool(st, c); err != nil {
				return err
			}
		}
		if len(st.tools)+len(st.materials) > mostOfOne {
			return refuse("name those that are laid out for it", "these are very many tools")
		}
		return nil
	})
}

// tool sorts a word among the tools or the materials. The recipe's safety
// notes follow these words, so one that is nearly known is asked about.
func (w *walk) tool(st *stage, word string) error {
	if t, ok := w.iv.Tools.Tool(word); ok {
		if !slices.Contains(st.tools, t.Name) {
			st.tools = append(st.tools, t.Name)
		}
		return nil
	}
	if m, ok := w.iv.Tools.Material(word); ok {
		if !slices.Contains(st.materials, m.Name) {
			st.materials = append(st.materials, m.Name)
		}
		return nil
	}
	low := strings.ToLower(word)
	near := diagnostic.Near(low, w.iv.Tools.ToolNames())
	if near == "" {
		near = diagnostic.Near(low, w.iv.Tools.MaterialNames())
	}
	if near != "" {
		return refuse("did you mean "+near+"?", strconv.Quote(word)+" is not quite a tool or material known here")
	}
	if !slices.Contains(st.tools, word) {
		st.tools = append(st.tools, word)
		w.say("%q is in no list here; at the bench the note for unknown tools is shown before it.", word)
	}
	return nil
}

func (w *walk) conditionOf(st *stage) bool {
	want, matters := false, false
	for _, n := range st.numbers {
		matters = matters || recipe.Swells(n.dim)
		want = want || n.dim.Subject != "batch"
	}
	if !want {
		return true
	}
	q := Question{Prompt: "Is the cane wet or dry when it is measured here?", Offers: []string{"wet", "dry"}, Enter: "the sheet does not say"}
	return w.ask(q, func(line string) error {
		c, err := wetOrDry(line)
		st.condition, st.wetOrDry = c, c == "" && matters
		return err
	})
}

func wetOrDry(line string) (string, error) {
	switch strings.ToLower(line) {
	case "":
		return "", nil
	case "1", "wet":
		return "wet", nil
	case "2", "dry":
		return "dry", nil
	}
	return "", refuse("type wet or dry, or Enter", "cane is wet or dry")
}

func (w *walk) waitOf(st *stage) bool {
	q := Question{Prompt: "Is there a wait after it? How long, or until when: 2 h, overnight, 2 to 3 weeks, until it sinks", Enter: "no wait"}
	if !w.ask(q, func(line string) error {
		if line == "" {
			return nil
		}
		wt, err := takeWait(line)
		st.wait = wt
		return err
	}) {
		return false
	}
	if st.wait == nil {
		return true
	}
	return w.ask(Question{Prompt: "Is the cane wet or dry after that?", Offers: []string{"wet", "dry"}, Enter: "as it was before"}, func(line string) error {
		c, err := wetOrDry(line)
		st.becomes = c
		return err
	})
}
