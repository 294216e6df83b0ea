package bassoon

import "canewright/plugins/sdk"

// outline draws one reed: places of one author where there are some, so that
// they belong together. Widths of the tube have no dimension of their own;
// they are remembered, and bore and wall agree with them.
func outline() *sdk.Outline {
	value := func(name, value string, source sdk.Source) sdk.OutlineValue {
		return sdk.OutlineValue{Name: name, Value: value, Source: source}
	}
	own := func(name, title, value string) sdk.OutlineValue {
		return sdk.OutlineValue{Name: name, Title: title, Value: value, Source: memory("a reed of common size")}
	}
	const (
		collar = "wire.first + collar.above_first_wire"
		butt   = "butt.bore + 2 * gouge.centre" // the tube is round there
	)
	// The collar is a step in the bark, on both blades.
	const front = "outline.collar_deep - 2 * (gouge.centre - profile.collar)"
	return &sdk.Outline{
		From: "the butt",
		Values: []sdk.OutlineValue{
			value("overall", "55.6 mm", worked("first wire at 27.0 mm and the tip 1 1/8 in above it")),
			value("wire.first", "27 mm", published(lacan2, "27 mm (1 1/16 in)")),
			value("wire.second", "19.1 mm", worked("5/16 in below a first wire at 27 mm")),
			value("wire.third", "4.8 mm", published(blog2023, "3/16 in")),
			value("wire.gauge", "22 AWG", published(lacan2, "22 AWG")),
			value("wire.turns", "2", published(blog2013, "2")),
			value("collar.above_first_wire", "3 mm", published(lacan4, "3 mm")),
			value("gouge.centre", "1.25 mm", published(stowellPrep, "1.25 or 1.3 mm")),
			value("profile.collar", "0.8 mm", published(brusky, "0.0314 in (0.80 mm)")),
			value("butt.bore", "5 mm", memory("about 5 mm")),
			value("tip.width", "14.7 mm", worked("the middle of 13.5 to 15.9 mm (Wikipedia, Double reed)")),
			value("tip.opening", "1.5 mm", memory("the middle of 1.0 to 2.0 mm")),
			value("tip.thickness", "0.12 mm", memory("about 0.10 to 0.15 mm")),
			own("outline.second_wire", "width at the second wire", "7.9 mm"),
			own("outline.second_wire_deep", "depth at the second wire", "7.2 mm"),
			own("outline.first_wire", "width at the first wire", "8.6 mm"),
			own("outline.first_wire_deep", "depth at the first wire", "6.7 mm"),
			own("outline.collar", "width at the collar", "9.1 mm"),
			own("outline.collar_deep", "depth behind the collar", "6.4 mm"),
			own("outline.thread", "thickness of the binding", "0.6 mm"),
			own("outline.thread_third_wire", "binding over the third wire", "1.8 mm"),
			own("outline.thread_start", "butt to the binding", "1 mm"),
		},
		Parts: []sdk.OutlinePart{
			{Title: "tube", Look: "bark", Smooth: true, Points: []sdk.OutlinePoint{
				{At: "0 mm", Width: butt, Deep: butt},
				{At: "wire.second", Width: "outline.second_wire", Deep: "outline.second_wire_deep"},
				{At: "wire.first", Width: "outline.first_wire", Deep: "outline.first_wire_deep"},
				{At: collar, Width: "outline.collar", Deep: "outline.collar_deep"},
			}},
			{Title: "blade", Look: "blade", Points: []sdk.OutlinePoint{
				{At: collar, Width: "outline.collar", Deep: front},
				{At: "overall", Width: "tip.width", Deep: "tip.opening + 2 * tip.thickness"},
			}},
			{Title: "binding", Look: "thread", Smooth: true, Points: []sdk.OutlinePoint{
				{At: "outline.thread_start", Width: butt + " + 2 * outline.thread", Deep: butt + " + 2 * outline.thread"},
				{At: "wire.third", Width: butt + " + 2 * outline.thread_third_wire", Deep: butt + " + 2 * outline.thread_third_wire"},
				{At: "wire.third + (wire.second - wire.third) / 2", Width: butt + " + 2.6 * outline.thread", Deep: butt + " + 2.6 * outline.thread"},
				{At: "wire.second - wire.turns * wire.gauge / 2", Width: "outline.second_wire + 2 * outline.thread", Deep: "outline.second_wire_deep + 2 * outline.thread"},
			}},
		},
		Marks: []sdk.OutlineMark{
			{Title: "third wire, under the binding", As: "wire", At: "wire.third", Thick: "wire.gauge", Turns: "wire.turns", Covered: true},
			{Title: "second wire", As: "wire", At: "wire.second", Thick: "wire.gauge", Turns: "wire.turns"},
			{Title: "first wire", As: "wire", At: "wire.first", Thick: "wire.gauge", Turns: "wire.turns"},
			{Title: "collar", As: "line", At: collar},
			{Title: "tip", As: "cut", At: "overall"},
		},
		Tip: &sdk.OutlineTip{Width: "tip.width", Opening: "tip.opening", Thickness: "tip.thickness"},
	}
}
