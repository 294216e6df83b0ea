package bassoon

import (
	"slices"

	"canewright/plugins/sdk"
)

// Plugin is the instrument, to be served.
func Plugin() sdk.Instrument {
	return sdk.Instrument{
		ID: "bassoon", Title: "bassoon, German system", Major: 1, Minor: 3,
		Version: "1.3",
		About: "Lengths on the reed count from the butt, the round end; wires to the centre of the twist. " +
			"Makers disagree, and two patterns of outside dimensions are in use; every number says who gives it.",
		Dimensions: slices.Concat(tube(), cane(), canetests(), shape(), blank(), wires(), reed(), blade(), play(), room()),
		Symptoms:   symptoms(),
		Remedies:   remedies(),
		Outline:    outline(),
	}
}
