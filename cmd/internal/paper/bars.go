package paper

import "strconv"

// Lengths of the bars that are measured before a strip is used, mm.
const (
	hundred    = 100
	fourInches = 4 * 25.4
	tickHigh   = 5
)

// actualSize is what to do when a bar is not as long as it says.
const actualSize = `Measure this bar before you use the strip. If it is not 100 mm long, print again at 100 %, "actual size".`

// bars are the two that lie, one below the other; high is what they take.
func bars(p *Page, y float64) (high float64) {
	const x = margin + 6
	for k, l := range body.wrap(actualSize, p.Width-2*margin) {
		p.text(margin, y+body.up()+float64(k)*body.height(), body, l)
		high = float64(k+1) * body.height()
	}
	y += high + 1
	p.Bars = append(p.Bars, Bar{X: x, Y: y, Long: hundred})
	p.line(x-thin/2, y+tickHigh, x+hundred+thin/2, y+tickHigh, thin)
	for i := range 11 {
		at := x + float64(10*i)
		p.line(at, y, at, y+tickHigh, thin)
		n := strconv.Itoa(10 * i)
		p.text(at-body.width(n)/2, y+tickHigh+body.up()+0.8, body, n)
	}
	p.text(x+hundred+8, y+tickHigh, strong, "100 mm")
	y += tickHigh + body.height() + 2
	p.line(x-thin/2, y+tickHigh, x+fourInches+thin/2, y+tickHigh, thin)
	for i := range 17 { // every quarter
		at, long := x+float64(i)*25.4/4, float64(tickHigh)
		if i%4 != 0 {
			long /= 2
		} else {
			n := strconv.Itoa(i / 4)
			p.text(at-body.width(n)/2, y+tickHigh+body.up()+0.8, body, n)
		}
		p.line(at, y+tickHigh-long, at, y+tickHigh, thin)
	}
	p.text(x+hundred+8, y+tickHigh, strong, "4 in")
	return high + 1 + 2*(tickHigh+body.height()+2) + 2
}

// standing is the same 100 mm along the strips, as a printer may stretch one way
// alone. Its upper end is at y; it takes standsWide. Only where it is level with
// a strip are there numbers beside it.
func standing(p *Page, y float64, level bool) {
	const x = margin + 2
	p.Bars = append(p.Bars, Bar{X: x, Y: y, Long: hundred, Stands: true})
	p.line(x, y-thin/2, x, y+hundred+thin/2, thin)
	for i := range 11 {
		at := y + float64(10*i)
		p.line(x, at, x+tickHigh, at, thin)
		if level && i%5 == 0 {
			n := strconv.Itoa(hundred - 10*i)
			p.text(x+tickHigh+1, at+body.up()/2, body, n)
		}
	}
	if !level {
		p.text(x+tickHigh+1, y+hundred/2+body.up()/2, body, "100")
		p.text(x+tickHigh+1, y+hundred/2+body.up()/2+body.height(), body, "mm")
	}
}

const standsWide = 18
