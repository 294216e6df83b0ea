package bassoon

import "canewright/plugins/sdk"

// reed: the finished reed's outside and its fit.
func reed() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "overall", Title: "overall length", Aliases: []string{"reed length", "total length"},
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt to the tip", Tool: "caliper",
			More: "long", Less: "short", Plausible: "48 .. 66 mm",
			Sources: []sdk.Source{
				worked("55.6 mm: first wire at 27.0 mm and the tip 1 1/8 in above it"),
				worked("55 to 55.5 mm: tube 27 mm and blade 28 to 28.5 mm"),
				worked("57 to 60 mm to start with: tube 27 to 30 mm and blade 30 mm"),
				memory("55 mm, 53 to 58 mm"),
			},
		},
		{
			Name: "reed.tube", Title: "tube of the reed", Aliases: []string{"tube length", "bark length", "stock"},
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt to the collar, over the bark", Tool: "ruler",
			More: "long", Less: "short", Plausible: "20 .. 36 mm",
			Sources: []sdk.Source{
				published(brusky, "27 to 30 mm"),
				published(schweizer, "27 mm"),
				published(blog2023, "1 1/8 in (28.6 mm), printed as 1 and 1/18: the first wire at 1 in and a collar 1/8 in above it add up to 1 1/8"),
			},
		},
		{
			// Nothing should be left: so a recipe's numbers are checked against each other.
			Name: "reed.tube_rest", Title: "tube less first wire and collar",
			Kind: "length", Unit: "mm",
			More: "long", Less: "short", Plausible: "-0.5 .. 0.5 mm",
			Formula: "reed.tube - wire.first - collar.above_first_wire",
			Sources: []sdk.Source{
				published(blog2023, "nothing: the first wire at 1 in and a collar 1/8 in above it make a bark of 1 1/8 in, printed as 1 and 1/18"),
				worked("to half a millimetre, as these are read with a ruler"),
			},
		},
		{
			Name: "reed.overall_rest", Title: "overall length less tube and blade",
			Kind: "length", Unit: "mm",
			More: "long", Less: "short", Plausible: "-0.5 .. 0.5 mm",
			Formula: "overall - reed.tube - blade.length",
			Sources: []sdk.Source{worked("nothing: the tube ends at the collar, where the blade begins; to half a millimetre, as these are read with a ruler")},
		},
		{
			Name: "tip.above_first_wire", Title: "tip above the first wire", Aliases: []string{"first wire from the tip", "tip to first wire"},
			Kind: "length", Unit: "mm",
			More: "long", Less: "short", Plausible: "22 .. 36 mm",
			Formula: "overall - wire.first",
			Sources: []sdk.Source{
				published(lacan4, "28.5 mm (1 1/8 in) above the centre line of the first wire"),
				worked("overall less first wire"),
			},
		},
		{
			Name: "blade.length", Title: "blade length", Aliases: []string{"lay", "lay length", "blade, collar to tip"},
			Kind: "length", Unit: "mm", Datum: "the collar",
			How: "from the collar to the tip, along the middle", Tool: "caliper",
			More: "long", Less: "short", Plausible: "20 .. 36 mm",
			Sources: []sdk.Source{
				published(schweizer, "28 to 28.5 mm"),
				published(brusky, "30 mm at first, then shortened as needed"),
				published(bruskyWords, "1 2/16 to 1 3/16 in (28.6 to 30.2 mm), collar to clipped tip"),
				worked("25.5 mm: the tip 28.5 mm above the first wire, the collar 3 mm above it"),
				worked("30.2 mm before the tip is cut: 58.7 mm from fold to butt less a tube of 28.6 mm"),
			},
		},
		{
			Name: "reed.on_bocal", Title: "reed on the bocal", Aliases: []string{"bocal depth", "how far on the bocal"},
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "push it on as for playing, mark the bocal at the butt, and measure from the mark to the bocal's end", Tool: "ruler",
			More: "far", Less: "short", Plausible: "2 .. 18 mm",
			Sources: []sdk.Source{published(schweizer, "about 8 mm, finished reed")},
		},
		{
			Name: "ream.turns", Title: "turns of the reamer",
			Kind: "count",
			How:  "count whole turns", Tool: "eye",
			More: "many", Less: "few",
			Sources: []sdk.Source{
				published(lacan4, "once dry, then again wet, before the tip is cut; no number of turns"),
				published(blog2017, "after the tip is cut; no number of turns"),
			},
		},
		{
			Name: "butt.bore", Title: "bore at the butt", Aliases: []string{"inside of the butt"},
			Kind: "length", Unit: "mm", Across: true,
			How: "inside, at the butt", Tool: "plug gauge",
			More: "wide", Less: "narrow", Plausible: "3.5 .. 8 mm",
			Sources: []sdk.Source{memory("about 5 mm, 4.5 to 6 mm")},
		},
		{
			Name: "tip.width", Title: "tip width", Aliases: []string{"width of the tip"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the tip, not pressed", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "11 .. 19 mm",
			Sources: []sdk.Source{published(encyclopedia, "13.5 to 15.9 mm, finished blades")},
		},
		{
			Name: "tip.opening", Title: "tip opening", Aliases: []string{"opening"},
			Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "between the blades at the centre of the tip, at rest", Tool: "feeler gauge",
			More: "open", Less: "closed", Plausible: "0.2 .. 4 mm",
			Sources: []sdk.Source{memory("about 1.0 to 2.0 mm; no source gives a number")},
		},
	}
}
