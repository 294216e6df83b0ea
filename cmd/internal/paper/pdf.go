package paper

import (
	"bytes"
	"fmt"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// notScaled is the file's language, and behind it the wish that a printer does
// not scale (ISO 32000-1, 12.2), for which the library has no word. What follows
// the percent sign is a comment to a reader of the file.
const notScaled = "en) /ViewerPreferences << /PrintScaling /None >> %"

// PDF draws the pages as one file, with its fonts inside. The same pages and
// moment give the same bytes.
func PDF(pages []*Page, title string, at time.Time) ([]byte, error) {
	if len(pages) == 0 {
		return nil, fmt.Errorf("draw the sheet: it has no pages")
	}
	d := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm", Size: fpdf.SizeType{Wd: pages[0].Width, Ht: pages[0].Height}})
	d.SetCatalogSort(true)
	d.SetCreationDate(at.UTC())
	d.SetModificationDate(at.UTC())
	d.SetTitle(title, true)
	d.SetCreator("canewright", false)
	d.SetLang(notScaled)
	d.SetMargins(0, 0, 0)
	d.SetAutoPageBreak(false, 0)
	d.AddUTF8FontFromBytes("sheet", "", bytes.Clone(faceOf(false).bytes))
	d.AddUTF8FontFromBytes("sheet", "B", bytes.Clone(faceOf(true).bytes))
	d.SetLineCapStyle("butt")
	for _, p := range pages {
		d.AddPageFormat("P", fpdf.SizeType{Wd: p.Width, Ht: p.Height})
		drawPDF(d, p)
	}
	var out bytes.Buffer
	if err := d.Output(&out); err != nil {
		return nil, fmt.Errorf("draw the sheet: %w", err)
	}
	return out.Bytes(), nil
}

func drawPDF(d *fpdf.Fpdf, p *Page) {
	d.SetDrawColor(0, 0, 0)
	d.SetFillColor(0, 0, 0)
	d.SetTextColor(0, 0, 0)
	for _, s := range p.Shapes {
		points := make([]fpdf.PointType, len(s.Points))
		for i, at := range s.Points {
			points[i] = fpdf.PointType{X: at[0], Y: at[1]}
		}
		d.SetLineWidth(s.Wide)
		style := "D"
		if s.Full {
			style = "F"
		}
		d.Polygon(points, style)
	}
	for _, b := range p.Boxes {
		d.SetLineWidth(ruled)
		d.Rect(b.X, b.Y, b.W, b.H, "D")
	}
	for _, l := range p.Lines {
		d.SetLineWidth(l.Wide)
		if l.Dashed {
			d.SetDashPattern([]float64{1.5, 1}, 0)
		}
		d.Line(l.X1, l.Y1, l.X2, l.Y2)
		if l.Dashed {
			d.SetDashPattern(nil, 0)
		}
	}
	for _, t := range p.Texts {
		style := ""
		if t.Bold {
			style = "B"
		}
		d.SetFont("sheet", style, t.Points)
		d.Text(t.X, t.Y, t.Text)
	}
}
