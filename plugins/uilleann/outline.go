package uilleann

import "canewright/plugins/sdk"

// outline draws a reed of one maker's numbers. The head is as wide as the slip,
// the tails are narrowed and bound on the staple. The bridle has no number
// anywhere: it is drawn when the player says where it sits.
func outline() *sdk.Outline {
	value := func(name, value string, source sdk.Source) sdk.OutlineValue {
		return sdk.OutlineValue{Name: name, Value: value, Source: source}
	}
	own := func(name, title, value string) sdk.OutlineValue {
		return sdk.OutlineValue{Name: name, Title: title, Value: value, Source: memory("a reed of common size")}
	}
	const binding = "overall - blade.exposed" // its upper end
	return &sdk.Outline{
		From: "the bottom of the staple",
		Values: []sdk.OutlineValue{
			value("overall", "80 mm", published(dooley, "80 mm")),
			value("staple.length", "48 mm", published(dooley, "48 mm")),
			value("staple.in_blades", "25 mm", published(dooley, "25 mm")),
			value("staple.outside", "3/16 in", published(gallagher, "3/16 in, of tubing")),
			value("blade.exposed", "25 mm", published(dooley, "25 mm")),
			value("blade.width", "12.5 mm", published(dooley, "12.5 mm")),
			value("reed.in_chanter", "15 mm", published(dooley, "15 mm")),
			own("outline.head", "length of the even head", "16 mm"),
			own("outline.shoulder", "width of the blades at the binding", "10 mm"),
			own("outline.tails", "width of the tails", "6 mm"),
			own("outline.thread", "thickness of the binding", "0.5 mm"),
			own("outline.bridle", "width of the bridle", "4 mm"),
		},
		Parts: []sdk.OutlinePart{
			{Title: "staple", Look: "staple", Points: []sdk.OutlinePoint{
				{At: "0 mm", Width: "staple.outside"}, {At: "staple.length", Width: "staple.outside"},
			}},
			{Title: "blades", Look: "blade", Points: []sdk.OutlinePoint{
				{At: "staple.length - staple.in_blades", Width: "outline.tails"},
				{At: binding, Width: "outline.shoulder"},
				{At: "overall - outline.head", Width: "blade.width"},
				{At: "overall", Width: "blade.width"},
			}},
			{Title: "binding", Look: "thread", Points: []sdk.OutlinePoint{
				{At: "staple.length - staple.in_blades - 2 mm", Width: "staple.outside + 2 * outline.thread"},
				{At: "staple.length - staple.in_blades + 1 mm", Width: "outline.tails + 2 * outline.thread"},
				{At: binding, Width: "outline.shoulder + 2 * outline.thread"},
			}},
		},
		Marks: []sdk.OutlineMark{
			{Title: "the chanter's top", As: "cut", At: "reed.in_chanter"},
			{Title: "eye of the staple, inside", As: "line", At: "staple.length", Covered: true},
			{Title: "bridle", As: "band", At: binding + " + bridle.height", Thick: "outline.bridle"},
			{Title: "bark ends", As: "line", At: "overall - scrape.length"},
			{Title: "lips", As: "cut", At: "overall"},
		},
		Tip: &sdk.OutlineTip{Width: "blade.width", Opening: "lips.opening", Thickness: "lips.thickness"},
	}
}
