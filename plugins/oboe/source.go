package oboe

import "canewright/plugins/sdk"

// Who says it: author or publisher, title, year where one is given. Threads of
// the oboe bulletin board have numbers.
const (
	lakota       = "A. Lakota, Make oboe reeds"
	geocities    = "geocities, SoHo Square 3583, reeds"
	dirigent     = "dirigent63.de, page 6"
	tyingOn      = "M. Aldis, Tying on"
	aldisReeds   = "M. Aldis, Reeds, reeds, reeds"
	holland      = "D. Holland, Reed making day 1, processing"
	nedialkov    = "B. Nedialkov, Tying of oboe reeds, University of Brasília"
	barOn        = "barcentral.com.au, Bar on gouger"
	oboeFloat    = "oboe-blog.de, June 2012"
	hodge        = "A. Hodge, Four effects staples have on oboe reeds, March 2022"
	gaugeHelp    = "reedsnstuff.com, hardness tester, support page"
	insightOne   = "oboeinsight.com, Reed making, part one"
	insightWords = "oboeinsight.com, Reed definitions"
	insightFixes = "oboeinsight.com, Adjustments and fixes"
	onlineOboe   = "online-oboe.de, Aufbinden"
	rachel       = "racheloboes.blogspot.com, Reeds, June 2007"
	rachelMore   = "racheloboes.blogspot.com, Yet another reed technique, July 2007"
	muriel       = "auntymurielsoboe, Crossed blades"
	palas        = "oboepalas.com, Raspado"
	tips         = "oboe.net.au, Tips"
	everything2  = "everything2.com, How to make oboe reeds, part 2"
	paddlefish   = "paddlefish.net, pages on reeds"
	metropolitan = "bsmny.org, oboe, part 4"
	ruizFour     = "J. M. Ruiz, Taller de cañas 4, March 2020"
	ruizFive     = "J. M. Ruiz, Taller de cañas 5, March 2020"
	lifeOfReeds  = "oboefiles.com, How long does an oboe reed last"
	ryon         = "J. Ryon, Brief reed making guide, University of North Texas"
	overSoaked   = "howaboutoboe, June 2015"
	blunt        = "oboistic.ca, D'oh, of course"
	dryRoom      = "magicreed.com, Oboe reed making and a humidity controlled environment"
	gougeBatch   = "magicreed.com, How to gouge oboe cane for best outcomes"
	bandPages    = "bandencyclopedia.com, oboe"
	encyclopedia = "Wikipedia, Double reed"

	boardGouge   = "oboe bulletin board of woodwind.org, thread 15898"
	boardRegrow  = "oboe bulletin board of woodwind.org, thread 21548"
	boardThread  = "oboe bulletin board of woodwind.org, thread 26782"
	boardHeart   = "oboe bulletin board of woodwind.org, thread 23828"
	boardLength  = "oboe bulletin board of woodwind.org, thread 17400"
	boardHard    = "oboe bulletin board of woodwind.org, thread 25662"
	boardPitch   = "oboe bulletin board of woodwind.org, thread 16007"
	boardSoak    = "oboe bulletin board of woodwind.org, thread 12950"
	boardTwo     = "oboe bulletin board of woodwind.org, thread 22437"
	boardDamp    = "oboe bulletin board of woodwind.org, thread 25611"
	boardSoft    = "oboe bulletin board of woodwind.org, thread 26396"
	boardDry     = "oboe bulletin board of woodwind.org, thread 6494"
	shapeMachine = "G. Salter, Oboe shaper templates"
)

func published(who, says string) sdk.Source {
	return sdk.Source{Says: says, Who: who, Grade: sdk.Published}
}

func practice(says string) sdk.Source { return sdk.Source{Says: says, Grade: sdk.CommonPractice} }
func memory(says string) sdk.Source   { return sdk.Source{Says: says, Grade: sdk.FromMemory} }
func worked(says string) sdk.Source   { return sdk.Source{Says: says, Grade: sdk.WorkedOut} }
