package contrabassoon

import "canewright/plugins/sdk"

// reed: the finished reed, its outside, its blades and its fit.
func reed() []sdk.Dimension {
	own := []sdk.Source{practice(ownNumber)}
	return []sdk.Dimension{
		{
			Name: "overall", Title: "overall length", Aliases: []string{"reed length", "total length"},
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt to the tip", Tool: "caliper",
			More: "long", Less: "short", Plausible: "62 .. 84 mm",
			Sources: []sdk.Source{
				published(esfera, "70 to 73 mm, called the total length of the blade the reed is made from"),
				published(library, "70 to 75 mm, the reed"),
			},
		},
		{
			Name: "tip.above_first_wire", Title: "tip above the first wire",
			Kind: "length", Unit: "mm", More: "long", Less: "short", Formula: "overall - wire.first",
			Sources: []sdk.Source{worked("overall less first wire; " + ownNumber)},
		},
		{
			Name: "blade.length", Title: "blade length", Aliases: []string{"lay", "lay length"},
			Kind: "length", Unit: "mm", Datum: "the collar",
			How: "from the collar to the tip, along the middle", Tool: "caliper",
			More: "long", Less: "short", Sources: own,
		},
		{
			Name: "reed.on_bocal", Title: "reed on the bocal", Aliases: []string{"bocal depth"},
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "push it on as for playing, mark the bocal at the butt, and measure from the mark to the bocal's end", Tool: "ruler",
			More: "far", Less: "short", Sources: own,
		},
		{
			Name: "butt.bore", Title: "bore at the butt", Aliases: []string{"inside of the butt"},
			Kind: "length", Unit: "mm", Across: true,
			How: "inside, at the butt", Tool: "plug gauge",
			More: "wide", Less: "narrow", Plausible: "5 .. 9 mm",
			Sources: []sdk.Source{published(esfera, "6.5 to 7 mm, inside, at the bocal")},
		},
		{
			Name: "tip.width", Title: "tip width", Aliases: []string{"width of the tip"},
			Kind: "length", Unit: "mm", Across: true,
			How: "across the tip, not pressed", Tool: "caliper",
			More: "wide", Less: "narrow", Plausible: "13 .. 23 mm",
			Sources: []sdk.Source{
				published(esfera, "17 to 20 mm"),
				published(library, "16 to 18 mm"),
			},
		},
		{
			Name: "tip.opening", Title: "tip opening", Aliases: []string{"opening"},
			Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "between the blades at the centre of the tip, at rest", Tool: "feeler gauge",
			More: "open", Less: "closed", Sources: own,
		},
		{
			Name: "tip.thickness", Title: "tip thickness", Aliases: []string{"thickness of the tip"},
			Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "at the centre of the tip, on the gouged side", Tool: "dial indicator",
			More: "thick", Less: "thin", Sources: own,
		},
		{
			Name: "blade.thickness", Title: "blade thickness", Aliases: []string{"lay thickness"},
			Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "on the gouged side, the round foot in the hollow, at the station", Tool: "dial indicator",
			More: "thick", Less: "thin",
			Grid:    &sdk.Grid{From: []string{"collar", "tip"}, Lanes: []string{"spine", "channels", "rails"}, Blades: []string{"A", "B"}, Short: "blade"},
			Sources: own,
		},
	}
}
