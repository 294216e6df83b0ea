package bassoon

import "canewright/plugins/sdk"

// play: what is heard, and what the player makes of it.
func play() []sdk.Dimension {
	// The source names the notes, their octaves are those of the bassoon's range.
	note := func(name, title, what, off string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "pitch", Condition: "wet",
			How: "on the instrument, warm, blown freely without bending it into tune", Tool: "tuner",
			More: "sharp", Less: "flat", Plausible: what + " ± 90 cents",
			Sources: []sdk.Source{published(teaching, off), practice("the octave, " + what)},
		}
	}
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
			Name: "crow.with_bocal", Title: "reed on the bocal alone", Aliases: []string{"bocal crow", "pitch with the bocal"},
			Kind: "pitch", Condition: "wet",
			How: "blow reed and bocal, off the instrument, relaxed", Tool: "tuner",
			More: "sharp", Less: "flat", Plausible: "G3 .. C5",
			Sources: []sdk.Source{published(reedLore, "at least the piano's middle C (256 Hz)")},
		},
		note("play.low_f", "low F", "F2", "played quickly, in tune and answering: the opening is not too small"),
		note("play.high_f", "F above middle C", "F4", "in tune and answering: the opening is not too large"),
		note("play.open_g", "fourth-space G", "G3", "sharp: the reed is too heavy"),
		note("play.forked_e_flat", "forked E flat", "Eb3", "sharp: the reed is too heavy"),
		{
			Name: "reed.score", Title: "score", Aliases: []string{"grade"},
			Kind: "score", Condition: "wet",
			How:  "the player's own list",
			More: "good", Less: "poor",
			Sources: []sdk.Source{practice("every player grades reeds on a list of their own; there is no common scale")},
		},
	}
}
