package bassoon

import "canewright/plugins/sdk"

// cane: the split and gouged piece.
func cane() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "quarter.width", Title: "width of the split piece", Aliases: []string{"chord of the piece"},
			Kind: "length", Unit: "mm", Across: true,
			How: "straight across, from edge to edge, at the narrowest place", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "12 .. 26 mm",
			Sources: []sdk.Source{worked("a round tube of 25 mm: 17.7 mm split in four, 21.7 mm split in three (chord of the circle)")},
		},
		{
			Name: "quarter.arc", Title: "arc of the split piece", Aliases: []string{"arc of the piece"},
			Kind: "length", Unit: "mm", Across: true,
			How: "over the bark from edge to edge, with a strip of paper", Tool: "ruler",
			More: "wide", Less: "narrow", Plausible: "14 .. 32 mm",
			Sources: []sdk.Source{worked("a round tube of 25 mm: 19.6 mm split in four, 26.2 mm split in three (a fourth and a third of the round)")},
		},
		{
			Name: "cane.hollow", Title: "hollow under a straight edge", Aliases: []string{"bow of the piece"},
			Kind: "length", Unit: "mm", Across: true,
			How: "the widest gap between the bark and a flat metal strip laid along it", Tool: "feeler gauge",
			More: "bowed", Less: "flat",
			Sources: []sdk.Source{
				published(ruminations, "laid against a flat metal strip, pass or fail; no number"),
				published(floatTest, "hollow over the 120 mm, or twisted: sorted out; no number"),
			},
		},
		{
			Name: "cane.length", Title: "length of the piece", Aliases: []string{"piece length", "tube cane length"},
			Kind: "length", Unit: "mm", Datum: "one end of the piece",
			How: "from end to end along the middle", Tool: "ruler",
			More: "long", Less: "short", Plausible: "110 .. 135 mm",
			Sources: []sdk.Source{
				practice("120 mm"),
				published(floatTest, "120 mm; all pieces of one test batch must be equal"),
				published(stowellPrep, "120 mm"),
				published(medpants, "120 mm"),
				published(everything2, "4 3/4 in (120.7 mm)"),
			},
		},
		{
			Name: "gouge.centre", Title: "gouge, centre", Aliases: []string{"gouge.center", "gouge", "gouge thickness", "centre of the gouge"},
			Kind: "length", Unit: "mm", Across: true,
			How: "on the centre line at mid-length, bark and inside touched, not pressed", Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: "0.7 .. 1.6 mm",
			Sources: []sdk.Source{
				published(stowellPrep, "1.25 or 1.3 mm; some call 1.2 to 1.25 mm thin"),
				published(stowellGouge, "1.2 or 1.25 mm (an older page)"),
				published(longitudinal, "1.25 mm from end to end; an old hand gouge 1.25 mm at the ends and 1.00 mm in the middle"),
				published(inverted, "at least 1.25 mm to start from"),
				published(reedTips, "0.050 in (1.27 mm); 0.030 in (0.76 mm) at the butt in a gouge that tapers to the ends"),
				published(harris, "1.3 mm, 1.2 to 1.4 mm, wet, first stage of gouging by hand"),
				published(medecine, "a little under 1.5 mm, a description of the 19th century"),
				memory("1.25 mm, 1.15 to 1.35 mm"),
			},
		},
		{
			Name: "gouge.side", Title: "gouge, side", Aliases: []string{"gouge, edge", "side of the gouge"},
			Kind: "length", Unit: "mm", Across: true,
			How: "at the edge of the shaped piece, so the shaper moves the place", Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: "0.6 .. 1.6 mm",
			Sources: []sdk.Source{memory("the same as the centre where the gouge is concentric; about 0.9 to 1.1 mm at the shaped edge where it is eccentric")},
		},
		{
			Name: "gouge.side_at", Title: "where the side is read", Aliases: []string{"arc distance of the side"},
			Kind: "length", Unit: "mm", Subject: "batch", Datum: "the centre line",
			How: "along the bark from the centre line to where gouge.side is read", Tool: "ruler",
			More: "far out", Less: "close in", Plausible: "3 .. 12 mm",
			Sources: []sdk.Source{
				worked("7 to 8.3 mm: half of a shape of 14 to 16.5 mm, as the side is read at the shaped edge"),
				practice("a side without its place means nothing; no source gives the place"),
			},
		},
		{
			Name: "gouge.first_end", Title: "gouge, marked end",
			Kind: "length", Unit: "mm", Across: true,
			How: "on the centre line, 5 mm in from the marked end", Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: "0.6 .. 1.9 mm", Sources: gougeEnds(),
		},
		{
			Name: "gouge.second_end", Title: "gouge, other end",
			Kind: "length", Unit: "mm", Across: true,
			How: "on the centre line, 5 mm in from the other end", Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: "0.6 .. 1.9 mm", Sources: gougeEnds(),
		},
		{
			Name: "gouge.end_difference", Title: "gouge, one end to the other",
			Kind: "length", Unit: "mm", Across: true,
			More: "uneven", Less: "even", Plausible: "0 .. 0.8 mm",
			Formula: "abs(gouge.first_end - gouge.second_end)",
			Sources: []sdk.Source{
				published(stowellPrep, "uneven from end to end: discarded; no number"),
				worked("difference of the two ends"), memory("the range"),
			},
		},
		{
			Name: "gouge.inside_taper", Title: "inside taper", Aliases: []string{"longitudinal gouge"},
			Kind: "length", Unit: "mm", Across: true,
			More: "steep", Less: "flat", Plausible: "-0.7 .. 0.7 mm",
			Formula: "(gouge.first_end + gouge.second_end) / 2 - gouge.centre",
			Sources: []sdk.Source{
				published(darmstadt, "the middle 0.25 mm thinner than the ends, 0.25 to 0.35 mm"),
				published(longitudinal, "0 where the gouge is one thickness from end to end; 0.25 mm in an old hand gouge"),
				published(reedTips, "the ends thinner: 0.050 in at the middle, 0.030 in at the butt"),
				worked("mean of the ends less the middle"),
			},
		},
		{
			Name: "gouge.eccentricity", Title: "centre over side", Aliases: []string{"eccentric gouge"},
			Kind: "length", Unit: "mm", Across: true,
			More: "eccentric", Less: "concentric", Plausible: "-0.6 .. 0.8 mm",
			Formula: "gouge.centre - gouge.side",
			Sources: []sdk.Source{
				published(inverted, "inverted, the centre line thinner than the sides by 0.25 mm or more"),
				published(medpants, "an eccentric gouge is named; no number"),
				memory("0 where concentric; 0.15 to 0.4 mm where eccentric"),
				worked("centre less side"),
			},
		},
		{
			Name: "gouge.channel", Title: "channel along the centre", Aliases: []string{"centre channel"},
			Kind: "length", Unit: "mm", Across: true,
			How: "what was taken off along the centre line: before less after", Tool: "dial indicator",
			More: "deep", Less: "shallow", Plausible: "0 .. 0.4 mm",
			Sources: []sdk.Source{
				published(ellin, "0.15 to 0.20 mm; at that much the reeds became stiff, and he went to less"),
				published(ellin2, "0.15 to 0.20 mm; less was better"),
			},
		},
		{
			Name: "paper.grit", Title: "grit of the paper", Aliases: []string{"grit", "sandpaper number"},
			Kind: "count", Subject: "batch",
			How: "the number on its back", Tool: "eye",
			More: "fine", Less: "coarse", Plausible: "100 .. 3000",
			Sources: []sdk.Source{
				published(stowellPrep, "400, then 600, inside the gouge"),
				published(blog2013, "320"),
				published(conditioning, "800 to 1000"),
				published(lacan2, "400"),
				published(medpants, "400"),
				published(hardness2015, "400 before a hardness test"),
			},
		},
	}
}

func gougeEnds() []sdk.Source {
	return []sdk.Source{
		published(longitudinal, "1.25 mm, the same as the middle"),
		published(darmstadt, "0.25 to 0.35 mm thicker than the middle"),
		published(reedTips, "0.030 in (0.76 mm) at the butt in a gouge that tapers to the ends"),
		worked("1.65 mm: a middle of 1.3 mm and 0.35 mm more"),
	}
}
