package uilleann

import "canewright/plugins/sdk"

// play: what is heard on the chanter, and the air it is made for.
func play() []sdk.Dimension {
	heard := func(name, title, how string, sources ...sdk.Source) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "pitch",
			How: how, Tool: "tuner", More: "sharp", Less: "flat", Sources: sources,
		}
	}
	own := practice(ownNumber)
	return []sdk.Dimension{
		heard("crow.pitch", "crow", "blow the reed alone by mouth, dry, and name the loudest pitch", own),
		heard("play.bottom_d", "bottom D", "on the chanter, off the knee and hard, at steady pressure",
			published(dayeHardD, "the easier the hard D, the weaker the back D; no number")),
		heard("play.back_d", "back D", "on the chanter, at the same pressure as the bottom D",
			published(dayeHardD, "it sinks as a reed ages and its lips flatten; no number")),
		{
			Name: "rest.time", Title: "rest of the reed", Aliases: []string{"rest"},
			Kind: "time", Unit: "d",
			How: "from binding, or from the last scraping", Tool: "clock",
			More: "long", Less: "short",
			Sources: []sdk.Source{published(dayeAir, "left to settle in the air it will be played in; no number")},
		},
		{
			Name: "room.humidity", Title: "humidity of the room", Aliases: []string{"humidity"},
			Kind: "humidity", Unit: "% RH", Subject: "batch",
			How: "where the reeds are worked and left to settle", Tool: "hygrometer",
			More: "damp", Less: "dry", Plausible: "5 .. 98 % RH",
			Sources: []sdk.Source{published(dayeAir, "finished for about 70 %; a reed seldom plays well over more than 40 to 50 % of change")},
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
			Kind: "score",
			How:  "the player's own list",
			More: "good", Less: "poor",
			Sources: []sdk.Source{practice("every player grades reeds on a list of their own; there is no common scale")},
		},
	}
}
