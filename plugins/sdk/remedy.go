package sdk

import (
	"fmt"

	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// Symptom is something a player hears, feels or sees, in plain words.
type Symptom struct {
	Name  string   // "low-notes-resist": small letters and digits joined by hyphens
	Words string   // "low notes do not speak": as said at the bench, on one line
	Also  []string // other ways of saying it
}

// Remedy is one small step against one or more symptoms. Where makers
// contradict each other, write two.
type Remedy struct {
	Name     string   // "round the second wire": as said at the bench, on one line
	Symptoms []string // names of symptoms of this instrument
	When     []string // formulas that should hold where it fits: "crow.pitch > F4"
	Because  string   // the likely cause
	Do       string   // one small step
	Wire     string   // "first" (next to the blade), "second", "third"; empty: no wire
	Axis     string   // from where it is pressed: "top and bottom" or "sides"; may be empty
	Touches  Touches
	// TakesOff is what it makes smaller, the lane of a grid after a blank:
	// "blade.thickness spine". Needed where cane is taken: nothing is advised
	// where the blade is at its lower limit already.
	TakesOff []string
	Expect   []Effect // as the source observes it
	Measure  []string // what to measure afterwards
	NotReed  bool     // the cause is not the reed
	Sources  []Source
}

// Effect is where a dimension is seen to go.
type Effect struct {
	Dimension string
	Way       Way
}

// Way is More or Less.
type Way string

const (
	More Way = "more"
	Less Way = "less"
)

// Touches says what a remedy changes, from what can be taken back at once to
// what ends the reed.
type Touches string

const (
	TouchesNothing    Touches = "nothing"    // a soak, a rest, another day
	TouchesInstrument Touches = "instrument" // bocal, pads, knife stone, room
	TouchesWires      Touches = "wires"
	TouchesTube       Touches = "tube" // thread, seal, reaming
	TouchesEdge       Touches = "edge" // the sides of the blades
	TouchesLength     Touches = "length"
	TouchesKnife      Touches = "knife" // cane off the blades
	TouchesGivenUp    Touches = "given up"
)

func (r Remedy) wire() (*dimsetv1.Remedy, error) {
	w := &dimsetv1.Remedy{
		Name: r.Name, Symptoms: r.Symptoms, When: r.When, Because: r.Because, Do: r.Do,
		TakesOff: r.TakesOff, Measure: r.Measure, NotReed: r.NotReed,
	}
	var ok bool
	if w.Touches, ok = touches[r.Touches]; !ok {
		return nil, fmt.Errorf("it touches %q", r.Touches)
	}
	if w.Wire, ok = wires[r.Wire]; !ok {
		return nil, fmt.Errorf("wire %q; it can be first, second or third", r.Wire)
	}
	if w.Axis, ok = axes[r.Axis]; !ok {
		return nil, fmt.Errorf("axis %q; it can be top and bottom, or sides", r.Axis)
	}
	for _, e := range r.Expect {
		way, ok := ways[e.Way]
		if !ok {
			return nil, fmt.Errorf("it expects %q of %q; it can be more or less", e.Way, e.Dimension)
		}
		w.Expect = append(w.Expect, &dimsetv1.Effect{Dimension: e.Dimension, Way: way})
	}
	var err error
	w.Sources, err = sources(r.Sources)
	return w, err
}

var touches = map[Touches]dimsetv1.Touches{
	TouchesNothing:    dimsetv1.Touches_TOUCHES_NOTHING,
	TouchesInstrument: dimsetv1.Touches_TOUCHES_INSTRUMENT,
	TouchesWires:      dimsetv1.Touches_TOUCHES_WIRES,
	TouchesTube:       dimsetv1.Touches_TOUCHES_TUBE,
	TouchesEdge:       dimsetv1.Touches_TOUCHES_EDGE,
	TouchesLength:     dimsetv1.Touches_TOUCHES_LENGTH,
	TouchesKnife:      dimsetv1.Touches_TOUCHES_KNIFE,
	TouchesGivenUp:    dimsetv1.Touches_TOUCHES_GIVEN_UP,
}

var wires = map[string]dimsetv1.Wire{
	"": dimsetv1.Wire_WIRE_UNSPECIFIED, "first": dimsetv1.Wire_WIRE_FIRST,
	"second": dimsetv1.Wire_WIRE_SECOND, "third": dimsetv1.Wire_WIRE_THIRD,
}

var axes = map[string]dimsetv1.Axis{
	"": dimsetv1.Axis_AXIS_UNSPECIFIED, "top and bottom": dimsetv1.Axis_AXIS_TOP_AND_BOTTOM, "sides": dimsetv1.Axis_AXIS_SIDES,
}

var ways = map[Way]dimsetv1.Way{More: dimsetv1.Way_WAY_MORE, Less: dimsetv1.Way_WAY_LESS}
