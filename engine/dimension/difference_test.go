package dimension

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"canewright/engine/quantity"
)

// complete is a set in which every field says something.
func complete() *Set {
	mm, _ := quantity.UnitNamed("mm")
	t, err := quantity.ParseTolerance("27 ± 3 mm", quantity.Style{Want: quantity.Length, Bare: mm})
	if err != nil {
		panic(err)
	}
	from := []Source{{Says: "27 mm", Who: "nobody", Grade: FromMemory}}
	return &Set{
		ID: "shawm", Title: "shawm, invented", Major: 1, Minor: 2, About: "invented",
		Dimensions: []Dimension{{
			Name: "wire.first", Title: "first wire", Aliases: []string{"top wire"}, Was: []string{"wire.top"}, Kind: quantity.Length, Unit: mm,
			Subject: "piece", Datum: "the butt", Condition: Dry, How: "with the eye", Tool: "ruler", More: "long", Less: "short",
			Plausible: t, Sources: from, Grid: &Grid{From: []string{"tip"}, Lanes: []string{"spine"}, Blades: []string{"A"}, Short: "w"}, Formula: "x - y",
		}},
		Symptoms: []Symptom{{Name: "loud", Words: "it shouts", Also: []string{"it roars"}}},
		Remedies: []Remedy{{
			Name: "close it", Symptoms: []string{"loud"}, When: []string{"wire.first > 1 mm"}, Because: "it is open", Do: "press",
			Wire: "first", Axis: "sides", Touches: TouchesWires, TakesOff: []string{"wire.first"}, Expect: []Effect{{"wire.first", Less}},
			Measure: []string{"wire.first"}, Sources: from,
		}},
		Outline: &Outline{
			From: "the butt", Values: []OutlineValue{{Name: "wide", Title: "width", Text: "7 mm", Q: 7_000_000, Source: from[0]}},
			Parts: []OutlinePart{{Title: "tube", Look: LookBark, Points: []OutlinePoint{{"0 mm", "wide", "wide"}}}},
			Marks: []OutlineMark{{Title: "wire", As: MarkWire, At: "wire.first", Middle: "1 mm", Thick: "1 mm", Turns: "3"}},
			Tip:   &OutlineTip{"wide", "1 mm", "1 mm"},
		},
	}
}

// changedOnce calls do with a set for every single value that can be another,
// and where in the set it is.
func changedOnce(do func(where string, now *Set)) {
	var walk func(where string, at func(*Set) reflect.Value)
	walk = func(where string, at func(*Set) reflect.Value) {
		v := at(complete())
		set := func(change func(reflect.Value)) {
			now := complete()
			change(at(now))
			do(where, now)
		}
		switch v.Kind() {
		case reflect.String:
			set(func(v reflect.Value) { v.SetString(v.String() + "x") })
		case reflect.Bool:
			set(func(v reflect.Value) { v.SetBool(!v.Bool()) })
		case reflect.Int, reflect.Int64:
			set(func(v reflect.Value) { v.SetInt(v.Int() + 1_000_000) })
		case reflect.Pointer:
			set(func(v reflect.Value) { v.SetZero() })
			walk(where, func(s *Set) reflect.Value { return at(s).Elem() })
		case reflect.Slice:
			set(func(v reflect.Value) { v.SetZero() })
			set(func(v reflect.Value) { v.Set(reflect.Append(v, another(v))) })
			for i := range v.Len() {
				walk(fmt.Sprintf("%s[%d]", where, i), func(s *Set) reflect.Value { return at(s).Index(i) })
			}
		case reflect.Struct:
			switch v.Interface().(type) {
			case quantity.Unit:
				cm, _ := quantity.UnitNamed("cm")
				set(func(v reflect.Value) { v.Set(reflect.ValueOf(cm)) })
				return
			case quantity.Kind:
				set(func(v reflect.Value) { v.Set(reflect.ValueOf(quantity.Mass)) })
				return
			}
			for i := range v.NumField() {
				walk(where+"."+v.Type().Field(i).Name, func(s *Set) reflect.Value { return at(s).Field(i) })
			}
		}
	}
	walk("", func(s *Set) reflect.Value { return reflect.ValueOf(s).Elem() })
}

// another is the first element of a slice under another name.
func another(v reflect.Value) reflect.Value {
	e := reflect.New(v.Type().Elem()).Elem()
	if v.Len() > 0 {
		e.Set(v.Index(0))
	}
	name := e
	if e.Kind() == reflect.Struct {
		name = e.Field(0) // Name, Title, Says or At
	}
	name.SetString(name.String() + "x")
	return e
}

func TestNoValueChangesUnsaid(t *testing.T) {
	t.Parallel()
	if d := complete().Differences(complete()); len(d) != 0 {
		t.Errorf("equal sets differ in %+v", d)
	}
	tried := 0
	changedOnce(func(where string, now *Set) {
		tried++
		d := complete().Differences(now)
		switch {
		case where == ".Major" || where == ".Minor":
			if len(d) != 0 {
				t.Errorf("%s: the version is no difference, got %+v", where, d)
			}
			return
		case len(d) == 0:
			t.Errorf("%s is another, and nothing is said", where)
			return
		case strings.HasSuffix(where, ".Plausible.Step") || strings.HasSuffix(where, ".Plausible.Kind"):
			return // never seen by a player; it is said that something differs
		}
		for _, one := range d {
			if one.Before == one.After || strings.Contains(one.What, "not shown") {
				t.Errorf("%s: nobody learns from %+v", where, one)
			}
		}
	})
	if tried < 100 {
		t.Errorf("only %d values were changed", tried)
	}
}

func TestWhatDiffersIsSaidByName(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say    string
		change func(*Set)
		want   []Difference
	}{
		{"a unit", func(s *Set) { s.Dimensions[0].Unit, _ = quantity.UnitNamed("in") }, []Difference{{"wire.first", "unit", "mm", "in"}}},
		{"a range", func(s *Set) {
			s.Dimensions[0].Plausible, _ = quantity.ParseTolerance("20 .. 33 mm", quantity.Style{Want: quantity.Length})
		}, []Difference{{"wire.first", "plausible", "27 ± 3 mm (24 to 30 mm)", "20 .. 33 mm"}, {"wire.first", "usual", "27 mm", ""}}},
		{"limits that are not what is written", func(s *Set) { s.Dimensions[0].Plausible.High.Q = 40_000_000 },
			[]Difference{{"wire.first", "plausible", "27 ± 3 mm (24 to 30 mm)", "27 ± 3 mm (24 to 40 mm)"}}},
		{"another dimension", func(s *Set) { s.Dimensions[0].Name = "wire.one" },
			[]Difference{{Of: "wire.first", Before: "wire.first"}, {Of: "wire.one", After: "wire.one"}}},
		{"another name", func(s *Set) { s.Dimensions[0].Name, s.Dimensions[0].Was = "wire.one", []string{"wire.first"} },
			[]Difference{{"wire.first", "name", "wire.first", "wire.one"}, {"wire.one", "called before", "wire.top", "wire.first"}}},
		{"no datum", func(s *Set) { s.Dimensions[0].Datum = "" }, []Difference{{"wire.first", "from", "the butt", ""}}},
		{"a remedy", func(s *Set) { s.Remedies[0].Do = "press hard" }, []Difference{{"remedy close it", "do", "press", "press hard"}}},
		{"no outline", func(s *Set) { s.Outline = nil }, []Difference{{Of: "outline", Before: "outline"}}},
		{"a usual value", func(s *Set) { s.Outline.Values[0].Text, s.Outline.Values[0].Q = "8 mm", 8_000_000 },
			[]Difference{{"outline, usual value of wide", "value", "7 mm", "8 mm"}}},
	} {
		now := complete()
		c.change(now)
		if got := complete().Differences(now); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: got  %+v\nwant %+v", c.say, got, c.want)
		}
	}
}

func TestOrderIsADifference(t *testing.T) {
	t.Parallel()
	before, now := complete(), complete()
	two := before.Dimensions[0]
	two.Name = "wire.second"
	before.Dimensions = append(before.Dimensions, two)
	now.Dimensions = []Dimension{two, now.Dimensions[0]}
	want := []Difference{{"", "order of each dimension", "wire.first, wire.second", "wire.second, wire.first"}}
	if got := before.Differences(now); !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v", got)
	}
}
