package oboedamore

import "canewright/plugins/sdk"

// tie: the staple and what is tied to it.
func tie() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "staple.length", Title: "staple", Aliases: []string{"staple length", "length of the staple"},
			Kind: "length", Unit: "mm", Subject: "staple", Datum: "the bottom of the staple",
			How: "from the bocal's end to the other", Tool: "caliper",
			More: "long", Less: "short",
			Sources: []sdk.Source{
				published(schoolPage, "metal without cork, it sits on the end of the bocal; no number"),
				practice("the fit on the bocal decides; " + ownNumber),
			},
		},
		{
			Name: "tie.length", Title: "tied length", Aliases: []string{"tie length", "tying length"},
			Kind: "length", Unit: "mm", Datum: "the bottom of the staple",
			How: "from the bocal's end to the fold, before the tip is opened", Tool: "ruler",
			More: "long", Less: "short",
			Sources: []sdk.Source{practice("width of the cane and of the staple decide where the sides close; " + ownNumber)},
		},
		{
			Name: "tie.fold_above_staple", Title: "fold above the staple",
			Kind: "length", Unit: "mm",
			More: "long", Less: "short",
			Formula: "tie.length - staple.length",
			Sources: []sdk.Source{worked("tied length less staple; " + ownNumber)},
		},
		{
			Name: "thread.top", Title: "thread short of the staple", Aliases: []string{"top turn of thread"},
			Kind: "length", Unit: "mm", Datum: "the top of the staple",
			How: "from the last turn down to the staple's end; past it is minus", Tool: "ruler",
			More: "short", Less: "past it",
			Sources: []sdk.Source{practice("never past the staple, as on the oboe; " + ownNumber)},
		},
		{
			Name: "wire.thickness", Title: "wire", Aliases: []string{"wire gauge"},
			Kind: "length", Unit: "mm", Subject: "batch", Across: true,
			How: "across the wire, where a wire is used", Tool: "micrometer",
			More: "thick", Less: "thin",
			Sources: []sdk.Source{practice("one brass wire in some schools, none in others; " + ownNumber)},
		},
		{
			Name: "rest.time", Title: "rest of the blank", Aliases: []string{"rest"},
			Kind: "time", Unit: "d", Subject: "piece",
			How: "from tying, or from the last scraping", Tool: "clock",
			More: "long", Less: "short",
			Sources: []sdk.Source{practice("overnight, dry, between sittings; " + ownNumber)},
		},
	}
}
