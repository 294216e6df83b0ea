package interview

import (
	"fmt"
	"strings"

	"canewright/engine/quantity"
	"canewright/engine/yamldoc"
)

// write is the recipe so far. Whatever the player typed stands in it as text:
// quoted where YAML would take it for something else.
func (w *walk) write() []byte {
	s := w.sheet
	var b strings.Builder
	line := func(format string, a ...any) { fmt.Fprintf(&b, format+"\n", a...) }
	line("# Written from a paper sheet by: canewright new")
	if open := s.open(); len(open) > 0 {
		line("# What is still open is marked: # open:")
	}
	line("canewright: recipe 1")
	title := s.title
	if title == "" {
		title = untitled
	}
	if s.noTitle {
		line("# open: what is the sheet called?")
	}
	line("title: %s", yamldoc.Quote(title, false))
	line("id: %s", s.id())
	line("version: 1")
	if s.instrument.ID != "" {
		line("instrument: %s %d", s.instrument.ID, s.instrument.Major)
	}
	if about := s.about(); len(about) > 0 {
		line("about: |")
		for _, l := range about {
			line("  %s", l)
		}
	}
	if s.noStages {
		line("# open: which stages are there, and in which order?")
	}
	line("stages:")
	if len(s.stages) == 0 {
		line("  - stage: %s", noStage)
	}
	for i, st := range s.stages {
		if i > 0 {
			line("")
		}
		st.write(line)
	}
	return []byte(b.String())
}

func (s *sheet) about() []string {
	var out []string
	if s.credit != "" {
		out = append(out, "From a sheet by "+s.credit+".")
	}
	return append(out, s.remarks...)
}

func (st *stage) write(line func(string, ...any)) {
	line("  - stage: %s", yamldoc.Quote(st.name, false))
	measured := st.measured()
	if st.batch && len(measured) == 0 {
		line("    for: the batch")
	}
	if st.asked != "" {
		line("    # open: %s", st.asked)
	}
	list := func(key string, words []string) {
		if len(words) == 0 {
			return
		}
		quoted := make([]string, len(words))
		for i, w := range words {
			quoted[i] = yamldoc.Quote(w, true)
		}
		line("    %s: [%s]", key, strings.Join(quoted, ", "))
	}
	list("tools", st.tools)
	list("materials", st.materials)
	if st.wetOrDry {
		line("    # open: is the cane wet or dry when it is measured? then write condition: wet, or dry")
	}
	if st.condition != "" {
		line("    condition: %s", st.condition)
	}
	do := st.do
	for _, n := range st.numbers {
		if n.paper != "" && n.target() == "" && !n.grid() {
			do = append(do[:len(do):len(do)], n.reminder())
		}
	}
	if len(do) > 0 {
		line("    do:")
		for _, d := range do {
			line("      - %s", yamldoc.Quote(d, false))
		}
	}
	st.targets(line)
	list("measure", measured)
	if t := st.wait; t != nil {
		var parts []string
		for _, p := range [][2]string{{"until", t.until}, {"at least", t.least}, {"usual", t.usual}, {"at most", t.most}} {
			if p[1] != "" {
				parts = append(parts, "      "+p[0]+": "+yamldoc.Quote(p[1], false))
			}
		}
		line("    wait:\n%s", strings.Join(parts, "\n"))
	}
	if st.becomes != "" {
		line("    becomes: %s", st.becomes)
	}
}

// measured are the dimensions that are read at the stage. What is worked out,
// and a grid without rows, is not.
func (st *stage) measured() []string {
	var out []string
	for _, n := range st.numbers {
		if n.dim.Formula == "" && !n.grid() {
			out = append(out, n.dim.Name)
		}
	}
	return out
}

// reminder shows a number at the bench that is no target yet.
func (n *number) reminder() string {
	from := ""
	switch {
	case n.other != "":
		from = " from " + n.other
	case n.dim.Datum != "":
		from = " from " + n.dim.Datum
	}
	return n.dim.Title + ": " + n.paper + from + ", says the sheet"
}

// targets writes what has a tolerance, and what is open as comments.
func (st *stage) targets(line func(string, ...any)) {
	head := false
	for _, n := range st.numbers {
		if n.target() != "" && !head {
			head = true
			line("    targets:")
		}
	}
	for _, n := range st.numbers {
		indent := "    "
		if head {
			indent = "      "
		}
		if q := n.question(); q != "" {
			line("%s# open: %s", indent, q)
			for _, l := range n.example() {
				line("%s# %s", indent, l)
			}
			continue
		}
		t := n.target()
		if n.other != "" {
			line("%s# the sheet: %s from %s; %s lie between that and %s", indent, n.paper, n.other, n.length, n.dim.Datum)
		} else if n.paper != t {
			line("%s# the sheet: %s", indent, n.paper)
		}
		line("%s%s: %s", indent, n.dim.Name, yamldoc.Quote(t, false))
	}
}

// example shows how an open target would be written.
func (n *number) example() []string {
	switch {
	case n.grid():
		g := n.dim.Grid
		return []string{"for example, in millimetres, under targets:", n.dim.Name + ":", "  from: " + g.From[0], "  at: 3 9 mm", "  " + g.Lanes[0] + ": 0.90 0.70 mm", "  within: ± 0.03 mm"}
	case n.paper == "" || n.other != "" && n.length == "" || n.suggest == "":
		return nil
	}
	c := *n
	c.tolerance = n.suggest
	if c.other != "" && c.convert() != nil {
		return nil
	}
	t := c.target()
	if _, err := quantity.ParseTolerance(strings.SplitN(t, " (", 2)[0], quantity.Style{Want: n.dim.Kind}); err != nil {
		return nil
	}
	return []string{"for example, " + n.suggested + ", under targets:", n.dim.Name + ": " + t}
}
