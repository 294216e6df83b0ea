package englishhorn

import "canewright/plugins/sdk"

// play: what is heard, and the room.
func play() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "crow.pitch", Title: "crow", Aliases: []string{"pitch of the crow"},
			Kind: "pitch", Condition: "wet",
			How: "blow the reed alone, lips at the thread, and name the upper pitch", Tool: "tuner",
			More: "sharp", Less: "flat", Plausible: "F4 .. F5",
			Sources: []sdk.Source{
				published(hoveDays, "from the third day C in octaves, or B by length and thickness"),
				memory("the upper of the two is C5, or B4"),
			},
		},
		{
			Name: "reed.days", Title: "days in use",
			Kind: "time", Unit: "d",
			How: "from the first day it was played", Tool: "clock",
			More: "long", Less: "short",
			Sources: []sdk.Source{practice(ownNumber)},
		},
		{
			Name: "room.humidity", Title: "humidity of the room", Aliases: []string{"humidity"},
			Kind: "humidity", Unit: "% RH", Subject: "batch",
			How: "where the reeds are worked", Tool: "hygrometer",
			More: "damp", Less: "dry",
			Sources: []sdk.Source{published(hoveCane, "height, humidity and temperature of the seasons enter into the choice of cane; no number")},
		},
		{
			Name: "room.temperature", Title: "temperature of the room", Aliases: []string{"temperature"},
			Kind: "temperature", Unit: "°C", Subject: "batch",
			How: "where the reeds are worked", Tool: "thermometer",
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
