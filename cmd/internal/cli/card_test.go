package cli_test

import (
	"bytes"
	"context"
	"encoding/xml"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"canewright/cmd/internal/cli"
	"canewright/cmd/internal/wire"
	"canewright/engine/recipe"
	"canewright/recipes"
)

// element is a part of a page, as far as the tests need it.
type element struct {
	name, class string
	text        string // all of it, inner elements too
	inner       []*element
}

// all finds every element of a name, in order.
func (e *element) all(name string) []*element {
	var out []*element
	for _, c := range e.inner {
		if c.name == name {
			out = append(out, c)
		}
		out = append(out, c.all(name)...)
	}
	return out
}

// parsePage reads a page; the library's reader knows which elements of HTML
// have no end.
func parsePage(t *testing.T, page []byte) *element {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	root := &element{}
	open := []*element{root}
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return root
		}
		if err != nil {
			t.Fatalf("read the page: %v", err)
		}
		switch k := tok.(type) {
		case xml.StartElement:
			e := &element{name: k.Name.Local}
			for _, a := range k.Attr {
				if a.Name.Local == "class" {
					e.class = a.Value
				}
			}
			top := open[len(open)-1]
			top.inner = append(top.inner, e)
			open = append(open, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			for _, e := range open {
				e.text += string(k)
			}
		}
	}
}

func runCLI(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, errs bytes.Buffer
	sys := cli.Here()
	home := t.TempDir()
	sys.In, sys.Out, sys.Err = strings.NewReader(""), &out, &errs
	sys.Env = func(k string) string {
		if k == "HOME" || k == "LOCALAPPDATA" {
			return home
		}
		return ""
	}
	if code := cli.Main(args, sys); code != 0 {
		t.Fatalf("%v: exit code %d: %s", args, code, errs.String())
	}
	return out.Bytes()
}

func boundRecipe(t *testing.T, name string) *recipe.Bound {
	t.Helper()
	w := &wire.Works{Env: func(string) string { return "" }, Now: time.Now, Rand: bytes.NewReader(make([]byte, 64))}
	r, err := w.Recipe(context.Background(), name)
	if err != nil || r.Bound == nil {
		t.Fatalf("%s: %v", name, err)
	}
	return r.Bound
}

const everyBox = `canewright: recipe 1
title: Every kind of box
id: every-kind-of-box
version: 1
instrument: bassoon 1
targets:
  gouge.centre: 1.30 +0.03 -0.02 mm
  blade.thickness: {from: collar, at: 3 9 15 21 mm, spine: 0.90 0.70 0.47 0.30 mm, rails: 0.60 0.46 0.30 0.17 mm, within: ± 0.03 mm}
stages:
  - {stage: choose, for: each tube, do: Turn it., look: {question: 'Round?', answers: {'yes': going on, 'no': set aside}}}
  - {stage: split, for: each tube, tools: [knife], do: Split it., into: 4 pieces}
  - {stage: stand, wait: {at least: overnight}}
  - stage: gouge
    measure: [{take: gouge.centre, repeat: 3, for: 1 piece in 4}, gouge.side]
    look: {question: How does it run, several: yes, answers: {straight: going on, twisted: set aside}}
  - {stage: first, for: the first piece, do: Try it.}
  - {stage: one in three, measure: [{take: gouge.side, for: 1 piece in 3}]}
  - {stage: scrape, tools: [knife], measure: [blade.thickness]}
`

// The boxes of a card are typed back in its order, so they must be those that
// the bench takes.
func TestCardHasTheBoxesOfTheBenchInOrder(t *testing.T) {
	t.Parallel()
	own := filepath.Join(t.TempDir(), "recipe.yaml")
	if err := os.WriteFile(own, []byte(everyBox), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, name := range append(recipes.All(), own) {
		t.Run(filepath.Base(name), func(t *testing.T) {
			t.Parallel()
			b := boundRecipe(t, name)
			page := parsePage(t, runCLI(t, "show", name, "--card", "--html", "--pieces", "12"))
			sections := page.all("main")[0].all("section")
			if len(sections) != len(b.Stages) {
				t.Fatalf("%d sections for %d stages", len(sections), len(b.Stages))
			}
			for i, s := range sections {
				st := &b.Stages[i]
				if want := strconv.Itoa(i+1) + ". " + st.Name; !strings.HasPrefix(s.all("h2")[0].text, want) {
					t.Errorf("section %d is called %q, want %q", i, s.all("h2")[0].text, want)
				}
				if len(s.all("table")) == 0 {
					if st.Wait == nil || len(st.Do)+len(st.Measures) > 0 || st.Look != nil {
						t.Errorf("%s has no boxes", st.Name)
					}
					continue
				}
				sameBoxes(t, b, i, s)
			}
		})
	}
}

// sameBoxes holds the rows of a section against Boxes.
func sameBoxes(t *testing.T, b *recipe.Bound, stage int, section *element) {
	t.Helper()
	st := &b.Stages[stage]
	legend := map[int]string{} // box number → what it says
	for _, l := range section.all("li") {
		if bs := l.all("b"); len(bs) > 0 && l.inner[0].name == "b" {
			n, err := strconv.Atoi(bs[0].text)
			if err != nil || legend[n] != "" {
				t.Errorf("%s: box %q stands twice or has no number", st.Name, bs[0].text)
			}
			legend[n] = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(l.text), bs[0].text))
		}
	}
	open := map[string][]int{} // mark → its boxes
	var marks []string
	next := 1
	for _, table := range section.all("table") {
		var numbers []int
		for _, th := range table.all("thead")[0].all("th")[1:] {
			n, _ := strconv.Atoi(th.all("b")[0].text)
			if n != next {
				t.Errorf("%s: box %d follows %d", st.Name, n, next-1)
			}
			next++
			numbers = append(numbers, n)
		}
		for _, tr := range table.all("tbody")[0].all("tr") {
			mark := tr.all("th")[0].text
			if !slices.Contains(marks, mark) {
				marks = append(marks, mark)
			}
			for k, td := range tr.all("td") {
				switch td.class {
				case "":
					open[mark] = append(open[mark], numbers[k])
				case "no", "spare":
				default:
					t.Errorf("%s: a box of class %q", st.Name, td.class)
				}
			}
		}
	}
	if next != len(legend)+1 {
		t.Errorf("%s: %d boxes are drawn, %d explained", st.Name, next-1, len(legend))
	}
	place := 0
	for number := 1; number <= 12 && place < len(marks); number++ {
		if !st.Each.For(number) && !st.Each.Batch {
			continue
		}
		mark := marks[place]
		place++
		boxes := b.Boxes(stage, number)
		if len(open[mark]) != len(boxes) {
			t.Errorf("%s: %s has %d boxes, want %d", st.Name, mark, len(open[mark]), len(boxes))
			continue
		}
		for k, box := range boxes {
			if got, want := legend[open[mark][k]], boxName(b, st, box); !strings.HasPrefix(got, want) {
				t.Errorf("%s: box %d of %s is %q, want %q", st.Name, k+1, mark, got, want)
			}
		}
	}
	if place != len(marks) || place == 0 {
		t.Errorf("%s: rows for %v, of which %d belong there", st.Name, marks, place)
	}
}

func boxName(b *recipe.Bound, st *recipe.Stage, box recipe.Box) string {
	switch box.Kind {
	case recipe.BoxReading:
		return b.Slots[st.Measures[box.Measure].Slot].Title()
	case recipe.BoxLook:
		return st.Look.Question
	case recipe.BoxPieces:
		return "how many pieces"
	}
	return "done"
}

var address = regexp.MustCompile(`(?i)https?:|src\s*=|href\s*=|url\(|@import|<script|<iframe|<link|\bon[a-z]+\s*=`)

// What a stranger's recipe says stays text.
func TestCardOfAHostileRecipe(t *testing.T) {
	t.Parallel()
	bad := `<script src=//x>alert(1)</script><img onerror=a()>"'&amp;--></style></pre>`
	one := strings.ReplaceAll(bad, "'", "''")
	file := filepath.Join(t.TempDir(), "recipe.yaml")
	data := "canewright: recipe 1\ntitle: '" + one + strings.Repeat("x", 10_000) + "'\nid: a\nversion: 1\nstages:\n  - stage: '<b>&amp;</b></h2>'\n    do: ['" + one +
		"', " + strings.Repeat("y", 5_000) + "]\n    tools: ['" + one + "']\n    look: {question: '" + one + "', answers: {'" + one + "': going on, b: going on}}\n"
	if err := os.WriteFile(file, []byte(data), 0o600); err != nil {
		t.Fatal(err)
	}
	page := runCLI(t, "show", file, "--card", "--html", "--marks", "<i>a</i> 日本 &amp;")
	for _, e := range parsePage(t, page).all("html")[0].all("body")[0].inner {
		if !slices.Contains([]string{"header", "main", "section"}, e.name) {
			t.Errorf("the page has an element %q", e.name)
		}
	}
	// Outside of text, which is escaped, nothing may load or run.
	if found := address.Find(regexp.MustCompile(`>[^<]*<`).ReplaceAll(page, []byte("><"))); found != nil {
		t.Errorf("the page holds %q", found)
	}
	if !bytes.Contains(page, []byte("&lt;script src=//x&gt;")) || bytes.Contains(page, []byte("<script")) || bytes.Contains(page, []byte("<img")) || bytes.Contains(page, []byte("<i>")) {
		t.Error("what the recipe says is not escaped")
	}
	text := runCLI(t, "show", file, "--card", "--pieces", "2")
	letters := 0
	for _, l := range strings.Split(string(text), "\n") {
		if n := utf8.RuneCountInString(l); n > 72 {
			t.Errorf("%d columns: %s", n, l)
		}
		letters += strings.Count(l, "x")
	}
	if letters < 10_000 {
		t.Errorf("of the title %d letters are left", letters)
	}
}

// A page of text holds 60 lines, and a table goes on only with its head.
func TestPagesOfACardAreNotTorn(t *testing.T) {
	t.Parallel()
	file := filepath.Join(t.TempDir(), "recipe.yaml")
	if err := os.WriteFile(file, []byte(everyBox), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, pieces := range []string{"1", "4", "12", "40", "200"} {
		text := string(runCLI(t, "show", file, "--card", "--form-feed", "--pieces", pieces))
		pages := strings.Split(text, "\f")
		if len(pages) < 2 {
			t.Errorf("%s pieces: %d pages", pieces, len(pages))
		}
		for i, p := range pages {
			lines := strings.Split(strings.TrimSuffix(p, "\n"), "\n")
			if len(lines) > 60 {
				t.Errorf("%s pieces, page %d: %d lines", pieces, i+1, len(lines))
			}
			headed := false
			for _, l := range lines {
				switch {
				case strings.HasPrefix(l, "| mark"):
					headed = true
				case !strings.HasPrefix(l, "|") && !strings.HasPrefix(l, "+"):
					headed = false
				case strings.HasPrefix(l, "|") && !headed:
					t.Fatalf("%s pieces, page %d: a row without its head:\n%s", pieces, i+1, p)
				}
			}
			if last := lines[len(lines)-1]; strings.HasPrefix(last, "|") {
				t.Errorf("%s pieces, page %d is torn inside a row", pieces, i+1)
			}
		}
		flat := runCLI(t, "show", file, "--card", "--pieces", pieces)
		if got, want := strings.Count(text, "| "+pieces+" "), strings.Count(string(flat), "| "+pieces+" "); got != want || want == 0 {
			t.Errorf("%s pieces: %d rows on pages, %d without", pieces, got, want)
		}
	}
}
