package oboedamore

import "canewright/plugins/sdk"

// outline draws a reed on a bare staple. Nobody publishes a length of it: the
// player says the staple's, the reed's and the width, and it is drawn.
func outline() *sdk.Outline {
	own := func(name, title, value string) sdk.OutlineValue {
		return sdk.OutlineValue{Name: name, Title: title, Value: value, Source: memory("between an oboe's and an English horn's")}
	}
	const (
		thread = "staple.length - outline.thread_top" // its upper end
		open   = "(tip.opening + 2 * tip.thickness)"
	)
	return &sdk.Outline{
		From: "the bottom of the staple",
		Values: []sdk.OutlineValue{
			{Name: "outline.thread_top", Title: "thread short of the staple, drawn", Value: "0 mm", Source: practice("at the end of the staple, never past it")},
			own("outline.staple_bottom", "staple at the bottom", "5.4 mm"),
			own("outline.staple_top", "staple at the top, wide way", "3.9 mm"),
			own("outline.staple_top_deep", "staple at the top, narrow way", "3.1 mm"),
			own("outline.waist", "width at the top of the thread", "4.9 mm"),
			own("outline.waist_deep", "depth at the top of the thread", "4.1 mm"),
			own("outline.thread", "thickness of the thread", "0.4 mm"),
			own("outline.thread_bottom", "lower end of the thread", "12 mm"),
		},
		Parts: []sdk.OutlinePart{
			{Title: "staple", Look: "staple", Points: []sdk.OutlinePoint{
				{At: "0 mm", Width: "outline.staple_bottom", Deep: "outline.staple_bottom"},
				{At: "staple.length", Width: "outline.staple_top", Deep: "outline.staple_top_deep"},
			}},
			{Title: "blades", Look: "blade", Smooth: true, Points: []sdk.OutlinePoint{
				{At: thread, Width: "outline.waist", Deep: "outline.waist_deep"},
				{At: thread + " + (overall - " + thread + ") / 2", Width: "(outline.waist + 2 * reed.width) / 3", Deep: "(outline.waist_deep + " + open + ") / 2"},
				{At: "overall", Width: "reed.width", Deep: open},
			}},
			{Title: "thread", Look: "thread", Smooth: true, Points: []sdk.OutlinePoint{
				{At: "outline.thread_bottom", Width: "outline.staple_bottom + outline.thread", Deep: "outline.staple_bottom + outline.thread"},
				{At: "outline.thread_bottom + 2 mm", Width: "outline.waist + 3 * outline.thread", Deep: "outline.waist + 3 * outline.thread"},
				{At: thread, Width: "outline.waist + outline.thread", Deep: "outline.waist_deep + outline.thread"},
			}},
		},
		Marks: []sdk.OutlineMark{
			{Title: "top of the thread", As: "line", At: thread},
			{Title: "bark ends", As: "line", At: thread + " + back.bark"},
			{Title: "tip begins", As: "line", At: "tip.start", Middle: "heart.top"},
			{Title: "tip", As: "cut", At: "overall"},
		},
		Tip: &sdk.OutlineTip{Width: "reed.width", Opening: "tip.opening", Thickness: "tip.thickness"},
	}
}
