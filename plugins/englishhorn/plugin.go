package englishhorn

import (
	"slices"

	"canewright/plugins/sdk"
)

// Plugin is the instrument, to be served.
func Plugin() sdk.Instrument {
	return sdk.Instrument{
		ID: "english-horn", Title: "English horn", Major: 1, Minor: 0,
		Version: "1.0",
		About: "Lengths on the reed count from the bottom of the staple, the end that goes on the bocal. " +
			"Only what somebody gives a number for has one; gouge, shape, tied length and thicknesses are the player's own.",
		Dimensions: slices.Concat(cane(), tie(), scrape(), play()),
		Symptoms:   symptoms(),
		Remedies:   remedies(),
		Outline:    outline(),
	}
}
