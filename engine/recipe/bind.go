package recipe

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/formula"
	"canewright/engine/quantity"
	"canewright/engine/tool"
)

// mostHints: who has more findings than this mends the first ones first, and
// a hostile file must not make every one of them cost a search.
const mostHints = 100

// Bind joins a loaded recipe to its dimension set (nil for a checklist without
// an instrument) and the tools. The Bound is nil when a finding is an error.
func Bind(f *File, set *dimension.Set, tools *tool.Catalogue) (*Bound, diagnostic.List) {
	own := dimension.Set{}
	if set != nil {
		own = *set
		own.Dimensions = slices.Clone(set.Dimensions) // what the caller does with his does not matter
	}
	b := &binder{
		Bound:   &Bound{File: f, Set: &own, Split: -1, byName: map[string]int{}, tools: tools},
		inForce: map[int]*Target{}, grids: map[string]*dimension.Dimension{},
		settingAt: map[int]quantity.Entered{}, rules: map[diagnostic.Pos]*formula.Formula{}, missed: map[string]bool{},
		old: map[string]int{}, asked: map[string]bool{},
		latest: map[string]int{}, namedAt: map[string][]int{}, cellsOf: map[*dimension.Dimension][]int{},
	}
	b.slots()
	b.sure(f.sure)
	b.settings(f.settings)
	b.derived()
	b.cells(f.targets, f.stages)
	if b.tooLong {
		return nil, b.list
	}
	b.targets(f.targets, -1)
	b.remedies(f)
	b.measureFile(f.stages)
	b.flatten(f.stages, "")
	flat := b.flat
	switch {
	case b.tooLong:
		return nil, b.list
	case len(flat) == 0 && !b.list.Failed():
		b.list.Hinted("recipe/no-stages", f.stagesAt, "write at least one: - stage: soak", "this recipe has no stages")
	}
	for i, s := range flat {
		b.namedAt[s.raw.name.Value] = append(b.namedAt[s.raw.name.Value], i)
	}
	taken, last := map[string]bool{}, map[string]int{} // last: the number a name got last
	b.Stages = make([]Stage, 0, len(flat))
	for i, s := range flat {
		b.at = i
		st := b.stage(s)
		st.Key = st.Name
		for n := max(2, last[st.Name]+1); taken[st.Key]; n++ {
			st.Key = st.Name + " " + strconv.Itoa(n)
			last[st.Name] = n
		}
		taken[st.Key] = true
		b.Stages = append(b.Stages, st)
		if b.tooLong {
			return nil, b.list
		}
	}
	b.tubes(flat)
	if b.list.Failed() {
		return nil, b.list
	}
	return b.Bound, b.list
}

type binder struct {
	*Bound
	list    diagnostic.List
	inForce map[int]*Target // by slot, as the stages go by
	grids   map[string]*dimension.Dimension
	at      int // index of the stage being bound
	group   int
	tooLong bool

	functions []formula.Function

	flat      []flatStage
	latest    map[string]int   // name → its last stage in flat
	namedAt   map[string][]int // name → all its stages in flat, once that is whole
	written   int              // stages in the file
	partsLeft int              // parts in the file less those in flat
	measured  int              // measures of all stages
	shown     int              // bytes put into texts
	compared  int              // names compared with misspelt ones
	cellsOf   map[*dimension.Dimension][]int

	old   map[string]int  // slot of a dimension by a name it had before
	asked map[string]bool // old names the formula being compiled reads

	toolNames, materialNames []string

	settingAt map[int]quantity.Entered            // by slot
	rules     map[diagnostic.Pos]*formula.Formula // by where they stand: repeats share them
	missed    map[string]bool                     // names that are no dimension
	stations  int                                 // of all grids
}

func (b *binder) slots() {
	for i := range b.Set.Dimensions {
		d := &b.Set.Dimensions[i]
		b.Slots = append(b.Slots, Slot{Name: d.Name, Dimension: d})
		b.byName[d.Name] = i
		if d.Grid != nil {
			b.grids[d.Name] = d
			b.grids[d.Grid.Short] = d
		}
	}
	for i, d := range b.Set.Dimensions {
		for _, a := range d.Aliases {
			if _, taken := b.byName[a]; !taken {
				b.byName[a] = i
			}
		}
	}
	b.oldNames()
}

func (b *binder) newSlot(s Slot) int {
	b.Slots = append(b.Slots, s)
	b.byName[s.Name] = len(b.Slots) - 1
	if s.Cell != nil {
		b.cellsOf[s.Dimension] = append(b.cellsOf[s.Dimension], len(b.Slots)-1)
	}
	return len(b.Slots) - 1
}

// mostCompared is how many names are compared with misspelt ones, in all: the
// first findings get their hints, and a file full of them costs no more.
const mostCompared = 50_000

// near is the one of n names that is close to word, or "".
func (b *binder) near(word string, n int, names func() []string) string {
	if b.compared += n; b.compared > mostCompared {
		return ""
	}
	return diagnostic.Near(word, names())
}

// fault reports a number's error at its place in the file; form is how to
// write it, for errors that do not say so themselves.
func (b *binder) fault(code string, t diagnostic.Text, err error, form string) {
	if e, ok := err.(*quantity.Error); ok {
		b.list.Hinted(code, t.Span(e.From, e.To), cmp.Or(e.Hint, form), "%s", e.Message)
		return
	}
	b.list.Hinted(code, t.Whole, form, "%s", err.Error())
}

var settingForm = regexp.MustCompile(`^[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)*$`)

func (b *binder) settings(all []setting) {
	for _, s := range all {
		name := s.name.Value
		if !settingForm.MatchString(name) {
			b.list.Hinted("recipe/name", s.name.Whole, "small letters, digits, _ and points: shaper.width", "%q cannot be the name of a setting", clip(name))
			continue
		}
		if _, taken := b.byName[name]; taken {
			b.list.Hinted("recipe/name-taken", s.name.Whole, "choose another name for the setting, or set a target", "%q is a dimension of this instrument", clip(name))
			continue
		}
		if b.grids[name] != nil {
			b.list.Hinted("recipe/name-taken", s.name.Whole, "choose another name for the setting", "formulas read the stations of %s by the name %q", b.grids[name].Name, clip(name))
			continue
		}
		v, err := b.anyValue(s.value, s.flow)
		if err != nil {
			b.fault("recipe/bad-value", s.value, err, "write a number and its unit: 14.6 mm")
			continue
		}
		slot := b.newSlot(Slot{Name: name, Setting: true})
		b.settingAt[slot] = v
		b.Bound.Settings = append(b.Bound.Settings, Setting{Name: name, Why: s.why.Value, Value: v, Slot: slot})
	}
}

// anyValue reads a value whose kind its unit tells.
func (b *binder) anyValue(t diagnostic.Text, flow bool) (quantity.Entered, error) {
	var best *quantity.Error
	for _, k := range []quantity.Kind{quantity.Length, quantity.Mass, quantity.Force, quantity.Angle, quantity.Time, quantity.Temperature, quantity.Pitch, quantity.Interval, quantity.Frequency, quantity.Ratio, quantity.Density} {
		e, err := quantity.Parse(t.Value, quantity.Style{Want: k, Point: flow})
		if err == nil {
			return e, nil
		}
		if q, ok := err.(*quantity.Error); ok && (best == nil || q.From > best.From) {
			best = q
		}
	}
	return quantity.Entered{}, best
}

func (b *binder) derived() {
	for i := range b.Set.Dimensions {
		d := &b.Set.Dimensions[i]
		if d.Formula == "" {
			continue
		}
		f, list := formula.Compile(diagnostic.Plain(b.Set.ID+": "+d.Name, d.Formula), b)
		if list.Failed() {
			b.list.Append(list)
			continue
		}
		b.Bound.Derived = append(b.Bound.Derived, Derived{i, f})
	}
}

// Lookup makes the binder a formula.Scope.
func (b *binder) Lookup(name string) (formula.Symbol, bool) {
	i, ok := b.byName[name]
	if !ok {
		if i, ok = b.oldName(name); !ok {
			return formula.Symbol{}, false
		}
	}
	s := b.Slots[i]
	if s.Setting {
		return formula.Symbol{Name: name, Slot: i, Kind: b.settingAt[i].Value.Kind}, true
	}
	if s.Dimension.Grid != nil && s.Cell == nil {
		return formula.Symbol{}, false
	}
	return formula.Symbol{Name: s.Name, Slot: i, Kind: s.Dimension.Kind, Condition: string(s.Dimension.Condition), Datum: s.Dimension.Datum}, true
}

// Grid is part of formula.Scope.
func (b *binder) Grid(name string) bool { return b.grid(name) != nil }

func (b *binder) grid(name string) *dimension.Dimension {
	if d := b.grids[name]; d != nil {
		return d
	}
	if i, ok := b.oldName(name); ok && b.Slots[i].Dimension.Grid != nil {
		return b.Slots[i].Dimension
	}
	return nil
}

// Cell is part of formula.Scope.
func (b *binder) Cell(name string, args []string) (formula.Symbol, string, bool) {
	d := b.grid(name)
	form := fmt.Sprintf("write %s(3 mm, %s, %s)", d.Grid.Short, d.Grid.Lanes[0], d.Grid.Blades[0])
	if len(args) != 3 {
		return formula.Symbol{}, form, false
	}
	at, err := quantity.Parse(args[0], quantity.Style{Want: quantity.Length, Point: true})
	if err != nil {
		return formula.Symbol{}, form, false
	}
	for _, i := range b.cellsOf[d] {
		s := &b.Slots[i]
		if s.Cell.At == at.Value.Q && s.Cell.Lane == args[1] && s.Cell.Blade == args[2] {
			return formula.Symbol{Name: s.Name, Slot: i, Kind: d.Kind, Condition: string(d.Condition)}, "", true
		}
	}
	var have []string
	for _, i := range b.cellsOf[d] {
		if s := &b.Slots[i]; s.Cell.Blade == d.Grid.Blades[0] && len(have) < mostPlaces {
			have = append(have, s.Cell.AtText+" "+s.Cell.Lane)
		}
	}
	if len(have) == 0 {
		return formula.Symbol{}, "no stations are set for " + d.Name + "; write its grid under targets", false
	}
	return formula.Symbol{}, "this recipe's stations are " + strings.Join(have, ", ") + ", on blades " + strings.Join(d.Grid.Blades, " and "), false
}

// Near is part of formula.Scope.
func (b *binder) Near(name string) string {
	if b.list.Len() > mostHints {
		return ""
	}
	near := b.near(name, len(b.Slots), func() []string {
		var names []string
		for _, s := range b.Slots {
			if s.Cell == nil {
				names = append(names, s.Name)
				if s.Dimension != nil {
					names = append(names, s.Dimension.Aliases...)
				}
			}
		}
		return names
	})
	if i, ok := b.byName[near]; ok && near != "" {
		return b.Slots[i].Name // an alias stands for the dimension's own name
	}
	return near
}

// mostMissed: behind so many words that are no dimension, titles are not
// searched for more.
const mostMissed = 5_000

// find is the slot of a dimension, alias, title or setting.
func (b *binder) find(name string) (int, bool) {
	if i, ok := b.byName[name]; ok {
		return i, true
	}
	if b.missed[name] || len(b.missed) > mostMissed {
		return 0, false
	}
	if d, ok := b.Set.Find(name); ok {
		return b.byName[d.Name], true
	}
	b.missed[name] = true
	return 0, false
}

// dimension finds a dimension by the name written, or reports it.
func (b *binder) dimension(t diagnostic.Text) (int, bool) {
	if i, ok := b.find(t.Value); ok && !b.Slots[i].Setting {
		b.renamed(t, 0, utf8.RuneCountInString(t.Value))
		return i, true
	}
	hint := "canewright instruments " + b.File.Instrument + " lists them"
	if n := b.Near(t.Value); n != "" {
		hint = "did you mean " + n + "?"
	}
	if b.File.Instrument == "" {
		hint = "write instrument: bassoon 1 at the top to use its dimensions"
	}
	b.list.Hinted("recipe/unknown-dimension", t.Whole, hint, "%q is not a dimension of this instrument", clip(t.Value))
	return 0, false
}
