package contrabassoon

import "canewright/plugins/sdk"

// cane: tube, piece, gouge and cane tests.
func cane() []sdk.Dimension {
	own := []sdk.Source{practice(ownNumber)}
	tube := func(name, title, how, more, less string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "length", Unit: "mm", Subject: "tube", Across: true, Condition: "dry",
			How: how, Tool: "caliper", More: more, Less: less, Sources: own,
		}
	}
	thick := func(name, title, how string, aliases ...string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Aliases: aliases, Kind: "length", Unit: "mm", Across: true,
			How: how, Tool: "dial indicator", More: "thick", Less: "thin", Sources: own,
		}
	}
	hardness := func(name, title string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "ratio",
			How:  "on the gouged side, smoothed; wait 2 to 3 s until the pin has settled; the tester's own numbers",
			Tool: "hardness tester", More: "soft", Less: "hard",
			Sources: []sdk.Source{
				published(tester, "both ends are read; no number for the contrabassoon"),
				published(maker, "cane on the harder side worked well for one maker of both sizes; no number"),
			},
		}
	}
	return []sdk.Dimension{
		tube("tube.narrowest", "tube, narrowest", "outside, turning it between the jaws: the smallest", "large", "small"),
		tube("tube.widest", "tube, widest", "outside, turning it between the jaws: the largest", "large", "small"),
		{
			Name: "tube.ovality", Title: "ovality", Kind: "length", Unit: "mm", Subject: "tube",
			More: "oval", Less: "round", Formula: "tube.widest - tube.narrowest",
			Sources: []sdk.Source{worked("widest less narrowest; " + ownNumber)},
		},
		{
			Name: "cane.length", Title: "length of the piece", Aliases: []string{"piece length"},
			Kind: "length", Unit: "mm", Datum: "one end of the piece",
			How: "from end to end along the middle", Tool: "ruler",
			More: "long", Less: "short",
			Sources: []sdk.Source{
				published(floats, "other lengths than the bassoon's 120 mm are usual; pieces of one test must be equal; no number"),
				practice(ownNumber),
			},
		},
		thick("gouge.centre", "gouge, centre", "on the centre line at mid-length, bark and inside touched, not pressed", "gouge.center", "gouge", "gouge thickness"),
		thick("gouge.side", "gouge, side", "at the edge of the shaped piece, so the shaper moves the place", "side of the gouge"),
		{
			Name: "gouge.eccentricity", Title: "centre over side", Kind: "length", Unit: "mm", Across: true,
			More: "eccentric", Less: "concentric", Formula: "gouge.centre - gouge.side",
			Sources: []sdk.Source{worked("centre less side; " + ownNumber)},
		},
		hardness("hardness.first_end", "hardness, marked end"),
		hardness("hardness.second_end", "hardness, other end"),
		{
			Name: "hardness.spread", Title: "hardness, end to end",
			Kind: "ratio", More: "uneven", Less: "even", Plausible: "0 .. 30",
			Formula: "abs(hardness.first_end - hardness.second_end)",
			Sources: []sdk.Source{published(tester, "ends more than 4 apart are unlikely to succeed; 12 and 17 are too far apart")},
		},
		{
			Name: "float.depth", Title: "length under water", Aliases: []string{"float", "float test"},
			Kind: "length", Unit: "mm", Datum: "the lower end",
			How: "let the piece float upright and read at the water line at once: cane drinks", Tool: "ruler",
			More: "dense", Less: "light",
			Sources: []sdk.Source{published(floats, "numbers of the bassoon's pieces do not carry over; pieces of equal length; no number")},
		},
		{
			Name: "float.share", Title: "share under water",
			Kind: "ratio", More: "dense", Less: "light", Plausible: "0.1 .. 1.05",
			Formula: "float.depth / cane.length",
			Sources: []sdk.Source{worked("length under water by length: the density beside water's, for an even piece that floats upright (Archimedes); 1 where it sinks")},
		},
		{
			Name: "sink.time", Title: "time to sink", Aliases: []string{"sinking time"},
			Kind: "time", Unit: "h",
			How: "from when it is laid on the water until it lies on the ground", Tool: "clock",
			More: "slow", Less: "quick", Sources: own,
		},
		{
			Name: "soak.time", Title: "soaking time", Aliases: []string{"soak"},
			Kind: "time", Unit: "h", Subject: "batch",
			How: "from the moment it is under water", Tool: "clock",
			More: "long", Less: "short", Sources: own,
		},
	}
}
