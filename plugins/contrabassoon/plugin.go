package contrabassoon

import (
	"slices"

	"canewright/plugins/sdk"
)

// Plugin is the instrument, to be served.
func Plugin() sdk.Instrument {
	return sdk.Instrument{
		ID: "contrabassoon", Title: "contrabassoon", Major: 1, Minor: 0,
		Version: "1.0",
		About: "Lengths on the reed count from the butt, the round end; wires to the centre of the twist. " +
			"Words are the bassoon's, numbers are not: length, tip and bore are published, all others are the player's own.",
		Dimensions: slices.Concat(cane(), shape(), wires(), reed(), play()),
		Symptoms:   symptoms(),
		Remedies:   remedies(),
		Outline:    outline(),
	}
}
