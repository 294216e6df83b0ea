package bassoon

import "canewright/plugins/sdk"

// shape: the shaped and profiled piece, still flat.
func shape() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "shape.fold", Title: "shape width at the fold", Aliases: []string{"shape, tip", "shape width"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the shaped piece at the fold; a shaper's number is not the cane's width", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "12 .. 19 mm",
			Sources: []sdk.Source{memory("about 15 mm, 14 to 16.5 mm")},
		},
		{
			Name: "shape.first_wire", Title: "shape width at the first wire", Aliases: []string{"shape, throat"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the shaped piece, flat, where the first wire will sit", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "5 .. 15 mm",
			Sources: []sdk.Source{memory("the range only; no source gives a width here")},
		},
		{
			Name: "shape.butt", Title: "shape width at the butt", Aliases: []string{"shape, end"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the shaped piece, flat, where the butt will be cut", Tool: "caliper",
			More: "wide", Less: "narrow",
			Sources: []sdk.Source{
				published(lowAtwater, "tip, narrowest and end are the three places to read; no number"),
				practice("read off the player's own shaper"),
			},
		},
		{
			Name: "profile.collar", Title: "thickness at the collar",
			Kind: "length", Unit: "mm", Across: true,
			How: "on the profiled piece, centre line, just in front of the collar", Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: "0.4 .. 1.5 mm",
			Sources: []sdk.Source{
				published(brusky, "0.0314 in (0.80 mm) is one of three; thicker at the back makes high notes easier, soft and low ones harder"),
				published(stowellScore, "0.2 mm left high in a first rough pass"),
				memory("0.80 to 0.95 mm on the finished reed"),
			},
		},
		{
			Name: "profile.left_high", Title: "left high by the first pass",
			Kind: "length", Unit: "mm", Across: true,
			How: "the thickness of the card under the profiler's guide", Tool: "dial indicator",
			More: "high", Less: "low", Plausible: "0 .. 0.6 mm",
			Sources: []sdk.Source{published(stowellScore, "0.2 mm, a card under the guide, then taken out")},
		},
		{
			Name: "profiler.pieces", Title: "pieces since the blade was sharpened",
			Kind: "count", Subject: "batch",
			How: "count on from the last sharpening", Tool: "eye",
			More: "many", Less: "few", Plausible: "0 .. 2000",
			Sources: []sdk.Source{published(blog2015, "the profiler's blade is sharpened every 50 pieces")},
		},
		{
			Name: "collar.depth", Title: "depth of the collar", Aliases: []string{"step at the collar"},
			Kind: "length", Unit: "mm", Across: true,
			How: "thickness behind the collar less thickness in front of it", Tool: "dial indicator",
			More: "deep", Less: "shallow", Plausible: "0.05 .. 1.2 mm",
			Sources: []sdk.Source{published(lacan4, "0.5 mm, with 1/64 in (0.40 mm) printed beside it")},
		},
	}
}
