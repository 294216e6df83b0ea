package uilleann

import "canewright/plugins/sdk"

// slip: the tube and the slip of cane that becomes both blades.
func slip() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "tube.diameter", Title: "tube diameter", Aliases: []string{"diameter of the tube"},
			Kind: "length", Unit: "mm", Subject: "tube", Across: true,
			How: "outside, across the end", Tool: "caliper",
			More: "wide", Less: "narrow",
			Sources: []sdk.Source{published(slips, "tubes are never quite round; no number")},
		},
		{
			Name: "cane.softness", Title: "softness under a fingernail", Aliases: []string{"fingernail test"},
			Kind: "score",
			How:  "press a fingernail into the bark; on the player's own list", Tool: "fingers",
			More: "soft", Less: "hard",
			Sources: []sdk.Source{
				published(dooley, "soft enough if it is easily scored; very shiny and hard, or matt and grey: no"),
				published(forum, "too hard to mark with a thumbnail is probably too hard"),
			},
		},
		{
			Name: "hardness.first_end", Title: "hardness, marked end",
			Kind: "ratio",
			How:  "on the gouged side; the tester's own numbers", Tool: "hardness tester",
			More: "soft", Less: "hard",
			Sources: []sdk.Source{practice("a fingernail is usual; " + ownNumber)},
		},
		{
			Name: "slip.length", Title: "length of the slip",
			Kind: "length", Unit: "mm", Datum: "one end of the slip",
			How: "from end to end along the middle", Tool: "ruler",
			More: "long", Less: "short", Plausible: "80 .. 150 mm",
			Sources: []sdk.Source{
				published(slips, "100 mm, cut in two later"),
				worked("114 mm at least for two blades of 57 mm, which is a reed of 80 mm less 23 mm of staple outside them"),
			},
		},
		{
			Name: "slip.width", Title: "width of the slip", Aliases: []string{"slip width"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the slip, at several places", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "9 .. 17 mm",
			Sources: []sdk.Source{
				published(slips, "split just over 13 mm, brought to 12.9 mm, the same all along"),
				published(dooley, "12.5 mm, the blade"),
			},
		},
		{
			Name: "slip.centre", Title: "gouge, centre", Aliases: []string{"gouge", "gouge thickness"},
			Kind: "length", Unit: "mm", Across: true,
			How: "on the centre line at mid-length", Tool: "dial indicator",
			More: "thick", Less: "thin",
			Sources: []sdk.Source{published(slips, "one profile all along the slip; no number")},
		},
		{
			Name: "slip.edge", Title: "edge of the slip", Aliases: []string{"gouge, edge"},
			Kind: "length", Unit: "mm", Across: true,
			How: "at the long edges, after sanding the inside", Tool: "caliper",
			More: "thick", Less: "sharp", Plausible: "0.1 .. 1.2 mm",
			Sources: []sdk.Source{published(slips, "0.5 mm, not razor sharp")},
		},
		{
			Name: "cylinder.diameter", Title: "sanding cylinder",
			Kind: "length", Unit: "mm", Subject: "batch", Across: true,
			How: "across the cylinder with its paper on", Tool: "caliper",
			More: "wide", Less: "narrow",
			Sources: []sdk.Source{published(slips, "it gives the inside its curve; no number"), practice(ownNumber)},
		},
		{
			Name: "paper.grit", Title: "grit of the paper", Aliases: []string{"grit"},
			Kind: "count", Subject: "batch",
			How: "the number on its back", Tool: "eye",
			More: "fine", Less: "coarse", Plausible: "80 .. 2000",
			Sources: []sdk.Source{published(gallagher, "240 and 320")},
		},
	}
}
