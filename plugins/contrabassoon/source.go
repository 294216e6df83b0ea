package contrabassoon

import "canewright/plugins/sdk"

// Who says it: author or publisher, title, year where one is given.
const (
	esfera    = "esferamusical.com, Contrafagot; the same words in a document of scribd, El contrafagot"
	library   = "Vienna Symphonic Library, Contrabassoon, construction"
	floats    = "schuflo.de, float test for cane"
	tester    = "reedsnstuff.com, hardness tester, support page"
	maker     = "kingkristopher.com, reeds"
	bocalSoup = "bocalsoup.weebly.com, August 2007"
)

// ownNumber stands where no source gives a number.
const ownNumber = "no source gives a number, so it is the player's own"

func published(who, says string) sdk.Source {
	return sdk.Source{Says: says, Who: who, Grade: sdk.Published}
}

func practice(says string) sdk.Source { return sdk.Source{Says: says, Grade: sdk.CommonPractice} }
func memory(says string) sdk.Source   { return sdk.Source{Says: says, Grade: sdk.FromMemory} }
func worked(says string) sdk.Source   { return sdk.Source{Says: says, Grade: sdk.WorkedOut} }
