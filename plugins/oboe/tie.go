package oboe

import "canewright/plugins/sdk"

// tie: the staple, what is tied to it, and with what.
func tie() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "staple.length", Title: "staple", Aliases: []string{"staple length", "length of the staple"},
			Kind: "length", Unit: "mm", Subject: "staple", Datum: "the bottom of the staple",
			How: "from the cork end to the other", Tool: "caliper",
			More: "long", Less: "short", Plausible: "43 .. 51 mm",
			Sources: []sdk.Source{
				published(nedialkov, "45 to 49 mm, mostly 47 and 46 mm"),
				published(insightOne, "47 mm"),
				published(dirigent, "46 mm"),
				published(tyingOn, "46 mm for A at 440 Hz, 45 mm for 443 Hz; most 46 to 47 mm"),
				published(hodge, "47 mm with a narrow shape and the long scrape at 440 Hz, 46 mm with a wide one and the short scrape at 442 Hz; 5 to 6 cents for each mm"),
			},
		},
		{
			Name: "tie.length", Title: "tied length", Aliases: []string{"tie length", "tying length"},
			Kind: "length", Unit: "mm", Datum: "the bottom of the staple",
			How: "from the cork end to the fold, before the tip is opened", Tool: "ruler",
			More: "long", Less: "short", Plausible: "68 .. 80 mm",
			Sources: []sdk.Source{
				published(onlineOboe, "74 to 75 mm on staples of 46 and 47 mm; longer makes the waist narrower"),
				published(rachel, "72 to 73 mm, a narrow shape"),
				published(boardThread, "73 mm"),
				published(muriel, "74 mm, then cut to 72 mm"),
				published(palas, "74 to 75 mm where the cane is wide for the staple; blades slide apart later if it is too short"),
			},
		},
		{
			Name: "tie.fold_above_staple", Title: "fold above the staple",
			Kind: "length", Unit: "mm",
			More: "long", Less: "short", Plausible: "20 .. 34 mm",
			Formula: "tie.length - staple.length",
			Sources: []sdk.Source{worked("tied length less staple: 27 to 28 mm where they are 74 to 75 and 47 mm")},
		},
		{
			Name: "thread.top", Title: "thread short of the staple", Aliases: []string{"top turn of thread"},
			Kind: "length", Unit: "mm", Datum: "the top of the staple",
			How: "from the last turn down to the staple's end; past it is minus", Tool: "ruler",
			More: "short", Less: "past it", Plausible: "-2 .. 3 mm",
			Sources: []sdk.Source{
				published(tips, "at the end of the staple, never past it"),
				published(palas, "never past the staple"),
				published(boardThread, "the sides close one turn before the top"),
				published(boardHard, "0.5 mm below; past it the reed is hard to blow"),
			},
		},
		{
			Name: "wire.thickness", Title: "wire", Aliases: []string{"wire gauge"},
			Kind: "length", Unit: "mm", Subject: "batch", Across: true,
			How: "across the wire, where a wire is used", Tool: "micrometer",
			More: "thick", Less: "thin", Plausible: "0.2 .. 0.6 mm",
			Sources: []sdk.Source{published(onlineOboe, "0.35 mm, brass; on reeds of the short scrape")},
		},
		{
			Name: "tie.sides_close", Title: "turns left where the sides close",
			Kind: "count",
			How:  "count the turns from where the sides meet up to the staple's top", Tool: "eye",
			More: "early", Less: "late", Plausible: "0 .. 6",
			Sources: []sdk.Source{published(boardThread, "one turn before the top")},
		},
		{
			Name: "ring.width", Title: "closing ring",
			Kind: "length", Unit: "mm", Subject: "batch", Across: true,
			How: "inside", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "2 .. 5 mm",
			Sources: []sdk.Source{published(boardThread, "3 mm; it helps to close the sides")},
		},
		{
			Name: "rest.time", Title: "rest of the blank", Aliases: []string{"rest"},
			Kind: "time", Unit: "d", Subject: "piece",
			How: "from tying, or from the last scraping", Tool: "clock",
			More: "long", Less: "short", Plausible: "1 h .. 1000 d",
			Sources: []sdk.Source{practice("overnight after tying; 2 to 4 sittings, dry between them")},
		},
	}
}
