package paper

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"canewright/cmd/internal/card"
	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
)

// Order is what a sheet is asked for.
type Order struct {
	Size       Size
	Pieces     []string // their marks
	Tubes      []string // theirs, where the recipe begins with tubes
	Stages     []int    // indices; nil: all
	Notes      func(recipe.Use) ([]bench.Note, error)
	Precedence []string // what comes before every note
	// Sources prints where each line of a note comes from; else one line says where
	// that can be read. Nobody needs web addresses beside a knife.
	Sources bool
	Digest  string // of the recipe's text
	Printed time.Time
	Batch   string // its name; "": none yet
	// Written is what stands in the boxes of a row already, in the order of
	// recipe.Bound.Boxes; nil: nothing does.
	Written func(stage int, row string) []string
	// Gone are marks of pieces that are in no table any more.
	Gone func(stage int, row string) bool
}

// Sheet is the printed sheet.
type Sheet struct {
	Title   string
	Pages   []*Page
	Notes   int    // pages of safety notes, the first ones
	Strips  int    // pages of it
	NoStrip string // why there is none
	Lacking string // letters that the font has not
}

// New lays a sheet out. Kinds of pages follow each other: safety notes, the
// card, the strips.
func New(b *recipe.Bound, o Order) (*Sheet, error) {
	if o.Notes == nil {
		return nil, errors.New("lay out the sheet: nobody gave the safety notes")
	}
	if boxes(b, o) > mostBoxes {
		return nil, ErrTooLarge
	}
	c, err := card.New(b, card.Order{Pieces: o.Pieces, Tubes: o.Tubes, Stages: o.Stages, Notes: o.Notes})
	if err != nil {
		return nil, err
	}
	notes, err := wholeNotes(b, o)
	if err != nil {
		return nil, err
	}
	m := &maker{b: b, o: o, card: c, flow: flow{size: o.Size}}
	m.head()
	m.notes(notes)
	// Where the notes leave room; the card begins a page.
	early := m.flow.fits(m.typedBack())
	if early {
		m.flow.put(m.typedBack())
	}
	notePages := len(m.flow.pages)
	for i := range c.Sections {
		m.stage(&c.Sections[i], i == 0)
	}
	if !early {
		m.flow.put(m.typedBack())
	}
	before := len(m.flow.pages)
	m.strips()
	m.feet()
	s := &Sheet{Title: m.t(c.Title), Pages: m.flow.pages, Notes: notePages, Strips: len(m.flow.pages) - before, NoStrip: m.noStrip}
	slices.Sort(m.lacking)
	s.Lacking = string(slices.Compact(m.lacking))
	return s, nil
}

// mostBoxes is some thousand pages: a stranger's recipe must not cost memory.
const mostBoxes = 50_000

// ErrTooLarge: nobody fills that in.
var ErrTooLarge = fmt.Errorf("the card would have over %d boxes", mostBoxes)

// boxes counts them, up to a few more than there may be.
func boxes(b *recipe.Bound, o Order) (n int) {
	for i := range b.Stages {
		if o.Stages != nil && !slices.Contains(o.Stages, i) {
			continue
		}
		st := &b.Stages[i]
		rows := len(o.Pieces)
		switch {
		case st.Each.Batch:
			rows = 1
		case st.Tube:
			rows = len(o.Tubes)
		}
		for k := range rows {
			if st.Each.For(k + 1) {
				n += len(b.Boxes(i, k+1))
			}
			if n > mostBoxes {
				return n
			}
		}
	}
	return n
}

// maker lays one sheet out.
type maker struct {
	b       *recipe.Bound
	o       Order
	card    *card.Card
	flow    flow
	noStrip string
	lacking []rune
}

// t is text that can be printed.
func (m *maker) t(s string) string {
	out, lacking := printable(diagnostic.Clean(s))
	m.lacking = append(m.lacking, lacking...)
	return out
}

// wholeNotes are the notes of all that is used at the stages asked for, each
// once, with the highest signal word it has at any of them, the gravest first.
func wholeNotes(b *recipe.Bound, o Order) ([]bench.Note, error) {
	var all []bench.Note
	var evening recipe.Use
	for i := range b.Stages {
		if o.Stages != nil && !slices.Contains(o.Stages, i) {
			continue
		}
		evening = evening.With(b.Stages[i].Use)
		its, err := o.Notes(b.Stages[i].Use)
		if err != nil {
			return nil, err
		}
		all = append(all, its...)
	}
	its, err := o.Notes(evening) // what is dangerous only together
	if err != nil {
		return nil, err
	}
	all = append(all, its...)
	var out []bench.Note
	for _, n := range all {
		at := slices.IndexFunc(out, func(x bench.Note) bool { return x.ID == n.ID })
		if at < 0 {
			out = append(out, n.Clone())
			continue
		}
		x := &out[at]
		x.Signal = max(x.Signal, n.Signal)
		x.Because, x.Remarks = joined(x.Because, n.Because), joined(x.Remarks, n.Remarks)
	}
	slices.SortStableFunc(out, func(a, b bench.Note) int {
		return cmp.Or(int(b.Signal)-int(a.Signal), cmp.Compare(a.ID, b.ID))
	})
	return out, nil
}

func joined(all, more []string) []string {
	for _, m := range more {
		if !slices.Contains(all, m) {
			all = append(all, m)
		}
	}
	return all
}

// head is what stands at the top of the first page.
func (m *maker) head() {
	f := &m.flow
	var all []block
	for _, l := range headline.wrap(m.t(m.card.Title), f.wide()) {
		all = append(all, lines(headline, margin, []string{l}, nil)...)
	}
	all = append(all, space(1))
	all = append(all, lines(doing, margin, doing.wrap(m.t(m.card.From), f.wide()), nil)...)
	fields := []field{{"batch", 55, m.o.Batch}, {"who", 45, ""}, {"begun", 36, ""}}
	all = append(all, m.fill(fields, 11))
	f.put(bound(all, false))
	f.put([]block{space(2)})
}

// field is a line to write on, or what stands on it already.
type field struct {
	name string
	long float64
	text string
}

// fill is a row of fields.
func (m *maker) fill(fields []field, high float64) block {
	return block{high: high, put: func(p *Page, y float64) { m.fields(p, margin, y+high-2, fields) }}
}

// fields draws them from x on, on one line.
func (m *maker) fields(p *Page, x, y float64, fields []field) {
	for _, fd := range fields {
		p.text(x, y, body, fd.name)
		x += body.width(fd.name) + 2
		p.line(x, y+0.6, x+fd.long, y+0.6, thin)
		if fd.text != "" {
			p.text(x+1, y, strong, strong.clip(m.t(fd.text), fd.long-1))
		}
		x += fd.long + 4
	}
}

// typedBack says how the card goes into the logbook.
func (m *maker) typedBack() []block {
	f := &m.flow
	all := []block{{high: 1, with: true, gap: 5, put: func(p *Page, y float64) {
		p.line(margin, y, margin+f.wide(), y, thick)
	}}}
	all = append(all, lines(heading, margin, []string{"To type it back"}, nil)...)
	for _, l := range m.card.How() {
		// Rows stand by what is asked of them: nothing here is struck out.
		l = strings.Replace(l, "A box that is struck out (///) is not typed; an empty one is a hyphen.",
			"An empty box is a hyphen. Where its boxes go on in another table, the numbers over them are their order.", 1)
		all = append(all, lines(body, margin, body.wrap(m.t(l), f.wide()), nil)...)
	}
	command := card.Command
	if m.o.Batch != "" {
		command = "canewright follow --resume " + m.o.Batch + " --later"
	}
	all = append(all, space(1.5))
	for _, l := range append([]string{command}, m.card.Example...) {
		all = append(all, lines(strong, margin+8, strong.wrap(m.t(l), f.wide()-8), nil)...)
	}
	return bound(all, false)
}

// feet are written when it is known how many pages there are.
func (m *maker) feet() {
	n := len(m.flow.pages)
	what := m.b.File.ID + " version " + strconv.Itoa(m.b.File.Version)
	if m.o.Digest != "" {
		what += ", digest " + m.o.Digest[:min(12, len(m.o.Digest))]
	}
	what += ", printed " + m.o.Printed.Format("2006-01-02")
	if m.o.Batch != "" {
		what += ", batch " + m.o.Batch
	}
	for i, p := range m.flow.pages {
		y := p.Height - margin
		number := fmt.Sprintf("page %d of %d", i+1, n)
		wide := p.Width - 2*margin
		p.line(margin, y-footing.height()-footing.up()-1.2, margin+wide, y-footing.height()-footing.up()-1.2, thin)
		p.text(margin, y-footing.height(), footing, footing.clip(m.t(m.card.Title), wide))
		p.text(margin, y, footing, footing.clip(m.t(what), wide-strong.width(number)-4))
		p.right(margin+wide, y, strong, number)
	}
}

// Strokes of the pen, mm.
const (
	thin  = 0.25
	ruled = 0.35
	thick = 0.7
)
