package uilleann

import (
	"slices"

	"canewright/plugins/sdk"
)

// Plugin is the instrument, to be served.
func Plugin() sdk.Instrument {
	return sdk.Instrument{
		ID: "uilleann-chanter", Title: "Uilleann pipes, chanter", Major: 1, Minor: 0,
		Version: "1.0",
		About: "Lengths on the reed count from the bottom of the staple, the end that goes into the chanter. " +
			"Numbers are of concert D chanters unless they say otherwise; chanters differ, so write each change and its result down.",
		Dimensions: slices.Concat(slip(), staple(), reed(), play()),
		Symptoms:   symptoms(),
		Remedies:   remedies(),
		Outline:    outline(),
	}
}
