package card

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// The text card: columns, and lines a page. A printer puts 60 lines of six to
// the inch on A4 and on letter.
const (
	width     = 72
	pageLines = 60
	boxWidth  = 9
)

// Text writes the card for a printer that knows only text. Where paged, a form
// feed stands before what would be torn by the end of a page.
func (c *Card) Text(w io.Writer, paged bool) error {
	p := &paper{paged: paged}
	var head []string
	head = append(head, wrap("", c.Title)...)
	head = append(head, wrap("", c.From)...)
	head = append(head, "", "batch ______________________  who ______________  date ____________")
	p.block(head)
	if len(c.Notes) > 0 {
		lines := []string{""}
		for _, n := range c.Notes {
			lines = append(lines, wrap("! ", n)...)
		}
		p.block(lines)
	}
	for i := range c.Sections {
		c.Sections[i].text(p)
	}
	tail := []string{"", "TO TYPE IT BACK", ""}
	for _, l := range c.How() {
		tail = append(tail, wrap("", l)...)
	}
	tail = append(tail, "", "    "+Command)
	for _, l := range c.Example {
		tail = append(tail, wrap("    ", l)...)
	}
	p.block(tail)
	_, err := io.WriteString(w, p.b.String())
	return err
}

// Command takes the card back.
const Command = "canewright follow --resume BATCH --later"

// How says how the card is typed back.
func (c *Card) How() []string {
	return []string{
		"A line a piece, in any order: its mark, then its boxes from left to right with blanks between. " +
			"A box that is struck out (///) is not typed; an empty one is a hyphen.",
		"An answer in words is its number; several of them have commas between and no blanks: 1,3. A tick is done, " +
			"and so is a wait once it has begun. What is for all together begins with all.",
		"@19:40 on a line of its own says when the lines below it happened; @yesterday 19:40 and @2026-11-24 19:40 too.",
	}
}

// paper puts blocks that must not be torn on pages.
type paper struct {
	b     strings.Builder
	paged bool
	line  int // of the page
}

func (p *paper) block(lines []string) {
	if p.paged && p.line > 0 && p.line+len(lines) > pageLines {
		p.b.WriteString("\f")
		p.line = 0
	}
	for _, l := range lines {
		if p.paged && p.line == pageLines { // a block of more than a page
			p.b.WriteString("\f")
			p.line = 0
		}
		if p.paged && p.line == 0 && l == "" {
			continue
		}
		p.b.WriteString(strings.TrimRight(l, " ") + "\n")
		p.line++
	}
}

func (s *Section) title() string {
	t := fmt.Sprintf("%d. %s", s.Number, s.Name)
	if s.Whom != "" {
		t += " (" + s.Whom + ")"
	}
	return t
}

func (s *Section) text(p *paper) {
	if s.Short {
		p.block(append(append([]string{""}, wrap("", s.title()+": wait "+s.Wait)...), "begun ________________  ended ________________"))
		return
	}
	lines := append([]string{"", strings.Repeat("=", width)}, wrap("", s.title())...)
	for _, n := range s.Notes {
		lines = append(lines, wrap("! ", n)...)
	}
	for _, d := range s.Do {
		lines = append(lines, wrap("- ", d)...)
	}
	lines = append(lines, "time ________________")
	if s.Wait != "" {
		lines = append(lines, wrap("", "then wait "+s.Wait)...)
		lines = append(lines, "begun ________________  ended ________________")
	}
	s.tables(p, lines)
}

// tables draws the rows, so many boxes beside each other as fit. The first
// table stays with the lines above it; a table longer than a page goes on with
// its head again.
func (s *Section) tables(p *paper, above []string) {
	mark := 5
	for _, r := range s.Rows {
		mark = max(mark, utf8.RuneCountInString(r.Mark))
	}
	fit := max(1, (width-mark-4)/(boxWidth+1))
	for from := 0; from < len(s.Columns); from += fit {
		to := min(from+fit, len(s.Columns))
		rule := "+" + strings.Repeat("-", mark+2) + "+" + strings.Repeat(strings.Repeat("-", boxWidth)+"+", to-from)
		head := []string{rule, "| " + pad("mark", mark) + " |"}
		for i := from; i < to; i++ {
			head[1] += fmt.Sprintf("   %-*d|", boxWidth-3, i+1)
		}
		head = append(head, rule)
		for i := from; i < to; i++ {
			above = append(above, wrap(fmt.Sprintf("  box %-2d ", i+1), s.Columns[i].words())...)
		}
		lines := append(above, head...)
		for k, r := range s.Rows {
			row := []string{"| " + pad(r.Mark, mark) + " |", "| " + pad("", mark) + " |", rule}
			for i := from; i < to; i++ {
				for l := range 2 {
					if r.Open[i] {
						row[l] += strings.Repeat(" ", boxWidth) + "|"
					} else {
						row[l] += strings.Repeat("/", boxWidth) + "|"
					}
				}
			}
			if p.paged && len(lines)+len(row) > pageLines {
				if k == 0 {
					lines = above // the head goes with the rows
				}
				p.block(lines)
				lines = head
			}
			lines = append(lines[:len(lines):len(lines)], row...)
		}
		p.block(lines)
		above = []string{""}
	}
}

// words say what a box takes.
func (c Column) words() string {
	what := c.What
	if c.Unit != "" {
		what += " [" + c.Unit + "]"
	}
	var answers []string
	for i, a := range c.Answers {
		answers = append(answers, fmt.Sprintf("%d %s", i+1, a))
	}
	if len(answers) > 0 {
		what += " " + strings.Join(answers, ", ")
	}
	out := []string{what}
	if c.Several {
		out = append(out, "several may be given")
	}
	if c.Target != "" {
		t := c.Target
		if c.Limits != "" {
			t += " (" + c.Limits + ")"
		}
		out = append(out, t)
	}
	if c.State != "" {
		out = append(out, c.State)
	}
	if c.Tool != "" {
		out = append(out, "with the "+c.Tool)
	}
	return strings.Join(out, "; ")
}

func pad(s string, n int) string { return s + strings.Repeat(" ", max(0, n-utf8.RuneCountInString(s))) }

// wrap breaks text at blanks, and a word of more than a line inside it.
func wrap(lead, text string) []string {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	line, used, bare := lead, len(indent), true
	var out []string
	next := func() { out, line, used, bare = append(out, line), indent, len(indent), true }
	for _, w := range strings.Fields(text) {
		word := []rune(w)
		if !bare && used+1+len(word) > width {
			next()
		}
		for used+len(word) > width {
			n := width - used
			line += string(word[:n])
			word = word[n:]
			next()
		}
		if !bare {
			line, used = line+" ", used+1
		}
		line, used, bare = line+string(word), used+len(word), false
	}
	return append(out, line)
}
