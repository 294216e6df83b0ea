package uilleann

import "canewright/plugins/sdk"

// Who says it: author or publisher, title, year where one is given.
const (
	dooley    = "dooleypipes, A chanter reed method"
	gallagher = "S. Gallagher, Reed making workshop"
	slips     = "uilleannpipes.ie, page 3"
	dayeAir   = "D. Daye, Climate resistance and dependability, May 2000"
	dayeHardD = "D. Daye, page on the hard D and the inside of the blade"
	forum     = "uilleannforum.com, Judging cane by its bark, 2014"
)

// ownNumber stands where no source gives a number.
const ownNumber = "no source gives a number, so it is the player's own"

func published(who, says string) sdk.Source {
	return sdk.Source{Says: says, Who: who, Grade: sdk.Published}
}

func practice(says string) sdk.Source { return sdk.Source{Says: says, Grade: sdk.CommonPractice} }
func memory(says string) sdk.Source   { return sdk.Source{Says: says, Grade: sdk.FromMemory} }
func worked(says string) sdk.Source   { return sdk.Source{Says: says, Grade: sdk.WorkedOut} }
