package contrabassoon

import "canewright/plugins/sdk"

// play: what is heard, how long it lasts, and the room.
func play() []sdk.Dimension {
	own := []sdk.Source{practice(ownNumber)}
	heard := func(name, title, how string, aliases ...string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Aliases: aliases, Kind: "pitch", Condition: "wet",
			How: how, Tool: "tuner", More: "sharp", Less: "flat", Sources: own,
		}
	}
	return []sdk.Dimension{
		heard("crow.pitch", "crow", "blow the reed alone, lips near the first wire, and name the loudest pitch", "pitch of the crow"),
		heard("crow.with_bocal", "reed on the bocal alone", "blow reed and bocal, off the instrument, relaxed", "bocal crow"),
		{
			Name: "reed.age", Title: "age of the reed", Aliases: []string{"years of the reed"},
			Kind: "time", Unit: "d",
			How: "from the day its tip was cut", Tool: "clock",
			More: "old", Less: "new", Plausible: "0 d .. 7305 d",
			Sources: []sdk.Source{published(bocalSoup, "8 years, and still in use until new ones were made")},
		},
		{
			Name: "room.humidity", Title: "humidity of the room", Aliases: []string{"humidity"},
			Kind: "humidity", Unit: "%", Subject: "batch",
			How: "near the bench, away from the water", Tool: "hygrometer",
			More: "damp", Less: "dry", Sources: own,
		},
		{
			Name: "room.temperature", Title: "temperature of the room", Aliases: []string{"temperature"},
			Kind: "temperature", Unit: "°C", Subject: "batch",
			How: "near the bench, out of the sun", Tool: "thermometer",
			More: "warm", Less: "cold", Plausible: "0 .. 45 °C",
			Sources: []sdk.Source{memory("the range: rooms in which reeds are made")},
		},
		{
			Name: "reed.score", Title: "score", Aliases: []string{"grade"},
			Kind: "score", Condition: "wet",
			How:  "the player's own list",
			More: "good", Less: "poor",
			Sources: []sdk.Source{practice("every player grades reeds on a list of their own; there is no common scale")},
		},
	}
}
