package bassoon

import "canewright/plugins/sdk"

// cane: from the tube to the gouged and shaped piece.
func cane() []sdk.Dimension {
	tubeSources := []sdk.Source{
		published(lowAtwater, "25 mm, 24 to 26 mm, outside"),
		published(boldt, "24 to 27 mm is best, dry stalk"),
		published(everything2, "about 1 in (25.4 mm)"),
		published(harris, "23 to 26 mm, historical method"),
		memory("23 to 26 mm for all uses, 24 to 25 mm for most"),
	}
	return []sdk.Dimension{
		{
			Name: "tube.narrowest", Title: "tube diameter, narrowest", Aliases: []string{"tube, narrowest"},
			Kind: "length", Unit: "mm", Subject: "tube", Across: true, Condition: "dry",
			How: "turn the tube between the jaws at both ends and note the smallest reading", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "20 .. 30 mm", Sources: tubeSources,
		},
		{
			Name: "tube.widest", Title: "tube diameter, widest", Aliases: []string{"tube, widest"},
			Kind: "length", Unit: "mm", Subject: "tube", Across: true, Condition: "dry",
			How: "turn the tube between the jaws at both ends and note the largest reading", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "20 .. 30 mm", Sources: tubeSources,
		},
		{
			Name: "tube.ovality", Title: "tube ovality", Aliases: []string{"out of round"},
			Kind: "length", Unit: "mm", Subject: "tube", Across: true, Condition: "dry",
			More: "oval", Less: "round", Plausible: "0 .. 4 mm",
			Formula: "tube.widest - tube.narrowest",
			Sources: []sdk.Source{worked("widest less narrowest diameter"), memory("the range; no source gives one")},
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
			How: "on the centre line at mid-length, bark and inside touched, not pressed; wet and dry differ, so say which", Tool: "dial indicator",
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
			How: "at the edge of the shaped piece, so the shaper moves the place; wet and dry differ, so say which", Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: "0.6 .. 1.6 mm",
			Sources: []sdk.Source{memory("the same as the centre where the gouge is concentric; about 0.9 to 1.1 mm at the shaped edge where it is eccentric")},
		},
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
	}
}
