package oboe

import (
	"slices"

	"canewright/plugins/sdk"
)

// Plugin is the instrument, to be served.
func Plugin() sdk.Instrument {
	return sdk.Instrument{
		ID: "oboe", Title: "oboe", Major: 1, Minor: 1,
		Version: "1.1",
		About: "Lengths on the reed count from the bottom of the staple, the cork end. " +
			"Schools disagree: a number of the long scrape is wrong for the short one; every number says who gives it.",
		Dimensions: slices.Concat(cane(), tie(), scrape(), play()),
		Symptoms:   symptoms(),
		Remedies:   slices.Concat(besides(), presses(), scrapes()),
		Outline:    outline(),
	}
}
