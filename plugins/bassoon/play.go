package bassoon

import "canewright/plugins/sdk"

// play: what is heard, and what the player makes of it.
func play() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "crow.pitch", Title: "crow", Aliases: []string{"pitch of the crow"},
			Kind: "pitch", Condition: "wet",
			How: "blow the reed alone, lips near the first wire, and name the loudest pitch", Tool: "tuner",
			More: "sharp", Less: "flat", Plausible: "C4 .. C5",
			Sources: []sdk.Source{
				published(reedLore, "between middle F sharp and A, the reed alone, free-blown"),
				memory("E to F, several octaves at once"),
			},
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
