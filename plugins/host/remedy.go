package host

import (
	"fmt"

	"canewright/engine/dimension"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// remedyFromWire refuses, as fromWire does, only words it cannot turn into the
// engine's types.
func remedyFromWire(w *dimsetv1.Remedy) (dimension.Remedy, error) {
	r := dimension.Remedy{
		Name: w.GetName(), Symptoms: w.GetSymptoms(), When: w.GetWhen(), Because: w.GetBecause(), Do: w.GetDo(),
		TakesOff: w.GetTakesOff(), Measure: w.GetMeasure(), NotReed: w.GetNotReed(),
	}
	var ok bool
	if r.Touches, ok = touches[w.GetTouches()]; !ok {
		return r, fmt.Errorf("what it touches, %d, is unknown", w.GetTouches())
	}
	if r.Wire, ok = wires[w.GetWire()]; !ok {
		return r, fmt.Errorf("its wire %d is unknown", w.GetWire())
	}
	if r.Axis, ok = axes[w.GetAxis()]; !ok {
		return r, fmt.Errorf("its axis %d is unknown", w.GetAxis())
	}
	for _, e := range w.GetExpect() {
		way, ok := ways[e.GetWay()]
		if !ok {
			return r, fmt.Errorf("where %q goes, %d, is unknown", clip(printable(e.GetDimension())), e.GetWay())
		}
		r.Expect = append(r.Expect, dimension.Effect{Dimension: e.GetDimension(), Way: way})
	}
	var err error
	r.Sources, err = sourcesFromWire(w.GetSources())
	return r, err
}

var touches = map[dimsetv1.Touches]dimension.Touches{
	dimsetv1.Touches_TOUCHES_NOTHING:    dimension.TouchesNothing,
	dimsetv1.Touches_TOUCHES_INSTRUMENT: dimension.TouchesInstrument,
	dimsetv1.Touches_TOUCHES_WIRES:      dimension.TouchesWires,
	dimsetv1.Touches_TOUCHES_TUBE:       dimension.TouchesTube,
	dimsetv1.Touches_TOUCHES_EDGE:       dimension.TouchesEdge,
	dimsetv1.Touches_TOUCHES_LENGTH:     dimension.TouchesLength,
	dimsetv1.Touches_TOUCHES_KNIFE:      dimension.TouchesKnife,
	dimsetv1.Touches_TOUCHES_GIVEN_UP:   dimension.TouchesGivenUp,
}

var wires = map[dimsetv1.Wire]string{
	dimsetv1.Wire_WIRE_UNSPECIFIED: "", dimsetv1.Wire_WIRE_FIRST: "first",
	dimsetv1.Wire_WIRE_SECOND: "second", dimsetv1.Wire_WIRE_THIRD: "third",
}

var axes = map[dimsetv1.Axis]string{
	dimsetv1.Axis_AXIS_UNSPECIFIED: "", dimsetv1.Axis_AXIS_TOP_AND_BOTTOM: "top and bottom", dimsetv1.Axis_AXIS_SIDES: "sides",
}

var ways = map[dimsetv1.Way]dimension.Way{
	dimsetv1.Way_WAY_MORE: dimension.More, dimsetv1.Way_WAY_LESS: dimension.Less,
}
