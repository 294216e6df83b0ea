package englishhorn

import "canewright/plugins/sdk"

// Who says it: author or publisher, title, year where one is given.
const (
	hoveCane    = "C. Hove, Cane selection"
	hoveDays    = "C. Hove, The 4-day method"
	hoveTubing  = "C. Hove, A few words about plastic tubing on English horn staples"
	hoveStaple  = "C. Hove, page on an English horn staple"
	geocities   = "geocities, SoHo Square 3583, reeds"
	museumHorn  = "S. Verdegem, oboe collection of the Brussels museum, English horn 0976"
	museumTenor = "S. Verdegem, oboe collection of the Brussels museum, tenor oboe 0179"
	instrHub    = "musicalinstrumenthub.com, archive 21499"
	schoolPage  = "bsmny.org, oboe, part 4"
	gaugeHelp   = "reedsnstuff.com, hardness tester, support page"
	floatTest   = "oboe-blog.de, June 2012"
)

// ownNumber stands where no source gives a number.
const ownNumber = "no source gives a number, so it is the player's own"

func published(who, says string) sdk.Source {
	return sdk.Source{Says: says, Who: who, Grade: sdk.Published}
}

func practice(says string) sdk.Source { return sdk.Source{Says: says, Grade: sdk.CommonPractice} }
func memory(says string) sdk.Source   { return sdk.Source{Says: says, Grade: sdk.FromMemory} }
func worked(says string) sdk.Source   { return sdk.Source{Says: says, Grade: sdk.WorkedOut} }
