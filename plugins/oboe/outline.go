package oboe

import "canewright/plugins/sdk"

// outline draws a reed of the long scrape, whose places one author gives
// together; the numbers of the short scrape can be said instead. The tip's
// opening has no number anywhere, so the side is drawn when the player says one.
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
	)
	return &sdk.Outline{
		From: "the bottom of the staple",
		Values: []sdk.OutlineValue{
			value("overall", "70 mm", published(insightWords, "70 mm, long scrape")),
			value("staple.length", "47 mm", published(insightOne, "47 mm")),
			value("thread.top", "0.5 mm", published(boardHard, "0.5 mm below")),
			value("tip.start", "66 mm", published(insightWords, "66 mm of 70 mm")),
			value("tip.start_centre", "68 mm", published(insightWords, "about 2 mm above the sides")),
			value("heart.start", "62 mm", published(rachel, "62 mm")),
			value("back.bark", "3 mm", published(insightWords, "about 3 mm")),
			value("shape.widest", "7.2 mm", published(nedialkov, "7.2 mm")),
			value("reed.width", "7 mm", published(encyclopedia, "about 7 mm")),
			value("tip.thickness", "0.09 mm", worked("the middle of 0.08 to 0.10 mm, short scrape (oboepalas.com)")),
			own("outline.cork", "width of the cork", "7 mm"),
			own("outline.cork_length", "length of the cork", "24 mm"),
			own("outline.staple_bottom", "staple at the bottom", "5.4 mm"),
			own("outline.staple_top", "staple at the top, wide way", "3.4 mm"),
			own("outline.staple_top_deep", "staple at the top, narrow way", "2.7 mm"),
			own("outline.waist", "width at the top of the thread", "4.5 mm"),
			own("outline.waist_deep", "depth at the top of the thread", "3.7 mm"),
			own("outline.thread", "thickness of the thread", "0.4 mm"),
			own("outline.thread_bottom", "lower end of the thread", "29 mm"),
			own("outline.widest_below_tip", "widest place below the tip", "3 mm"),
		},
		Parts: []sdk.OutlinePart{
			{Title: "staple", Look: "staple", Points: []sdk.OutlinePoint{
				{At: "0 mm", Width: "outline.staple_bottom", Deep: "outline.staple_bottom"},
				{At: "staple.length", Width: "outline.staple_top", Deep: "outline.staple_top_deep"},
			}},
			{Title: "cork", Look: "cork", Points: []sdk.OutlinePoint{
				{At: "0 mm", Width: "outline.cork", Deep: "outline.cork"},
				{At: "outline.cork_length", Width: "outline.cork", Deep: "outline.cork"},
			}},
			{Title: "blades", Look: "blade", Smooth: true, Points: []sdk.OutlinePoint{
				{At: thread, Width: "outline.waist", Deep: "outline.waist_deep"},
				{At: thread + " + (overall - " + thread + ") / 2", Width: "(outline.waist + 2 * shape.widest) / 3", Deep: "(outline.waist_deep + " + open + ") / 2"},
				{At: "overall - outline.widest_below_tip", Width: "shape.widest", Deep: open + " + (outline.waist_deep - " + open + ") * (outline.widest_below_tip / (overall - " + thread + "))"},
				{At: "overall", Width: "reed.width", Deep: open},
			}},
			{Title: "thread", Look: "thread", Smooth: true, Points: []sdk.OutlinePoint{
				{At: "outline.thread_bottom", Width: "outline.staple_bottom - (outline.staple_bottom - outline.staple_top) * (outline.thread_bottom / staple.length) + 2 * outline.thread",
					Deep: "outline.staple_bottom - (outline.staple_bottom - outline.staple_top_deep) * (outline.thread_bottom / staple.length) + 2 * outline.thread"},
				{At: "outline.thread_bottom + 2 mm", Width: "outline.waist + 2 * outline.thread + 0.3 mm", Deep: "outline.waist + 2 * outline.thread + 0.3 mm"},
				{At: thread, Width: "outline.waist + outline.thread", Deep: "outline.waist_deep + outline.thread"},
			}},
		},
		Marks: []sdk.OutlineMark{
			{Title: "top of the thread", As: "line", At: thread},
			{Title: "end of the staple, inside", As: "line", At: "staple.length", Covered: true},
			{Title: "bark ends", As: "line", At: thread + " + back.bark"},
			{Title: "heart begins", As: "line", At: "heart.start"},
			{Title: "tip begins", As: "line", At: "tip.start", Middle: "tip.start_centre"},
			{Title: "tip", As: "cut", At: "overall"},
		},
		Tip: &sdk.OutlineTip{Width: "reed.width", Opening: "tip.opening", Thickness: "tip.thickness"},
	}
}
