package oboe

import "canewright/plugins/sdk"

// cane: tube, gouge, soaks and shape.
func cane() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "tube.diameter", Title: "tube diameter", Aliases: []string{"diameter of the tube"},
			Kind: "length", Unit: "mm", Subject: "tube", Across: true, Condition: "dry",
			How: "outside, across the end", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "9 .. 12 mm",
			Sources: []sdk.Source{
				published(lakota, "10.0 to 11.0 mm, 10.5 mm for learners; smaller opens, larger closes"),
				published(geocities, "10 mm only; 11 mm is for the English horn"),
				published(dirigent, "exactly 10 mm"),
				published(aldisReeds, "slightly under 10 mm dry, for a bed of 10 mm; it swells"),
			},
		},
		{
			Name: "split.pieces", Title: "pieces of a tube", Aliases: []string{"pieces per tube"},
			Kind: "count", Subject: "tube",
			How: "count them", Tool: "eye",
			More: "many", Less: "few", Plausible: "1 .. 4",
			Sources: []sdk.Source{
				published(holland, "3 are split, 1, sometimes 2, are usable"),
				published(aldisReeds, "at most 2 of a tube"),
			},
		},
		{
			Name: "cane.length", Title: "length of the piece", Aliases: []string{"piece length"},
			Kind: "length", Unit: "mm", Datum: "one end of the piece",
			How: "from end to end along the middle", Tool: "ruler",
			More: "long", Less: "short",
			Sources: []sdk.Source{practice("the bed of the gouger decides; no source gives a number")},
		},
		{
			Name: "gouge.centre", Title: "gouge, centre", Aliases: []string{"gouge.center", "gouge", "gouge thickness"},
			Kind: "length", Unit: "mm", Across: true,
			How: "in the middle of the piece, always in the same state and with the same pressure", Tool: "micrometer",
			More: "thick", Less: "thin", Plausible: "0.45 .. 0.75 mm",
			Sources: []sdk.Source{
				published(boardGouge, "0.60 mm"),
				published(nedialkov, "0.55 to 0.63 mm; example 0.60 mm"),
				published(dirigent, "0.56 mm, 0.55 to 0.60 mm"),
				published(barOn, "0.60 mm on one machine, 0.58 mm on another"),
				practice("0.58 to 0.60 mm"),
			},
		},
		{
			Name: "gouge.side", Title: "gouge, side", Aliases: []string{"side of the gouge"},
			Kind: "length", Unit: "mm", Across: true,
			How: "just below the ears of the shaped piece, so the shape says where", Tool: "micrometer",
			More: "thick", Less: "thin", Plausible: "0.20 .. 0.65 mm",
			Sources: []sdk.Source{
				published(boardGouge, "0.40 mm and 0.45 mm of two schools; now 0.45 to 0.50 mm"),
				published(nedialkov, "0.43 to 0.52 mm; example 0.45 mm"),
				published(barOn, "0.35 mm on one machine, 0.29 mm on another"),
			},
		},
		{
			Name: "gouge.eccentricity", Title: "centre over side", Aliases: []string{"eccentric gouge"},
			Kind: "length", Unit: "mm",
			More: "large", Less: "small", Plausible: "0 .. 0.35 mm",
			Formula: "gouge.centre - gouge.side",
			Sources: []sdk.Source{
				published(boardGouge, "0.05 mm is very small and leaves stiff sides"),
				worked("centre less side: 0.15 mm where they are 0.60 and 0.45 mm"),
			},
		},
		{
			Name: "gouge.regrowth", Title: "thicker the next day", Aliases: []string{"overnight growth"},
			Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "soaked again the next day, less what it was soaked", Tool: "micrometer",
			More: "much", Less: "little", Plausible: "-0.02 .. 0.10 mm",
			Sources: []sdk.Source{published(boardRegrow, "0.01 to 0.04 mm; then steady")},
		},
		{
			Name: "hardness.first_end", Title: "hardness, marked end",
			Kind: "ratio",
			How:  "on the gouged side, 2 to 3 s after the pin rests; the tester's own numbers", Tool: "hardness tester",
			More: "soft", Less: "hard",
			Sources: []sdk.Source{published(gaugeHelp, "both ends are read; no number for the oboe")},
		},
		{
			Name: "hardness.second_end", Title: "hardness, other end",
			Kind: "ratio",
			How:  "as at the marked end", Tool: "hardness tester",
			More: "soft", Less: "hard",
			Sources: []sdk.Source{published(gaugeHelp, "both ends are read; no number for the oboe")},
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
			Sources: []sdk.Source{published(oboeFloat, "the whole piece's value; only pieces of equal length can be compared; no number")},
		},
		{
			Name: "soak.time", Title: "soaking time", Aliases: []string{"soak"},
			Kind: "time", Unit: "min", Subject: "batch",
			How: "from the moment it is under water", Tool: "clock",
			More: "long", Less: "short", Plausible: "1 min .. 1 d",
			Sources: []sdk.Source{
				published(everything2, "before shaping 30 min hot or 60 min cold"),
				published(dirigent, "before shaping about 20 min, until it sinks"),
				published(insightOne, "before tying about 15 min, until it sinks, not over"),
				published(boardSoak, "2.5 to 4 h; a whole day is far too long"),
				published(boardTwo, "20 min in water of about 130 °F"),
				published(gougeBatch, "before gouging until it sinks, at most 25 pieces at a time, not hot"),
				published(overSoaked, "a finished reed 4 min"),
			},
		},
		{
			Name: "sink.time", Title: "time to sink", Aliases: []string{"sinking time"},
			Kind: "time", Unit: "min",
			How: "until the piece lies on the bottom", Tool: "clock",
			More: "long", Less: "short", Plausible: "1 min .. 12 h",
			Sources: []sdk.Source{published(tyingOn, "still floating after about 15 min: thrown out")},
		},
		{
			Name: "shape.widest", Title: "shape, widest", Aliases: []string{"shape width"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the folded piece at its ears; the metal's width is another", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "5.5 .. 9 mm",
			Sources: []sdk.Source{
				published(nedialkov, "7.2 mm; a survey of books 6.10 to 8.20 mm, catalogues 6.27 to 7.39 mm"),
				published(shapeMachine, "folded cane comes out wider than the metal, by how much the soak decides"),
			},
		},
		{
			Name: "shape.tip", Title: "shape, tip", Aliases: []string{"shape tip width"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the folded piece at the fold", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "5.5 .. 9 mm",
			Sources: []sdk.Source{published(dirigent, "7.1 mm")},
		},
	}
}
