package card

import (
	_ "embed"
	"html/template"
	"io"
)

//go:embed card.html
var pageText string

// across is how many boxes stand side by side on A4 and on letter, wide enough
// to write in.
const across = 6

// Page writes the card as one HTML file that needs nothing else.
func (c *Card) Page(w io.Writer) error {
	t, err := template.New("card").Funcs(template.FuncMap{
		"add": func(a, b int) int { return a + b },
	}).Parse(pageText)
	if err != nil {
		return err
	}
	return t.Execute(w, struct {
		*Card
		Command string
	}{c, Command})
}

// Part is a table: as many of a stage's boxes as stand side by side.
type Part struct {
	From    int // the first box's number
	To      int
	Columns []Column
	Rows    []Row
}

// Parts are the tables of a stage.
func (s Section) Parts() []Part {
	var out []Part
	for from := 0; from < len(s.Columns); from += across {
		to := min(from+across, len(s.Columns))
		p := Part{From: from + 1, To: to, Columns: s.Columns[from:to]}
		for _, r := range s.Rows {
			p.Rows = append(p.Rows, Row{r.Mark, r.Open[from:to]})
		}
		out = append(out, p)
	}
	return out
}

// Spare is how many boxes short of the page's width the part is; a few boxes
// are twice as wide.
func (p Part) Spare() []struct{} {
	full := across
	if len(p.Columns) <= across/2 {
		full = across / 2
	}
	return make([]struct{}, full-len(p.Columns))
}

// Whole reports that the table surely fits on one page with what the stage has
// above it. One that is kept whole and does not fit is torn without its head.
func (p Part) Whole() bool {
	return len(p.Rows) <= 6 || len(p.Rows) <= 12 && (p.From > 1 || len(p.Columns) <= across/2)
}
