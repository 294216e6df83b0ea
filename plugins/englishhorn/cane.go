package englishhorn

import "canewright/plugins/sdk"

// cane: tube, gouge, cane tests and shape.
func cane() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "tube.diameter", Title: "tube diameter", Aliases: []string{"diameter of the tube"},
			Kind: "length", Unit: "mm", Subject: "tube", Across: true, Condition: "dry",
			How: "outside, across the end", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "9.5 .. 14 mm",
			Sources: []sdk.Source{
				published(hoveCane, "12 to 12.5 mm for a wide shape; over 12.5 mm gouges badly and closes, under 12 mm opens, under 11.5 mm is for the oboe d'amore"),
				published(geocities, "11 mm"),
			},
		},
		{
			Name: "split.pieces", Title: "pieces of a tube", Aliases: []string{"pieces per tube"},
			Kind: "count", Subject: "tube",
			How: "count them", Tool: "eye",
			More: "many", Less: "few",
			Sources: []sdk.Source{practice("split as for the oboe; " + ownNumber)},
		},
		{
			Name: "cane.length", Title: "length of the piece", Aliases: []string{"piece length"},
			Kind: "length", Unit: "mm", Datum: "one end of the piece",
			How: "from end to end along the middle", Tool: "ruler",
			More: "long", Less: "short",
			Sources: []sdk.Source{practice("the bed of the gouger decides; " + ownNumber)},
		},
		{
			Name: "gouge.centre", Title: "gouge, centre", Aliases: []string{"gouge.center", "gouge", "gouge thickness"},
			Kind: "length", Unit: "mm", Across: true,
			How: "in the middle of the piece, always in the same state and with the same pressure", Tool: "micrometer",
			More: "thick", Less: "thin",
			Sources: []sdk.Source{
				published(hoveCane, "ask whether bought cane was gouged wet or dry, and on which bed; no number"),
				practice(ownNumber),
			},
		},
		{
			Name: "gouge.side", Title: "gouge, side", Aliases: []string{"side of the gouge"},
			Kind: "length", Unit: "mm", Across: true,
			How: "just below the ears of the shaped piece, so the shape says where", Tool: "micrometer",
			More: "thick", Less: "thin",
			Sources: []sdk.Source{practice(ownNumber)},
		},
		{
			Name: "gouge.eccentricity", Title: "centre over side", Aliases: []string{"eccentric gouge"},
			Kind: "length", Unit: "mm",
			More: "large", Less: "small",
			Formula: "gouge.centre - gouge.side",
			Sources: []sdk.Source{worked("centre less side; " + ownNumber)},
		},
		{
			Name: "hardness.first_end", Title: "hardness, marked end",
			Kind: "ratio",
			How:  "on the gouged side, 2 to 3 s after the pin rests; the tester's own numbers", Tool: "hardness tester",
			More: "soft", Less: "hard",
			Sources: []sdk.Source{published(gaugeHelp, "both ends are read; no number for the English horn")},
		},
		{
			Name: "hardness.second_end", Title: "hardness, other end",
			Kind: "ratio",
			How:  "as at the marked end", Tool: "hardness tester",
			More: "soft", Less: "hard",
			Sources: []sdk.Source{published(gaugeHelp, "both ends are read; no number for the English horn")},
		},
		{
			Name: "hardness.spread", Title: "hardness, end to end",
			Kind: "ratio",
			More: "uneven", Less: "even", Plausible: "0 .. 20",
			Formula: "abs(hardness.first_end - hardness.second_end)",
			Sources: []sdk.Source{published(gaugeHelp, "ends more than 4 apart are unlikely to succeed")},
		},
		{
			Name: "float.depth", Title: "length under water", Aliases: []string{"float", "float test"},
			Kind: "length", Unit: "mm", Datum: "the lower end",
			How: "let the piece float upright and read at the water line at once: cane drinks", Tool: "ruler",
			More: "dense", Less: "light",
			Sources: []sdk.Source{published(floatTest, "the whole piece's value; only pieces of equal length can be compared; no number")},
		},
		{
			Name: "sink.time", Title: "time to sink", Aliases: []string{"sinking time"},
			Kind: "time", Unit: "min",
			How: "until the piece lies on the bottom", Tool: "clock",
			More: "long", Less: "short",
			Sources: []sdk.Source{practice("a stand-in for hardness; " + ownNumber)},
		},
		{
			Name: "soak.time", Title: "soaking time", Aliases: []string{"soak"},
			Kind: "time", Unit: "min", Subject: "batch",
			How: "from the moment it is under water", Tool: "clock",
			More: "long", Less: "short",
			Sources: []sdk.Source{practice("until it sinks; " + ownNumber)},
		},
		{
			Name: "shape.widest", Title: "shape, widest", Aliases: []string{"shape width"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the folded piece at its ears; the metal's width is another", Tool: "caliper",
			More: "wide", Less: "narrow",
			Sources: []sdk.Source{
				published(schoolPage, "wider than an oboe's; no number"),
				published(hoveCane, "a wide shape wants 12 to 12.5 mm of tube; a narrow one less"),
			},
		},
		{
			Name: "shape.tip", Title: "shape, tip", Aliases: []string{"shape tip width"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the folded piece at the fold", Tool: "caliper",
			More: "wide", Less: "narrow",
			Sources: []sdk.Source{practice(ownNumber)},
		},
	}
}
