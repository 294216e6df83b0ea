package bench

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// mostRange keeps 1-999999999 from being written out.
const mostRange = 100_000

// addressed splits an answer into the pieces it names and the rest. It names
// pieces where it begins with all, all but 4 9, or marks: 7, 2 3, 2-5, each
// perhaps with a colon. marks is nil where it names none. Where a number could
// be a piece or a reading, what is plausible decides; where both are, the
// player is asked to write a colon.
func (s *State) addressed(f focus, text string) (marks []string, rest string, err error) {
	text = strings.TrimSpace(text)
	if text == "" || len(s.Pieces) == 0 || s.saidHere(f, text) {
		return nil, text, nil
	}
	if head, tail, ok := strings.Cut(text, ":"); ok {
		if m, left := s.leading(head); len(m) > 0 && left == "" {
			return m, strings.TrimSpace(tail), nil
		}
		if m, ok, err := s.everybody(f, head); ok || err != nil {
			return m, strings.TrimSpace(tail), err
		}
	}
	if f.stage < 0 || f.step == stepWork || f.step == stepWait || f.step == stepRest {
		if m, ok, err := s.everybody(f, text); ok || err != nil {
			return m, "", err
		}
	}
	if word, tail, _ := strings.Cut(text, " "); strings.EqualFold(word, "all") {
		tail = strings.TrimSpace(tail)
		if but, after, _ := strings.Cut(tail, " "); strings.EqualFold(but, "but") {
			not, left := s.leading(after)
			if left == "" && len(not) > 1 && (f.step == stepLook || f.step == stepInto) {
				not, left = not[:len(not)-1], not[len(not)-1] // all but 6 1: the last is the answer
			}
			if len(not) == 0 {
				return nil, "", refuse("Write them behind it: all but 4 9.", "All but which pieces?")
			}
			return s.except(f, not), left, nil
		}
		return s.except(f, nil), tail, nil
	}
	if f.stage < 0 {
		m, left := s.leading(text)
		return m, left, nil
	}
	if p := s.Piece(f.first()); p != nil && (f.step == stepMeasure || f.step == stepSettle) {
		return s.readingOrPiece(f, text)
	}
	m, left := s.leading(text)
	switch {
	case len(m) == 0:
		return nil, text, nil
	case f.step == stepLook && left == "":
		// 2 is the second answer; 7 2 is the second answer for piece 7.
		head, tail, _ := strings.Cut(text, " ")
		if len(m) == 1 || s.b.Stages[f.stage].Look.Several && strings.ContainsAny(head, ",;") {
			return nil, text, nil // 1, 3 are two answers
		}
		if one, none := s.leading(head); len(one) == 1 && none == "" {
			return one, strings.TrimSpace(tail), nil
		}
		return nil, text, nil
	case f.step == stepInto && left == "":
		if len(m) == 1 {
			return nil, text, nil // how many came out
		}
		head, tail, _ := strings.Cut(text, " ")
		one, _ := s.leading(head)
		return one, strings.TrimSpace(tail), nil
	}
	return m, left, nil
}

// saidHere reports whether a text is an answer of the look that is asked, word
// for word: "all of it" names no pieces there, and "dry" no cane.
func (s *State) saidHere(f focus, text string) bool {
	if f.stage < 0 || f.step != stepLook {
		return false
	}
	return slices.ContainsFunc(s.b.Stages[f.stage].Look.Answers, func(a recipe.Answer) bool {
		return strings.EqualFold(a.Word, strings.Join(strings.Fields(text), " "))
	})
}

// everybody reads "all" and "all but 4 9" with nothing behind it.
func (s *State) everybody(f focus, text string) (marks []string, ok bool, err error) {
	w := strings.Fields(text)
	switch {
	case len(w) == 0 || !strings.EqualFold(w[0], "all"):
		return nil, false, nil
	case len(w) == 1:
		return s.except(f, nil), true, nil
	case !strings.EqualFold(w[1], "but"):
		return nil, false, nil
	}
	not, left := s.leading(strings.Join(w[2:], " "))
	switch {
	case len(not) == 0:
		return nil, false, refuse("Write them behind it: all but 4 9.", "All but which pieces?")
	case left != "":
		return nil, false, nil
	}
	return s.except(f, not), true, nil
}

// except lists the pieces that are at the question of f, without some.
func (s *State) except(f focus, not []string) []string {
	out := []string{} // never nil: it names pieces, be there none
	for _, p := range s.Pieces {
		if f.stage >= 0 && s.isAt(p, f) && !slices.Contains(not, p.Mark) {
			out = append(out, p.Mark)
		}
	}
	return out
}

// isAt reports whether a piece is at the question of f.
func (s *State) isAt(p *Piece, f focus) bool {
	if !p.underWay() || p.Stage != f.stage {
		return false
	}
	st, m := s.stepOf(p)
	return st == f.step && m == f.measure
}

// leading takes marks from the beginning of a text: 7, 2 3, 2-5, "2, 3 and 4".
func (s *State) leading(text string) (marks []string, rest string) {
	rest = strings.TrimSpace(text)
	for rest != "" {
		word, tail, _ := strings.Cut(rest, " ")
		bare := strings.TrimRight(word, ",;")
		found := s.marked(bare)
		if len(bare) == 1 && s.Piece(bare) == nil && len(found) > 0 && !sayable(tail) {
			return marks, rest // an article, not tube A
		}
		if len(found) == 0 {
			if len(marks) > 0 && strings.EqualFold(word, "and") {
				if more, left := s.leading(tail); len(more) > 0 {
					return append(marks, more...), left
				}
			}
			return marks, rest
		}
		for _, m := range found {
			if !slices.Contains(marks, m) {
				marks = append(marks, m)
			}
		}
		rest = strings.TrimSpace(tail)
	}
	return marks, ""
}

// sayable: what stands behind a mark could be said of a piece.
func sayable(tail string) bool {
	tail = strings.TrimSpace(tail)
	return tail == "" || unicode.IsDigit([]rune(tail)[0]) || parseWords(tail).verb != "?"
}

// marked is the piece of a mark, or the pieces of a range of numbers.
func (s *State) marked(word string) []string {
	if p := s.byMark(word); p != nil {
		return []string{p.Mark}
	}
	from, to, ok := strings.Cut(word, "-")
	a, aerr := strconv.Atoi(from)
	b, berr := strconv.Atoi(to)
	if !ok || aerr != nil || berr != nil || b < a || b-a > mostRange {
		return nil
	}
	var out []string
	for n := a; n <= b; n++ {
		p := s.Piece(strconv.Itoa(n))
		if p == nil {
			return nil // 2-9, and there is no 9
		}
		out = append(out, p.Mark)
	}
	return out
}

// byMark finds a piece by its mark, capital or small.
func (s *State) byMark(word string) *Piece {
	if p := s.Piece(word); p != nil || word == "" {
		return p
	}
	if !strings.ContainsFunc(word, unicode.IsLetter) {
		return nil
	}
	for _, p := range s.Pieces {
		if strings.EqualFold(p.Mark, word) {
			return p
		}
	}
	return nil
}

// readingOrPiece tells "7 1.31", the reading of piece 7, from "1.31 1.30", two
// readings, and from "1 1/8", one.
func (s *State) readingOrPiece(f focus, text string) ([]string, string, error) {
	head, tail, more := strings.Cut(text, " ")
	m, _ := s.leading(head)
	slot := s.b.Slots[s.b.Stages[f.stage].Measures[f.measure].Slot]
	switch {
	case !more || strings.HasSuffix(head, ";"):
		return nil, text, nil // a single number is a reading, and so is what a ; parts
	case len(m) == 0 && onlyDigits(head) && credible(text, slot) && !alikeReadings(text, slot):
		return nil, "", refuse("If these are readings, put ; between them.", "There is no piece %s.", head)
	case len(m) == 0:
		return nil, text, nil
	}
	if len(s.Pieces) == 1 && credible(text, slot) {
		return nil, text, nil // nobody names the only piece
	}
	if w := parseWords(strings.TrimSpace(tail)); w.verb != "?" {
		return m, strings.TrimSpace(tail), nil
	}
	if all, left := s.leading(text); len(all) > 1 && left != "" && parseWords(left).verb != "?" {
		return all, left, nil // 2 3 skip
	}
	if !strings.ContainsFunc(head, unicode.IsDigit) {
		return m, strings.TrimSpace(tail), nil
	}
	whole, part := credible(text, slot), credible(tail, slot)
	switch {
	case whole && part && oneNumber(text, slot):
		return nil, "", refuse("For the piece write "+head+": "+strings.TrimSpace(tail)+" and for the one number "+head+"-"+strings.TrimSpace(tail)+".", "Is %s the piece, or part of the number?", head)
	case whole && part && alikeReadings(text, slot):
		return nil, "", refuse("For the piece write "+head+": "+strings.TrimSpace(tail)+" and for readings put ; between them.", "Is %s the piece, or a reading?", head)
	case whole && !part:
		return nil, text, nil
	}
	return m, strings.TrimSpace(tail), nil
}

// alikeReadings reports whether the first number of a text could be a reading
// of the same thing as the others: written to the same place and within a tenth
// of them. Nobody reads a count twice on one line.
func alikeReadings(text string, slot recipe.Slot) bool {
	line, _ := strings.CutSuffix(strings.TrimSpace(text), "!")
	if k := slot.Dimension.Kind; k == quantity.Count || k == quantity.Score {
		return false
	}
	all, err := quantity.ParseMany(line, quantity.Style{Want: slot.Dimension.Kind, Bare: slot.Dimension.Unit})
	if err != nil || len(all) == 0 {
		return false
	}
	if len(all) == 1 {
		return true // a whole number and a fraction are one number
	}
	first := all[0].Value.Q
	for _, e := range all[1:] {
		if e.Step != all[0].Step || abs(e.Value.Q-first) > abs(first)/10 {
			return false
		}
	}
	return true
}

// oneNumber reports whether a text is a whole number and a fraction: 1 7/8 in.
func oneNumber(text string, slot recipe.Slot) bool {
	line, _ := strings.CutSuffix(strings.TrimSpace(text), "!")
	all, err := quantity.ParseMany(line, quantity.Style{Want: slot.Dimension.Kind, Bare: slot.Dimension.Unit})
	return err == nil && len(all) == 1
}

func onlyDigits(s string) bool {
	return s != "" && !strings.ContainsFunc(s, func(r rune) bool { return r < '0' || r > '9' })
}

func abs(x int64) int64 { return max(x, -x) }

// credible reports whether a text is a reading, or some, that the hand can have
// meant.
func credible(text string, slot recipe.Slot) bool {
	line, _ := strings.CutSuffix(strings.TrimSpace(text), "!")
	all, err := quantity.ParseMany(line, quantity.Style{Want: slot.Dimension.Kind, Bare: slot.Dimension.Unit})
	if err != nil {
		return false
	}
	t := slot.Dimension.Plausible
	for _, e := range all {
		if t.Kind == slot.Dimension.Kind && t.Side(e.Value.Q) != quantity.Inside {
			return false
		}
	}
	return true
}

// turnTo narrows a focus to the pieces an answer names. They must be at one
// question, of the stage the screen shows; what the screen shows of their
// measurement may differ, and is said with the answer.
func (s *State) turnTo(f focus, marks []string, w words, later bool) (focus, error) {
	if len(marks) == 0 {
		return f, refuse("rack shows where each piece is.", "No piece is at this question.")
	}
	var out focus
	for i, m := range marks {
		p := s.Piece(m)
		if !p.underWay() && !(w.verb == "throw away" && p.Place == Aside) {
			return f, refuse(s.whatNow(p), "%s is %s.", upperFirst(s.called(p)), p.Place)
		}
		step, measure := s.stepOf(p)
		if i == 0 {
			out = focus{stage: p.Stage, step: step, measure: measure}
		}
		same := p.Stage == out.stage && step == out.step && measure == out.measure
		if !same && !w.anywhere() {
			return f, refuse("Answer for each by itself.", "%s and %s are at different questions.", upperFirst(s.called(s.Piece(marks[0]))), s.called(p))
		}
		out.pieces = append(out.pieces, p)
	}
	if w.verb == "go on" && (out.step == stepWait || out.step == stepRest) {
		return out, nil // a wait is no gate, wherever the screen stands
	}
	if later || f.stage < 0 {
		return out, nil // work is entered that was done without the screen
	}
	if out.stage != f.stage && !w.anywhere() {
		return f, refuse("Turn to it first: piece "+marks[0]+".", "%s is at %s.", upperFirst(s.called(out.pieces[0])), s.b.Stages[out.stage].Name)
	}
	if sort(out.step) != sort(f.step) && !w.anywhere() {
		return f, refuse("Turn to it first: piece "+marks[0]+".", "%s is asked something else: %s.", upperFirst(s.called(out.pieces[0])), s.asked(out))
	}
	return out, nil
}

// sort draws together the steps that take the same sort of answer.
func sort(at step) step {
	if at == stepSettle {
		return stepMeasure
	}
	return at
}

// asked says in a few words what a question is about.
func (s *State) asked(f focus) string {
	st := &s.b.Stages[f.stage]
	switch f.step {
	case stepMeasure, stepSettle:
		return s.b.Slots[st.Measures[f.measure].Slot].Title()
	case stepLook:
		return strings.TrimSuffix(st.Look.Question, "?")
	case stepInto:
		return "how many pieces came out"
	case stepWait, stepRest:
		return "whether its rest is over"
	}
	return "whether it is done"
}

func (s *State) whatNow(p *Piece) string {
	if p.Place == Aside {
		return "Fetch it first: bring back " + p.Mark + "."
	}
	return ""
}

// called is "piece 7" or "tube A".
func (s *State) called(p *Piece) string { return p.Kind + " " + p.Mark }

func upperFirst(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return string(unicode.ToUpper(r[0])) + string(r[1:])
}

// first is the mark the focus began with.
func (f focus) first() string {
	if len(f.pieces) == 0 {
		return ""
	}
	return f.pieces[0].Mark
}

// InHand is what the question takes in hand, and at which stage; ok is false
// where nothing is under way. The caller fetches the stage's notes with it.
func (s *State) InHand(mark string) (u recipe.Use, stage int, ok bool) {
	f := s.focusOn(mark)
	if f.stage < 0 {
		return recipe.Use{}, -1, false
	}
	return s.useOf(f), f.stage, true
}

// useOf is what the stage of a focus takes in hand, with what is really used.
func (s *State) useOf(f focus) recipe.Use {
	listed := s.b.Stages[f.stage].Use
	var swapped recipe.Use
	plain := false // somebody does as listed
	for _, p := range f.pieces {
		if p.Stage != f.stage || len(p.Swaps) == 0 {
			plain = true
			continue
		}
		swapped = swapped.With(s.b.Swapped(listed, p.Swaps))
	}
	if plain || swapped.Empty() {
		return listed.With(swapped)
	}
	return swapped
}
