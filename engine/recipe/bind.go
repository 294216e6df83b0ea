package recipe

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/formula"
	"canewright/engine/quantity"
	"canewright/engine/tool"
)

// Bind joins a loaded recipe to its dimension set (nil for a checklist without
// an instrument) and the tools. The Bound is nil when a finding is an error.
func Bind(f *File, set *dimension.Set, tools *tool.Catalogue) (*Bound, diagnostic.List) {
	if set == nil {
		set = &dimension.Set{}
	}
	b := &binder{
		Bound: &Bound{File: f, Set: set, byName: map[string]int{}},
		tools: tools, inForce: map[int]*Target{}, grids: map[string]*dimension.Dimension{},
	}
	b.slots()
	b.sure(f.sure)
	b.settings(f.settings)
	b.derived()
	b.cells(f.targets, f.stages)
	b.targets(f.targets)
	flat := b.flatten(f.stages, "", 0)
	if len(flat) == 0 && !b.list.Failed() {
		b.list.Errorf("recipe/no-stages", diagnostic.Span{Source: f.Source}, "this recipe has no stages")
	}
	b.names = make([]string, len(flat))
	for i, s := range flat {
		b.names[i] = s.raw.name.Value
	}
	keys := map[string]int{}
	for i, s := range flat {
		b.at = i
		st := b.stage(s)
		keys[st.Key]++
		if n := keys[st.Key]; n > 1 {
			st.Key += " " + strconv.Itoa(n)
		}
		b.Stages = append(b.Stages, st)
	}
	if b.list.Failed() {
		return nil, b.list
	}
	return b.Bound, b.list
}

type binder struct {
	*Bound
	list    diagnostic.List
	tools   *tool.Catalogue
	inForce map[int]*Target // by slot, as the stages go by
	grids   map[string]*dimension.Dimension
	names   []string // of the flattened stages
	at      int      // index of the stage being bound
	group   int
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
}

func (b *binder) newSlot(s Slot) int {
	b.Slots = append(b.Slots, s)
	b.byName[s.Name] = len(b.Slots) - 1
	return len(b.Slots) - 1
}

// fault reports a number's error at its place in the file.
func (b *binder) fault(code string, t diagnostic.Text, err error) {
	if e, ok := err.(*quantity.Error); ok {
		b.list.Hinted(code, t.Span(e.From, e.To), e.Hint, "%s", e.Message)
		return
	}
	b.list.Errorf(code, t.Whole, "%s", err.Error())
}

var settingForm = regexp.MustCompile(`^[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)*$`)

func (b *binder) settings(all []setting) {
	for _, s := range all {
		name := s.name.Value
		if !settingForm.MatchString(name) {
			b.list.Hinted("recipe/name", s.name.Whole, "small letters, digits, _ and points: shaper.width", "%q cannot be the name of a setting", name)
			continue
		}
		if _, taken := b.byName[name]; taken {
			b.list.Hinted("recipe/name-taken", s.name.Whole, "choose another name for the setting, or set a target", "%q is a dimension of this instrument", name)
			continue
		}
		v, err := b.anyValue(s.value, s.flow)
		if err != nil {
			b.fault("recipe/bad-value", s.value, err)
			continue
		}
		slot := b.newSlot(Slot{Name: name, Setting: true})
		b.Bound.Settings = append(b.Bound.Settings, Setting{Name: name, Why: s.why.Value, Value: v, Slot: slot})
	}
}

// anyValue reads a value whose kind its unit tells.
func (b *binder) anyValue(t diagnostic.Text, flow bool) (quantity.Entered, error) {
	var first error
	for _, k := range []quantity.Kind{quantity.Length, quantity.Mass, quantity.Force, quantity.Angle, quantity.Time, quantity.Temperature, quantity.Pitch, quantity.Interval, quantity.Frequency, quantity.Ratio, quantity.Density} {
		e, err := quantity.Parse(t.Value, quantity.Style{Want: k, Point: flow})
		if err == nil {
			return e, nil
		}
		if first == nil {
			first = err
		}
	}
	return quantity.Entered{}, first
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
		return formula.Symbol{}, false
	}
	s := b.Slots[i]
	if s.Setting {
		for _, v := range b.Bound.Settings {
			if v.Slot == i {
				return formula.Symbol{Name: name, Slot: i, Kind: v.Value.Value.Kind}, true
			}
		}
	}
	if s.Dimension.Grid != nil && s.Cell == nil {
		return formula.Symbol{}, false
	}
	return formula.Symbol{Name: s.Name, Slot: i, Kind: s.Dimension.Kind, Condition: string(s.Dimension.Condition), Datum: s.Dimension.Datum}, true
}

// Grid is part of formula.Scope.
func (b *binder) Grid(name string) bool { return b.grids[name] != nil }

// Cell is part of formula.Scope.
func (b *binder) Cell(name string, args []string) (formula.Symbol, string, bool) {
	d := b.grids[name]
	form := fmt.Sprintf("write %s(3 mm, %s, %s)", d.Grid.Short, d.Grid.Lanes[0], d.Grid.Blades[0])
	if len(args) != 3 {
		return formula.Symbol{}, form, false
	}
	at, err := quantity.Parse(args[0], quantity.Style{Want: quantity.Length, Point: true})
	if err != nil {
		return formula.Symbol{}, form, false
	}
	var have []string
	for i, s := range b.Slots {
		if s.Cell == nil || s.Dimension != d {
			continue
		}
		if s.Cell.At == at.Value.Q && s.Cell.Lane == args[1] && s.Cell.Blade == args[2] {
			return formula.Symbol{Name: s.Name, Slot: i, Kind: d.Kind, Condition: string(d.Condition), Datum: s.Cell.From}, "", true
		}
		if s.Cell.Blade == d.Grid.Blades[0] {
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
	var names []string
	for _, s := range b.Slots {
		if s.Cell == nil {
			names = append(names, s.Name)
			if s.Dimension != nil {
				names = append(names, s.Dimension.Aliases...)
			}
		}
	}
	near := diagnostic.Near(name, names)
	if i, ok := b.byName[near]; ok && near != "" {
		return b.Slots[i].Name // an alias stands for the dimension's own name
	}
	return near
}

// dimension finds a dimension by the name written, or reports it.
func (b *binder) dimension(t diagnostic.Text) (int, bool) {
	if i, ok := b.byName[t.Value]; ok && !b.Slots[i].Setting {
		return i, true
	}
	if d, ok := b.Set.Find(t.Value); ok {
		return b.byName[d.Name], true
	}
	hint := "canewright instruments " + b.File.Instrument + " lists them"
	if n := b.Near(t.Value); n != "" {
		hint = "did you mean " + n + "?"
	}
	if b.File.Instrument == "" {
		hint = "write instrument: bassoon 1 at the top to use its dimensions"
	}
	b.list.Hinted("recipe/unknown-dimension", t.Whole, hint, "%q is not a dimension of this instrument", t.Value)
	return 0, false
}
