package contrabassoon

import "canewright/plugins/sdk"

// wires: their places from the butt. Nobody publishes them; a bassoon's,
// stretched, would be a guess.
func wires() []sdk.Dimension {
	own := []sdk.Source{practice(ownNumber)}
	wire := func(name, title string, aliases ...string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Aliases: aliases, Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt to the centre of the twist", Tool: "caliper",
			More: "far forward", Less: "far back", Sources: own,
		}
	}
	return []sdk.Dimension{
		wire("wire.first", "first wire", "top wire", "upper wire"),
		wire("wire.second", "second wire", "middle wire", "throat wire", "lower wire"),
		wire("wire.third", "third wire", "butt wire", "bottom wire"),
		{
			Name: "wire.gap", Title: "first to second wire", Aliases: []string{"throat"},
			Kind: "length", Unit: "mm", More: "wide", Less: "narrow", Formula: "wire.first - wire.second",
			Sources: []sdk.Source{worked("first less second wire; " + ownNumber)},
		},
		{
			Name: "wire.gauge", Title: "wire", Aliases: []string{"wire thickness"},
			Kind: "length", Unit: "mm", Subject: "batch", Across: true,
			How: "across the wire", Tool: "micrometer",
			More: "thick", Less: "thin", Sources: own,
		},
		{
			Name: "collar.above_first_wire", Title: "collar above the first wire", Aliases: []string{"shoulder"},
			Kind: "length", Unit: "mm", Datum: "the centre of the first wire",
			How: "from the first wire to the collar", Tool: "ruler",
			More: "far", Less: "close", Sources: own,
		},
		{
			Name: "rest.time", Title: "rest of the blank", Aliases: []string{"rest"},
			Kind: "time", Unit: "d",
			How: "from forming to the next work on it", Tool: "clock",
			More: "long", Less: "short", Sources: own,
		},
	}
}
