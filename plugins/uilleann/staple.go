package uilleann

import "canewright/plugins/sdk"

// staple: rolled of sheet, or a piece of tubing.
func staple() []sdk.Dimension {
	across := func(name, title, how, tool, more, less, plausible string, sources ...sdk.Source) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "length", Unit: "mm", Subject: "staple", Across: true,
			How: how, Tool: tool, More: more, Less: less, Plausible: plausible, Sources: sources,
		}
	}
	along := func(name, title, from, how, plausible string, sources ...sdk.Source) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "length", Unit: "mm", Subject: "staple", Datum: from,
			How: how, Tool: "caliper", More: "long", Less: "short", Plausible: plausible, Sources: sources,
		}
	}
	return []sdk.Dimension{
		along("staple.length", "staple", "the bottom of the staple", "from the chanter's end to the eye", "38 .. 62 mm",
			published(dooley, "48 mm"), published(slips, "cut from 50 mm of tubing")),
		across("staple.bore", "bore of the staple", "inside, at the bottom", "plug gauge", "wide", "narrow", "2.5 .. 6.5 mm",
			published(dooley, "4.2 mm; it moves the upper octave")),
		across("staple.outside", "outside of the staple", "across the round end", "caliper", "wide", "narrow", "3 .. 7 mm",
			published(gallagher, "tubing of 3/16 in for D and 5/32 in for B and C"),
			published(slips, "tubing of 3/16 in")),
		across("staple.sheet", "sheet of the staple", "across the sheet before it is rolled", "micrometer", "thick", "thin", "0.2 .. 1.0 mm",
			published(gallagher, "0.018 to 0.020 in of copper")),
		across("staple.blank_wide", "wide end of the staple's sheet", "across the flat sheet, at the wide end", "caliper", "wide", "narrow", "10 .. 20 mm",
			published(gallagher, "0.620 in for D, 0.525 in for C")),
		across("staple.blank_narrow", "narrow end of the staple's sheet", "across the flat sheet, at the narrow end", "caliper", "wide", "narrow", "9 .. 18 mm",
			published(gallagher, "0.550 in for D, 0.460 in for C")),
		across("staple.eye", "eye of the staple", "the short way across the flattened end, inside", "feeler gauge", "open", "closed", "0.8 .. 3.5 mm",
			published(dooley, "1.8 mm")),
		along("staple.flattened", "flattened part of the staple", "the eye", "from the eye to where it is round", "10 .. 42 mm",
			published(dooley, "25 mm")),
	}
}
