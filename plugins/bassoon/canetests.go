package bassoon

import "canewright/plugins/sdk"

// canetests: hardness, floating and sinking. A hardness tester's numbers are
// its own, so they have no unit and no limits of anybody else's.
func canetests() []sdk.Dimension {
	hardness := func(name, title string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "ratio",
			How:  "on the gouged side, smoothed; wait 2 to 3 s until the pin has settled; the same tester and room each time",
			Tool: "hardness tester", More: "soft", Less: "hard", Plausible: "1 .. 60",
			Sources: []sdk.Source{
				published(testerHelp, "in hundredths of a millimetre of the pin's depth; both ends, after 2 to 3 s; their average counts; ends of 12 and 17 are too far apart"),
				published(altitude, "19 to 22 liked at low altitude, 22 to 25 tried high up, then 21 to 22 or perhaps 23; a 20 of one tester is not a 20 of another"),
				published(hardness2015, "testers differ; ridges of the gouge read soft and hollows hard, so smooth it first"),
			},
		}
	}
	return []sdk.Dimension{
		hardness("hardness.first_end", "hardness, marked end"),
		hardness("hardness.second_end", "hardness, other end"),
		{
			Name: "hardness.mean", Title: "hardness", Aliases: []string{"cane hardness"},
			Kind: "ratio", More: "soft", Less: "hard", Plausible: "1 .. 60",
			Formula: "(hardness.first_end + hardness.second_end) / 2",
			Sources: []sdk.Source{
				published(testerHelp, "the average of both ends is the value"),
				published(soldSorted, "20 to 30 % of the pieces, the softest and the hardest, are sorted out"),
				worked("mean of the two ends"),
			},
		},
		{
			Name: "hardness.spread", Title: "hardness, end to end", Aliases: []string{"hardness difference"},
			Kind: "ratio", More: "uneven", Less: "even", Plausible: "0 .. 30",
			Formula: "abs(hardness.first_end - hardness.second_end)",
			Sources: []sdk.Source{
				published(testerHelp, "ends more than 4 apart are unlikely to succeed"),
				worked("difference of the two ends"),
			},
		},
		{
			Name: "float.depth", Title: "length under water", Aliases: []string{"float", "float test"},
			Kind: "length", Unit: "mm", Datum: "the lower end",
			How: "let the piece float upright and read at the water line at once: cane drinks", Tool: "ruler",
			More: "dense", Less: "light", Plausible: "20 .. 135 mm",
			Sources: []sdk.Source{
				published(floatTest, "the whole piece's value, not a point's; pieces of equal length, before gouging; no number"),
				published(oboeFloat, "the same way for oboe cane; no number"),
				worked("not more than the length of the piece"),
			},
		},
		{
			Name: "float.share", Title: "share under water",
			Kind: "ratio", More: "dense", Less: "light", Plausible: "0.1 .. 1.05",
			Formula: "float.depth / cane.length",
			Sources: []sdk.Source{worked("length under water by length: the density beside water's, for an even piece that floats upright (Archimedes)")},
		},
		{
			Name: "cane.mass", Title: "mass of the piece", Aliases: []string{"weight of the piece"},
			Kind: "mass", Unit: "g",
			How: "dry, one piece alone", Tool: "scale",
			More: "heavy", Less: "light",
			Sources: []sdk.Source{practice("some weigh their pieces; no source gives a number")},
		},
		{
			Name: "sink.time", Title: "time to sink", Aliases: []string{"sinking time"},
			Kind: "time", Unit: "h",
			How: "from when it is laid on the water until it lies on the ground", Tool: "clock",
			More: "slow", Less: "quick", Plausible: "1 min .. 7 d",
			Sources: []sdk.Source{published(lacan2, "not sunk after 8 h: seldom a good reed; the first to sink are denser and better")},
		},
		{
			Name: "sink.order", Title: "place in the order of sinking",
			Kind: "count",
			How:  "the first to sink is 1", Tool: "eye",
			More: "late", Less: "early", Plausible: "1 .. 200",
			Sources: []sdk.Source{
				published(lacan2, "the first to sink are denser and better"),
				worked("no more than there are pieces"),
			},
		},
	}
}
