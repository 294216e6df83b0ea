package oboedamore

import (
	"slices"

	"canewright/plugins/sdk"
)

// Plugin is the instrument, to be served.
func Plugin() sdk.Instrument {
	return sdk.Instrument{
		ID: "oboe-damore", Title: "oboe d'amore", Major: 1, Minor: 0,
		Version: "1.0",
		About: "Lengths on the reed count from the bottom of the staple, the end that goes on the bocal. " +
			"Only the tube's diameter and the spread of a hardness test have a published number; all others are the player's own.",
		Dimensions: slices.Concat(cane(), tie(), scrape(), play()),
		Outline:    outline(),
	}
}
