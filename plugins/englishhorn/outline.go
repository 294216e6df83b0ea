package englishhorn

import "canewright/plugins/sdk"

// outline draws a reed on a bare staple with a piece of tubing. Heights of the
// wire and the opening have no number anywhere: they are drawn when the player
// says one.
func outline() *sdk.Outline {
	value := func(name, value string, source sdk.Source) sdk.OutlineValue {
		return sdk.OutlineValue{Name: name, Value: value, Source: source}
	}
	own := func(name, title, value string) sdk.OutlineValue {
		return sdk.OutlineValue{Name: name, Title: title, Value: value, Source: memory("a reed of common size")}
	}
	const (
		thread = "staple.length - thread.top" // its upper end
		open   = "(tip.opening + 2 * tip.thickness)"
		waist  = "outline.waist_deep"
	)
	return &sdk.Outline{
		From: "the bottom of the staple",
		Values: []sdk.OutlineValue{
			value("overall", "57.5 mm", worked("the middle of 55 to 60 mm (musicalinstrumenthub.com)")),
			value("staple.length", "27 mm", published(hoveStaple, "27 mm")),
			value("thread.top", "0 mm", practice("at the end of the staple, never past it")),
			value("tip.start", "52 mm", published(hoveDays, "52 mm")),
			value("heart.top", "54 mm", published(hoveDays, "54 mm")),
			value("back.bark", "5 mm", published(hoveDays, "about 5 mm")),
			value("tubing.length", "5 mm", published(hoveTubing, "5 mm")),
			value("tubing.diameter", "6 mm", published(hoveTubing, "6 mm")),
			value("reed.width", "8 mm", memory("about 8 mm; an old reed of this size has 9.5 mm")),
			own("outline.widest", "widest place of the blades", "8.2 mm"),
			own("outline.widest_below_tip", "tip to the widest place", "3 mm"),
			own("outline.staple_bottom", "staple at the bottom", "5.6 mm"),
			own("outline.staple_top", "staple at the top, wide way", "4.2 mm"),
			own("outline.staple_top_deep", "staple at the top, narrow way", "3.4 mm"),
			own("outline.waist", "width at the top of the thread", "5.2 mm"),
			own("outline.waist_deep", "depth at the top of the thread", "4.5 mm"),
			own("outline.thread", "thickness of the thread", "0.4 mm"),
			own("outline.thread_bottom", "lower end of the thread", "12 mm"),
		},
		Parts: []sdk.OutlinePart{
			{Title: "staple", Look: "staple", Points: []sdk.OutlinePoint{
				{At: "0 mm", Width: "outline.staple_bottom", Deep: "outline.staple_bottom"},
				{At: "staple.length", Width: "outline.staple_top", Deep: "outline.staple_top_deep"},
			}},
			{Title: "tubing", Look: "tubing", Points: []sdk.OutlinePoint{
				{At: "0 mm", Width: "tubing.diameter", Deep: "tubing.diameter"},
				{At: "tubing.length", Width: "tubing.diameter", Deep: "tubing.diameter"},
			}},
			{Title: "blades", Look: "blade", Smooth: true, Points: []sdk.OutlinePoint{
				{At: thread, Width: "outline.waist", Deep: waist},
				{At: thread + " + (overall - " + thread + ") / 2", Width: "(outline.waist + 2 * outline.widest) / 3", Deep: "(" + waist + " + " + open + ") / 2"},
				{At: "overall - outline.widest_below_tip", Width: "outline.widest", Deep: open + " + (" + waist + " - " + open + ") * (outline.widest_below_tip / (overall - " + thread + "))"},
				{At: "overall", Width: "reed.width", Deep: open},
			}},
			{Title: "thread", Look: "thread", Smooth: true, Points: []sdk.OutlinePoint{
				{At: "outline.thread_bottom", Width: "outline.staple_bottom + outline.thread", Deep: "outline.staple_bottom + outline.thread"},
				{At: "outline.thread_bottom + 2 mm", Width: "outline.waist + 3 * outline.thread", Deep: "outline.waist + 3 * outline.thread"},
				{At: thread, Width: "outline.waist + outline.thread", Deep: waist + " + outline.thread"},
			}},
		},
		Marks: []sdk.OutlineMark{
			{Title: "top of the thread", As: "line", At: thread},
			{Title: "wire", As: "wire", At: thread + " + wire.height", Thick: "wire.thickness"},
			{Title: "bark ends", As: "line", At: "staple.length + back.bark"},
			{Title: "tip begins", As: "line", At: "tip.start", Middle: "heart.top"},
			{Title: "tip", As: "cut", At: "overall"},
		},
		Tip: &sdk.OutlineTip{Width: "reed.width", Opening: "tip.opening", Thickness: "tip.thickness"},
	}
}
