package uilleann

import "canewright/plugins/sdk"

// reed: blades, binding, bridle and fit.
func reed() []sdk.Dimension {
	along := func(name, title, from, how, plausible string, sources ...sdk.Source) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "length", Unit: "mm", Datum: from,
			How: how, Tool: "caliper", More: "long", Less: "short", Plausible: plausible, Sources: sources,
		}
	}
	own := practice(ownNumber)
	const bottom = "the bottom of the staple"
	overall := along("overall", "overall length", bottom, "from the bottom of the staple to the lips", "65 .. 95 mm", published(dooley, "80 mm"))
	overall.Aliases = []string{"reed length", "total length"}
	inside := along("staple.in_blades", "staple inside the blades", "the eye of the staple", "from the eye down to the tails of the blades", "10 .. 42 mm", published(dooley, "25 mm"))
	inside.More, inside.Less = "deep", "shallow"
	fit := along("reed.in_chanter", "reed in the chanter", bottom, "how much of the staple goes in, as for playing", "4 .. 32 mm", published(dooley, "15 mm"))
	fit.More, fit.Less, fit.Tool = "deep", "shallow", "ruler"
	bridle := along("bridle.height", "bridle above the binding", "the last turn of the binding", "up to the middle of the bridle", "",
		published(dayeHardD, "it is moved higher against a weak back D; no number"))
	bridle.More, bridle.Less, bridle.Tool = "high", "low", "ruler"
	chanter := along("chanter.length", "length of the chanter", "the top of the chanter", "from end to end", "250 .. 600 mm", published(dooley, "14.25 in, concert pitch, normal bore"))
	chanter.Subject, chanter.Tool = "batch", "ruler"
	return []sdk.Dimension{
		overall,
		inside,
		along("blade.exposed", "exposed blades", "the last turn of the binding", "up to the lips", "14 .. 40 mm", published(dooley, "25 mm")),
		{
			Name: "cane.above_staple", Title: "cane above the staple", Kind: "length", Unit: "mm",
			More: "long", Less: "short", Plausible: "18 .. 50 mm", Formula: "overall - staple.length",
			Sources: []sdk.Source{worked("32 mm where the reed is 80 and the staple 48 mm")},
		},
		{
			Name: "blade.width", Title: "width of the blades", Aliases: []string{"head width"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the lips, not pressed", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "9 .. 17 mm",
			Sources: []sdk.Source{published(dooley, "12.5 mm")},
		},
		along("scrape.length", "scrape", "the lips", "from the lips down to where the bark begins", "", own),
		{
			Name: "lips.opening", Title: "opening of the lips", Aliases: []string{"tip.opening", "opening"},
			Kind: "length", Unit: "mm", Across: true,
			How: "between the blades at the centre of the lips, at rest", Tool: "feeler gauge",
			More: "open", Less: "closed",
			Sources: []sdk.Source{own},
		},
		{
			Name: "lips.thickness", Title: "thickness of the lips",
			Kind: "length", Unit: "mm", Across: true,
			How: "at the centre of the lips", Tool: "dial indicator",
			More: "thick", Less: "thin",
			Sources: []sdk.Source{own},
		},
		{
			Name: "blade.thickness", Title: "blade thickness", Kind: "length", Unit: "mm", Across: true,
			How: "on the inside, at the station", Tool: "dial indicator",
			More: "thick", Less: "thin",
			Grid:    &sdk.Grid{From: []string{"lips"}, Lanes: []string{"spine", "edges"}, Blades: []string{"A", "B"}, Short: "blade"},
			Sources: []sdk.Source{own},
		},
		along("resand.distance", "inside sanding short of the lips", "the lips", "from the lips to where the sanding inside begins", "1 .. 12 mm",
			published(dayeHardD, "no closer than 3/16 in, 4 to 5 mm")),
		bridle,
		fit,
		chanter,
	}
}
