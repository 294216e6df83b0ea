package comparison

import (
	"strconv"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Comparison is what two recipes say, side by side. Texts are as their authors
// wrote them: clean them before they are shown.
type Comparison struct {
	A          Head       `json:"a"`
	B          Head       `json:"b"`
	Instrument Instrument `json:"instrument"`
	Counts     Counts     `json:"counts"`
	Targets    []Row      `json:"targets"`
	Grids      []Grid     `json:"grids"`
	Settings   []Row      `json:"settings"`
	Stages     []Stage    `json:"stages"`
	Moved      []Moved    `json:"moved"`
	Clashes    []Clash    `json:"rules_never_both"`
	Refusals   []Refusal  `json:"rules_refuse_targets"`
	Remarks    []string   `json:"remarks"`

	a, b   *side
	stages matching
	moved  map[int]bool // of its pairs
}

// Head is a recipe's head.
type Head struct {
	Title      string `json:"title"`
	ID         string `json:"id"`
	Version    int    `json:"version"`
	Instrument string `json:"instrument,omitempty"`
	Major      int    `json:"major,omitempty"`
	Minor      int    `json:"minor,omitempty"`
	SureToPass string `json:"sure_to_pass"`
	SureToCut  string `json:"sure_to_cut"`
	Stages     int    `json:"stages"`
}

// Instrument says whether both are for the same one. Of two, the dimensions
// that both have by name: Comparable mean the same, Unlike do not.
type Instrument struct {
	Same       bool     `json:"same"`
	Comparable []string `json:"comparable,omitempty"`
	Unlike     []string `json:"unlike,omitempty"`
}

// Counts of what is told, by class. A grid counts once, by what is gravest in
// it; the waits of matched stages and the settings count too, and rules of which
// it is proved that they never both hold, as real.
type Counts struct {
	Same          int `json:"same"`
	Rounding      int `json:"rounding_only"`
	Overlapping   int `json:"overlapping"`
	Real          int `json:"real"`
	NotComparable int `json:"not_comparable"`
	OnlyA         int `json:"only_in_a"`
	OnlyB         int `json:"only_in_b"`
}

func (c *Counts) add(k Class) {
	switch k {
	case Same:
		c.Same++
	case Rounding:
		c.Rounding++
	case Overlapping:
		c.Overlapping++
	case Real:
		c.Real++
	case NotComparable:
		c.NotComparable++
	case OnlyA:
		c.OnlyA++
	case OnlyB:
		c.OnlyB++
	}
}

// Of two recipes, bound to whatever instrument each is for.
func Of(a, b *recipe.Bound) *Comparison {
	c := &Comparison{
		A: headOf(a), B: headOf(b), a: newSide(a), b: newSide(b),
		Targets: []Row{}, Grids: []Grid{}, Settings: []Row{}, Stages: []Stage{}, Moved: []Moved{}, Clashes: []Clash{}, Refusals: []Refusal{}, Remarks: []string{},
	}
	c.instrument()
	words := vocabulary{}
	fa, fb := make([]features, len(a.Stages)), make([]features, len(b.Stages))
	for i := range fa {
		fa[i] = words.features(c.a, i)
	}
	for i := range fb {
		fb[i] = words.features(c.b, i)
	}
	c.stages = match(fa, fb)
	if c.stages.capped {
		c.Remarks = append(c.Remarks, "so many stages have no partner of their name that the others were not looked through for what they do")
	}
	c.targets()
	c.settings()
	c.walk()
	c.order()
	c.rules()
	c.count()
	return c
}

func headOf(b *recipe.Bound) Head {
	h := Head{Title: b.File.Title, ID: b.File.ID, Version: b.File.Version, SureToPass: percent(b.Sure.Pass), SureToCut: percent(b.Sure.Cut), Stages: len(b.Stages)}
	if b.File.Instrument != "" {
		h.Instrument, h.Major, h.Minor = b.Set.ID, b.Set.Major, b.Set.Minor
	}
	return h
}

func percent(share float64) string { return strconv.FormatFloat(share*100, 'f', -1, 64) + " %" }

func (c *Comparison) instrument() {
	a, b := c.a.b.Set, c.b.b.Set
	c.Instrument.Same = a.ID == b.ID && a.Major == b.Major
	if c.Instrument.Same {
		return
	}
	for i := range a.Dimensions {
		d := &a.Dimensions[i]
		for k := range b.Dimensions {
			if b.Dimensions[k].Name != d.Name {
				continue
			}
			if why := unlike(d, &b.Dimensions[k]); why == "" {
				c.Instrument.Comparable = append(c.Instrument.Comparable, d.Name)
			} else {
				c.Instrument.Unlike = append(c.Instrument.Unlike, d.Name)
			}
		}
	}
}

func (c *Comparison) count() {
	for i := range c.Targets {
		c.Counts.add(c.Targets[i].Class)
	}
	for i := range c.Grids {
		c.Counts.add(c.Grids[i].Class)
	}
	for i := range c.Settings {
		c.Counts.add(c.Settings[i].Class)
	}
	for i := range c.Stages {
		if w := c.Stages[i].Wait; w != nil {
			c.Counts.add(w.Class)
		}
	}
	for range c.Clashes {
		c.Counts.add(Real)
	}
}

// settings side by side, those of A first.
func (c *Comparison) settings() {
	find := func(all []recipe.Setting, name string) *recipe.Setting {
		for i := range all {
			if all[i].Name == name {
				return &all[i]
			}
		}
		return nil
	}
	says := func(s *recipe.Setting) *Says {
		if s == nil {
			return nil
		}
		return &Says{Written: s.Value.String(), Because: s.Why, band: pointOf(s.Value)}
	}
	add := func(name string, a, b *recipe.Setting) {
		r := Row{Name: name, Title: name, A: says(a), B: says(b)}
		switch {
		case b == nil:
			r.Class = OnlyA
		case a == nil:
			r.Class = OnlyB
		case a.Value.Value.Kind != b.Value.Value.Kind:
			r.Class, r.Why = NotComparable, "one is "+a.Value.Value.Kind.String()+", the other "+b.Value.Value.Kind.String()
		default:
			r.unit = quantity.Main(a.Value.Value.Kind)
			if a.Value.Unit == b.Value.Unit {
				r.unit = kindUnit(a.Value.Value.Kind, a.Value.Unit)
			}
			r.judge()
		}
		if r.Class == Overlapping { // a setting has no tolerance
			r.Class = Real
		}
		r.Share = nil
		c.Settings = append(c.Settings, r)
	}
	for i := range c.a.b.Settings {
		s := &c.a.b.Settings[i]
		add(s.Name, s, find(c.b.b.Settings, s.Name))
	}
	for i := range c.b.b.Settings {
		if s := &c.b.b.Settings[i]; find(c.a.b.Settings, s.Name) == nil {
			add(s.Name, nil, s)
		}
	}
}
