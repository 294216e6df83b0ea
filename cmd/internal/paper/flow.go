package paper

// margin keeps clear of what printers cannot reach and holes are punched in,
// mm.
const margin = 12

// foot is the height kept for what stands at the foot of each page, mm.
const foot = 12

// block is what is not torn: High mm tall, over the whole width.
type block struct {
	high float64
	put  func(p *Page, y float64)
	// with: the next block stands on the same page.
	with bool
	// again goes first where this block begins a page.
	again *block
	// first: nothing stands above it on its page.
	first bool
	// gap is left above it, but not at the top of a page.
	gap float64
}

// flow sets blocks one below the other.
type flow struct {
	size  Size
	pages []*Page
	y     float64
}

func (f *flow) wide() float64   { return f.size.Width - 2*margin }
func (f *flow) top() float64    { return margin }
func (f *flow) bottom() float64 { return f.size.Height - margin - foot }

func (f *flow) turn() {
	f.pages = append(f.pages, &Page{Size: f.size})
	f.y = f.top()
}

func (f *flow) page() *Page { return f.pages[len(f.pages)-1] }

// fits reports that blocks have room on this page.
func (f *flow) fits(all []block) bool {
	high := 0.0
	for _, b := range all {
		high += b.gap + b.high
	}
	return f.y+high <= f.bottom()
}

// put sets the blocks. Those bound to the next go over together, if they fit a
// page at all.
func (f *flow) put(all []block) {
	for i := 0; i < len(all); {
		n := i
		for n+1 < len(all) && all[n].with {
			n++
		}
		f.together(all[i : n+1])
		i = n + 1
	}
}

func (f *flow) together(group []block) {
	high := 0.0
	for i, b := range group {
		high += b.high
		if i > 0 {
			high += b.gap
		}
	}
	full := f.bottom() - f.top()
	lead := 0.0
	if group[0].again != nil {
		lead = group[0].again.high
	}
	switch {
	case len(f.pages) == 0 || group[0].first && f.y > f.top():
		f.turn()
	case f.y+group[0].gap+high > f.bottom() && high+lead <= full:
		f.turn()
	}
	for _, b := range group {
		if f.y > f.top() && f.y+b.gap+b.high > f.bottom() {
			f.turn()
		}
		if f.y == f.top() {
			if b.again != nil {
				b.again.put(f.page(), f.y)
				f.y += b.again.high
			}
		} else {
			f.y += b.gap
		}
		b.put(f.page(), f.y)
		f.y += b.high
	}
}

// lines are blocks of text, a line each, bound together.
func lines(a letters, x float64, text []string, lead func(*Page, float64, int)) []block {
	var out []block
	for i, l := range text {
		out = append(out, block{high: a.height(), with: i < len(text)-1, put: func(p *Page, y float64) {
			p.text(x, y+a.up()+(a.height()-a.up()-a.down())/2, a, l)
			if lead != nil {
				lead(p, y, i)
			}
		}})
	}
	return out
}

// bound binds blocks together, the last of them to what follows where next.
func bound(all []block, next bool) []block {
	for i := range all {
		all[i].with = i < len(all)-1 || next
	}
	return all
}

// space is an empty block.
func space(high float64) block {
	return block{high: high, put: func(*Page, float64) {}}
}
