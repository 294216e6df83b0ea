package oboe

import "canewright/plugins/sdk"

// play: what is heard, how long it lasts, and the room.
func play() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "crow.pitch", Title: "crow", Aliases: []string{"pitch of the crow"},
			Kind: "pitch", Condition: "wet",
			How: "blow the reed alone, lips at the thread, and name the upper pitch", Tool: "tuner",
			More: "sharp", Less: "flat", Plausible: "G4 .. F5",
			Sources: []sdk.Source{
				published(metropolitan, "C in octaves"),
				published(paddlefish, "C in octaves"),
				published(bandPages, "C (C5)"),
			},
		},
		{
			Name: "crow.octaves", Title: "Cs in the crow",
			Kind: "count", Condition: "wet",
			How:  "count the Cs that sound together",
			More: "many", Less: "few", Plausible: "0 .. 4",
			Sources: []sdk.Source{published(paddlefish, "three Cs, long scrape")},
		},
		{
			Name: "reed.played", Title: "time played", Aliases: []string{"hours of the reed"},
			Kind: "time", Unit: "h",
			How: "add up what it was played", Tool: "clock",
			More: "long", Less: "short", Plausible: "0 h .. 200 h",
			Sources: []sdk.Source{published(lifeOfReeds, "10 to 15 hours, within a month of making")},
		},
		{
			Name: "reed.days", Title: "days in use",
			Kind: "time", Unit: "d",
			How: "from the first day it was played", Tool: "clock",
			More: "long", Less: "short", Plausible: "0 d .. 400 d",
			Sources: []sdk.Source{published(ruizFive, "one general scraping on the 3rd or 4th day of use, then steady")},
		},
		{
			Name: "room.humidity", Title: "humidity of the room", Aliases: []string{"humidity"},
			Kind: "humidity", Unit: "% RH", Subject: "batch",
			How: "where the reeds are worked", Tool: "hygrometer",
			More: "damp", Less: "dry", Plausible: "5 .. 95 % RH",
			Sources: []sdk.Source{
				published(dryRoom, "35 to 50 %"),
				published(boardDry, "45 to 50 % is fine, 35 % is not"),
				published(boardDamp, "over 70 % is a problem"),
			},
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
