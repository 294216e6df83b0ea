package comparison

import (
	"strconv"
	"strings"
)

func stageWords(s *Stage) string {
	switch {
	case s.B == nil:
		return s.A.Name
	case s.A == nil || !s.Renamed:
		return s.B.Name
	}
	return s.A.Name + " (in B " + s.B.Name + ")"
}

// stages that are renamed, moved, alone, and worked otherwise.
func (t *teller) stages() {
	var lines []Line
	add := func(lead, text string) { lines = append(lines, Line{lead, text}) }
	var onlyA, onlyB []string
	worded := 0
	for i := range t.c.Stages {
		s := &t.c.Stages[i]
		switch {
		case s.B == nil:
			onlyA = append(onlyA, s.A.Name)
			continue
		case s.A == nil:
			onlyB = append(onlyB, s.B.Name)
			continue
		}
		if s.Renamed {
			add("  ", quoted(s.A.Name)+" in A is "+quoted(s.B.Name)+" in B")
		}
		said := false
		for _, d := range s.Differs {
			if wordy[d.What] && !t.all {
				said = true
				continue
			}
			add("  ", stageWords(s)+": "+d.words())
		}
		if said {
			worded++
		}
	}
	for _, m := range t.c.Moved {
		then := quoted(m.Then)
		if m.Then != m.FirstA {
			then += " (" + quoted(m.FirstA) + " in A)"
		}
		add("  ", "B does "+quoted(m.First)+" before "+then+", A after it")
	}
	if len(onlyA) > 0 {
		add("  only in A: ", strings.Join(quotedList(onlyA), ", "))
	}
	if len(onlyB) > 0 {
		add("  only in B: ", strings.Join(quotedList(onlyB), ", "))
	}
	switch {
	case worded == 1:
		add("  ", "1 stage is measured, looked at or worded otherwise; --all shows how")
	case worded > 1:
		add("  ", strconv.Itoa(worded)+" stages are measured, looked at or worded otherwise; --all shows how")
	}
	if len(lines) > 0 {
		t.line("", "")
		t.line("", "Stages")
		t.lines = append(t.lines, lines...)
	}
}

// wordy are the differences only --all shows.
var wordy = map[string]bool{"measures": true, "looks for": true, "rules": true, "what follows": true, "says": true}

func (d Differing) words() string {
	if d.What == "tools" || d.What == "materials" {
		a, b := apart(d.A, d.B)
		var parts []string
		if len(a) > 0 {
			parts = append(parts, "only in A "+strings.Join(a, ", "))
		}
		if len(b) > 0 {
			parts = append(parts, "only in B "+strings.Join(b, ", "))
		}
		return d.What + " " + strings.Join(parts, "; ")
	}
	or := func(s string) string {
		if s == "" {
			return "nothing said"
		}
		return s
	}
	return d.What + ": A " + or(d.A) + "; B " + or(d.B)
}

// apart are the words of two lists that only one has.
func apart(a, b string) (onlyA, onlyB []string) {
	split := func(s string) []string {
		if s == "" {
			return nil
		}
		return strings.Split(s, ", ")
	}
	without := func(x, y []string) (out []string) {
		has := map[string]bool{}
		for _, w := range y {
			has[w] = true
		}
		for _, w := range x {
			if !has[w] {
				out = append(out, w)
			}
		}
		return out
	}
	x, y := split(a), split(b)
	return without(x, y), without(y, x)
}
