package contrabassoon

import "canewright/plugins/sdk"

// shape: the shaped, scored and profiled piece.
func shape() []sdk.Dimension {
	own := []sdk.Source{practice(ownNumber)}
	wide := func(name, title, how string, aliases ...string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Aliases: aliases, Kind: "length", Unit: "mm", Across: true,
			How: how, Tool: "caliper", More: "wide", Less: "narrow", Sources: own,
		}
	}
	return []sdk.Dimension{
		wide("shape.fold", "shape width at the fold", "across the shaped piece at the fold; a shaper's number is not the cane's width", "shape, tip", "shape width"),
		wide("shape.first_wire", "shape width at the first wire", "across the shaped piece, flat, where the first wire will sit", "shape, throat"),
		wide("shape.butt", "shape width at the butt", "across the shaped piece, flat, where the butt will be cut", "shape, end"),
		{
			Name: "profile.collar", Title: "thickness at the collar",
			Kind: "length", Unit: "mm", Across: true,
			How: "on the profiled piece, centre line, just in front of the collar", Tool: "dial indicator",
			More: "thick", Less: "thin", Sources: own,
		},
		{
			Name: "score.lines", Title: "score lines",
			Kind: "count",
			How:  "count the lines at one butt end", Tool: "eye",
			More: "many", Less: "few", Sources: own,
		},
		{
			Name: "bevel.length", Title: "bevel",
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "up from the butt, where the sanded flat ends", Tool: "ruler",
			More: "long", Less: "short", Sources: own,
		},
		{
			Name: "mandrel.line", Title: "blank on the mandrel",
			Kind: "length", Unit: "mm", Datum: "the line on the mandrel",
			How: "from the line to the butt; short of it is minus", Tool: "ruler",
			More: "past it", Less: "short of it", Sources: own,
		},
	}
}
