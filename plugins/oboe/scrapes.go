package oboe

import "canewright/plugins/sdk"

// scrapes take cane: measured first, one stroke or two, then tried.
func scrapes() []sdk.Remedy {
	scrape := func(name, because, do string, off []string, symptoms, when []string, sources ...sdk.Source) sdk.Remedy {
		r := sdk.Remedy{
			Name: name, Symptoms: symptoms, When: when, Because: because, Do: do, Touches: sdk.TouchesKnife,
			TakesOff: off, Measure: append(append([]string{}, off...), "crow.pitch"), Sources: sources,
		}
		for _, o := range off {
			r.Expect = append(r.Expect, less(o))
		}
		return r
	}
	clip := func(name, because string, symptoms, when []string, sources ...sdk.Source) sdk.Remedy {
		return sdk.Remedy{
			Name: name, Symptoms: symptoms, When: when, Because: because,
			Do:      "Measure the overall length. If there is length to spare, a hair's breadth off the tip, then crow.",
			Touches: sdk.TouchesLength, TakesOff: []string{"overall", "tip.length", "cane.above_staple"},
			Expect: []sdk.Effect{less("overall"), more("crow.pitch")}, Measure: []string{"overall", "crow.pitch"}, Sources: sources,
		}
	}
	tip, heart, blade := "tip.thickness", "heart.thickness", "blade.thickness"
	channels, spine, rails := blade+" channels", blade+" spine", blade+" rails"
	return []sdk.Remedy{
		clip("a hair off a flat reed", "too long, or too much is off", []string{"flat"}, nil,
			published(insightFixes, "flat: clip the tip; it raises the pitch and makes the reed harder")),
		clip("a hair off a bright reed", "the tip is long; blend, heart and back come first", []string{"bright"}, nil,
			published(insightFixes, "too bright: lengthen the blend, scrape heart and back, and/or clip")),
		clip("a hair off a low crow", "too long, or too thin", []string{"crow-low"}, []string{"crow.pitch < C5 - 20 cents"},
			memory("a crow below C: clip")),
		scrape("a little off in one place", "too much wood", "Measure tip, heart and back. Where there is most to spare, a few strokes, all four quarters alike, then try.",
			[]string{tip, heart, blade}, []string{"hard-sharp", "hard"}, nil,
			published(insightFixes, "hard and sharp: one place at a time on all four quadrants: tip, sides of the heart, back, spine; try after a few strokes")),
		scrape("lengthen the blend", "the blend is short", "Measure the heart. If there is cane to spare, draw the blend a little further back, four quarters alike.",
			[]string{heart, spine}, []string{"bright"}, nil,
			published(insightFixes, "too bright: the blend is short, the heart thick")),
		scrape("a long V from the back", "the back is stiff", "Measure the back. If there is cane to spare, dust in a long V from its centre to the edges, four quarters alike.",
			[]string{channels, rails}, []string{"hard", "batch-hard"}, nil,
			published(boardHard, "still hard, short scrape: dust in a long V from back centre to the edges, four quadrants alike")),
		scrape("clear the rails from the tip", "the rails run up into the tip", "Measure the corners of the tip. If they are thick, clear them with the lightest stroke.",
			[]string{rails, "tip.corner"}, []string{"no-response"}, nil,
			published(boardHard, "no response: the rails run up into the tip; clear them")),
		scrape("thin the channels along the bark", "the channels are thick", "Measure the channels. If there is cane to spare, a stroke hard against the bark, four alike, then play low.",
			[]string{channels}, []string{"low-poor"}, nil,
			published(boardHard, "low register poor: thin the channels hard against the bark")),
		scrape("lengthen the back", "the channels alone were not enough", "Measure the bark under the back. If there is bark to spare, make the back a little longer; if the pitch falls, the tip comes next.",
			[]string{"back.bark", channels}, []string{"low-poor"}, nil,
			published(boardHard, "if that is not enough lengthen the back; if the pitch falls clip, then feather the corners")),
		scrape("thin a thick heart", "the heart chokes the back", "Measure the heart. Above 0.50 mm, a few strokes; it should not come under 0.43 mm.",
			[]string{heart, spine}, []string{"chokes"}, []string{"heart.thickness > 0.50 mm"},
			published(boardHeart, "0.50 mm, not under 0.43 mm; more chokes the back")),
		scrape("smooth the blend", "the tip is strong against the back, the blend ragged", "Measure tip and heart. If there is cane to spare, smooth the ramp between them, no more.",
			[]string{tip, spine}, []string{"harsh"}, nil,
			published(boardHeart, "harsh, thin: the tip too strong against the back, or a ragged blend; smooth the ramp")),
		scrape("one scraping on the third day", "a new reed settles", "Measure the tip. On the third or fourth day, once over tip and back if there is cane to spare, then leave it.",
			[]string{tip, blade}, []string{"hardens"}, []string{"reed.days >= 3 d", "reed.days <= 4 d"},
			published(ruizFive, "days 1 to 4: one general scraping on day 3 or 4")),
		scrape("lighten tip or back of a high crow", "tip or back is thick", "Measure tip and back. Where there is cane to spare, two strokes, then crow again.",
			[]string{tip, blade}, []string{"crow-high"}, []string{"crow.pitch > C5 + 20 cents"},
			memory("a crow above C: scrape tip or back")),
	}
}
