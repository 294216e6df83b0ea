package contrabassoon

import "canewright/plugins/sdk"

// outline draws what has a number: the reed's length, its tip and its bore.
// Tube, binding, collar and wires are drawn over it when the player says where
// they are.
func outline() *sdk.Outline {
	value := func(name, value string, source sdk.Source) sdk.OutlineValue {
		return sdk.OutlineValue{Name: name, Value: value, Source: source}
	}
	own := func(name, title, value string) sdk.OutlineValue {
		return sdk.OutlineValue{Name: name, Title: title, Value: value, Source: memory("a reed of common size")}
	}
	const (
		collar = "wire.first + collar.above_first_wire"
		butt   = "butt.bore + 2 * outline.wall"
		second = "(" + butt + " + outline.throat) / 2"
		// On the straight line from the throat to the tip.
		wide = "outline.throat + (tip.width - outline.throat) * ((wire.first + collar.above_first_wire - outline.throat_at) / (overall - outline.throat_at))"
	)
	return &sdk.Outline{
		From: "the butt",
		Values: []sdk.OutlineValue{
			value("overall", "71.5 mm", worked("the middle of 70 to 73 mm (esferamusical.com)")),
			value("tip.width", "18.5 mm", worked("the middle of 17 to 20 mm (esferamusical.com)")),
			value("butt.bore", "6.75 mm", worked("the middle of 6.5 to 7 mm (esferamusical.com)")),
			own("outline.wall", "wall of the tube", "1.4 mm"),
			own("outline.throat", "width of the throat", "10.4 mm"),
			own("outline.throat_at", "butt to the throat", "30 mm"),
			own("outline.thread", "thickness of the binding", "0.6 mm"),
			own("outline.thread_third_wire", "binding over the third wire", "1.8 mm"),
			own("outline.thread_start", "butt to the binding", "1 mm"),
		},
		Parts: []sdk.OutlinePart{
			{Title: "reed", Look: "blade", Points: []sdk.OutlinePoint{
				{At: "0 mm", Width: butt}, {At: "outline.throat_at", Width: "outline.throat"}, {At: "overall", Width: "tip.width"},
			}},
			{Title: "tube", Look: "bark", Points: []sdk.OutlinePoint{
				{At: "0 mm", Width: butt}, {At: "outline.throat_at", Width: "outline.throat"}, {At: collar, Width: wide},
			}},
			{Title: "binding", Look: "thread", Smooth: true, Points: []sdk.OutlinePoint{
				{At: "outline.thread_start", Width: butt + " + 2 * outline.thread"},
				{At: "wire.third", Width: butt + " + 2 * outline.thread_third_wire"},
				{At: "wire.third + (wire.second - wire.third) / 2", Width: butt + " + 2.6 * outline.thread"},
				{At: "wire.second - wire.gauge", Width: second + " + 2 * outline.thread"},
			}},
		},
		Marks: []sdk.OutlineMark{
			{Title: "third wire, under the binding", As: "wire", At: "wire.third", Thick: "wire.gauge", Turns: "2", Covered: true},
			{Title: "second wire", As: "wire", At: "wire.second", Thick: "wire.gauge", Turns: "2"},
			{Title: "first wire", As: "wire", At: "wire.first", Thick: "wire.gauge", Turns: "2"},
			{Title: "collar", As: "line", At: collar},
			{Title: "tip", As: "cut", At: "overall"},
		},
		Tip: &sdk.OutlineTip{Width: "tip.width", Opening: "tip.opening", Thickness: "tip.thickness"},
	}
}
