package bassoon

import "canewright/plugins/sdk"

// tube: the raw cane, up to the split. The tube is marked with a pencil at one
// end, so that each end keeps its own readings.
func tube() []sdk.Dimension {
	tubeSources := []sdk.Source{
		published(lowAtwater, "25 mm, 24 to 26 mm, outside"),
		published(boldt, "24 to 27 mm is best, dry stalk"),
		published(everything2, "about 1 in (25.4 mm)"),
		published(harris, "23 to 26 mm, historical method"),
		memory("23 to 26 mm for all uses, 24 to 25 mm for most"),
	}
	end := func(name, title, most string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "length", Unit: "mm", Subject: "tube", Across: true, Condition: "dry",
			How: "turn the tube between the jaws at that end and note the " + most + " reading", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "20 .. 30 mm", Sources: tubeSources,
		}
	}
	oval := func(name, title, formula string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "length", Unit: "mm", Subject: "tube", Across: true, Condition: "dry",
			More: "oval", Less: "round", Plausible: "0 .. 4 mm", Formula: formula,
			Sources: []sdk.Source{worked("widest less narrowest diameter at that end"), memory("the range; no source gives one")},
		}
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
		end("tube.marked_end.narrowest", "marked end, narrowest", "smallest"),
		end("tube.marked_end.widest", "marked end, widest", "largest"),
		end("tube.other_end.narrowest", "other end, narrowest", "smallest"),
		end("tube.other_end.widest", "other end, widest", "largest"),
		oval("tube.marked_end.ovality", "marked end, ovality", "tube.marked_end.widest - tube.marked_end.narrowest"),
		oval("tube.other_end.ovality", "other end, ovality", "tube.other_end.widest - tube.other_end.narrowest"),
		{
			Name: "tube.taper", Title: "tube, end to end", Aliases: []string{"taper of the tube"},
			Kind: "length", Unit: "mm", Subject: "tube", Across: true, Condition: "dry",
			More: "tapered", Less: "even", Plausible: "0 .. 4 mm",
			Formula: "abs(tube.marked_end.narrowest + tube.marked_end.widest - tube.other_end.narrowest - tube.other_end.widest) / 2",
			Sources: []sdk.Source{
				published(offLabel, "a tube may not vary by more than 1 mm from end to end"),
				worked("difference of the two ends' mean diameters"),
			},
		},
		{
			Name: "tube.wall", Title: "wall of the tube", Aliases: []string{"wall thickness"},
			Kind: "length", Unit: "mm", Subject: "tube", Across: true, Condition: "dry",
			How: "at the end, bark to inside, at the thinnest place", Tool: "caliper",
			More: "thick", Less: "thin", Plausible: "1.5 .. 9 mm",
			Sources: []sdk.Source{
				published(boldt, "2 to 7 mm, wall of the stalk"),
				practice("a wall that is too thin cannot be gouged to its number"),
			},
		},
		{
			Name: "tube.internode", Title: "knot to knot", Aliases: []string{"internode", "node to node"},
			Kind: "length", Unit: "mm", Subject: "tube", Datum: "the knot", Condition: "dry",
			How: "from one knot to the next, along the bark", Tool: "ruler",
			More: "long", Less: "short", Plausible: "100 .. 450 mm",
			Sources: []sdk.Source{
				published(boldt, "5 to 15 in (127 to 381 mm)"),
				practice("shorter than the piece is no use"),
			},
		},
		{
			Name: "tube.length", Title: "length of the tube", Aliases: []string{"stalk length"},
			Kind: "length", Unit: "mm", Subject: "tube", Datum: "one end of the tube", Condition: "dry",
			How: "from end to end, between the saw cuts, without a knot", Tool: "ruler",
			More: "long", Less: "short", Plausible: "100 .. 450 mm",
			Sources: []sdk.Source{
				practice("at least the length of the piece, 120 mm"),
				worked("no longer than from knot to knot"),
			},
		},
		{
			Name: "tube.age", Title: "age of the tube", Aliases: []string{"curing time", "seasoning"},
			Kind: "time", Unit: "d", Subject: "tube",
			How: "from the harvest, as the seller says", Tool: "clock",
			More: "old", Less: "green", Plausible: "0 d .. 15000 d",
			Sources: []sdk.Source{
				published(lowAtwater, "1 to 2 years"),
				published(green, "tried green: it plays at first; dry after a few days it warps and goes very sharp"),
			},
		},
		{
			Name: "split.pieces", Title: "pieces of a tube", Aliases: []string{"pieces per tube"},
			Kind: "count", Subject: "tube",
			How: "count what came out of the splitter", Tool: "eye",
			More: "many", Less: "few", Plausible: "1 .. 6",
			Sources: []sdk.Source{
				published(fagottwurm, "4"),
				published(floatTest, "4"),
				published(harris, "4"),
				published(ruminations, "4"),
				published(lowAtwater, "3 to 4"),
				published(everything2, "3"),
				published(stowellTube, "3, where the finished shape is wide"),
			},
		},
	}
}
