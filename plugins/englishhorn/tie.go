package englishhorn

import "canewright/plugins/sdk"

// tie: the staple, what is tied to it, and what seals it on the bocal.
func tie() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "staple.length", Title: "staple", Aliases: []string{"staple length", "length of the staple"},
			Kind: "length", Unit: "mm", Subject: "staple", Datum: "the bottom of the staple",
			How: "from the bocal's end to the other", Tool: "caliper",
			More: "long", Less: "short", Plausible: "23 .. 32 mm",
			Sources: []sdk.Source{
				published(hoveStaple, "27 mm; a screw collar adds 1 mm"),
				published(museumHorn, "27 mm, with an old instrument"),
			},
		},
		{
			Name: "tie.length", Title: "tied length", Aliases: []string{"tie length", "tying length"},
			Kind: "length", Unit: "mm", Datum: "the bottom of the staple",
			How: "from the bocal's end to the fold, before the tip is opened", Tool: "ruler",
			More: "long", Less: "short",
			Sources: []sdk.Source{practice("width of the cane and of the staple decide where the sides close; " + ownNumber)},
		},
		{
			Name: "tie.fold_above_staple", Title: "fold above the staple",
			Kind: "length", Unit: "mm",
			More: "long", Less: "short",
			Formula: "tie.length - staple.length",
			Sources: []sdk.Source{worked("tied length less staple; " + ownNumber)},
		},
		{
			Name: "thread.top", Title: "thread short of the staple", Aliases: []string{"top turn of thread"},
			Kind: "length", Unit: "mm", Datum: "the top of the staple",
			How: "from the last turn down to the staple's end; past it is minus", Tool: "ruler",
			More: "short", Less: "past it",
			Sources: []sdk.Source{practice("never past the staple, as on the oboe; " + ownNumber)},
		},
		{
			Name: "wire.thickness", Title: "wire", Aliases: []string{"wire gauge"},
			Kind: "length", Unit: "mm", Subject: "batch", Across: true,
			How: "across the wire, where a wire is used", Tool: "micrometer",
			More: "thick", Less: "thin",
			Sources: []sdk.Source{practice("one brass wire in some schools, none in others; " + ownNumber)},
		},
		{
			Name: "wire.height", Title: "wire above the thread",
			Kind: "length", Unit: "mm", Datum: "the last turn of thread",
			How: "up to the middle of the wire", Tool: "ruler",
			More: "high", Less: "low",
			Sources: []sdk.Source{practice(ownNumber)},
		},
		{
			Name: "tubing.length", Title: "tubing on the staple", Aliases: []string{"tubing"},
			Kind: "length", Unit: "mm", Datum: "the bottom of the staple",
			How: "along the piece of tubing", Tool: "ruler",
			More: "long", Less: "short", Plausible: "2 .. 12 mm",
			Sources: []sdk.Source{published(hoveTubing, "5 mm, 4 mm at the shortest; longer damps the tone")},
		},
		{
			Name: "tubing.diameter", Title: "tubing diameter",
			Kind: "length", Unit: "mm", Subject: "batch", Across: true,
			How: "across the tubing before it is put on", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "4 .. 9 mm",
			Sources: []sdk.Source{published(hoveTubing, "6 mm; wider damps the tone")},
		},
		{
			Name: "tubing.wall", Title: "tubing wall",
			Kind: "length", Unit: "mm", Subject: "batch", Across: true,
			How: "across the wall of the tubing", Tool: "caliper",
			More: "thick", Less: "thin", Plausible: "0.4 .. 2.5 mm",
			Sources: []sdk.Source{published(hoveTubing, "about 1 mm; thicker damps the tone")},
		},
		{
			Name: "rest.time", Title: "rest of the blank", Aliases: []string{"rest"},
			Kind: "time", Unit: "d", Subject: "piece",
			How: "from tying, or from the last scraping", Tool: "clock",
			More: "long", Less: "short", Plausible: "1 h .. 1000 d",
			Sources: []sdk.Source{published(hoveDays, "overnight between sittings, so that it dries out wholly")},
		},
		{
			Name: "scrape.sittings", Title: "sittings", Aliases: []string{"days of work"},
			Kind: "count",
			How:  "count the days it was worked on", Tool: "eye",
			More: "many", Less: "few", Plausible: "1 .. 12",
			Sources: []sdk.Source{published(hoveDays, "4: shape and tie; open and rough; blend and crow; finish")},
		},
	}
}
