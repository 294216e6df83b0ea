package bassoon

import "canewright/plugins/sdk"

// Who says it: author or publisher, title, year where one is given.
const (
	lowAtwater   = "E. Low-Atwater, Guide to bassoon reed making, 2021"
	boldt        = "K. Boldt-Neurohr, physical properties and anatomy of Arundo donax, The Double Reed"
	harris       = "J. Harris, Bassoon reed making according to historical methods, 2016"
	everything2  = "everything2.com, Making bassoon reeds"
	floatTest    = "schuflo.de, Fagott 01, instructions for a float test"
	stowellTube  = "A. Stowell, bassoon reed pages, page 15"
	stowellPrep  = "A. Stowell, bassoon reed pages, page 16"
	stowellScore = "A. Stowell, bassoon reed pages, page 17"
	stowellBind  = "A. Stowell, bassoon reed pages, page 20"
	stowellGouge = "A. Stowell, Gouging and shaping"
	stowellBevel = "A. Stowell, Bevelling"
	medpants     = "medpants.com, My new reeds"
	longitudinal = "London Fields Reed Shack, Longitudinal gouge variations"
	inverted     = "London Fields Reed Shack, Lou Skinner's inverted gouge model"
	reedTips     = "allbassooncane.com, Reed tips"
	medecine     = "Médecine des arts, Anche de basson"
	encyclopedia = "Wikipedia, Double reed"
	lacan2       = "angelfire.com/planet/lacan, page 2"
	lacan4       = "angelfire.com/planet/lacan, page 4"
	blog2009     = "bassoonblog.blogspot.com, After shaping, profiling and scoring, September 2009"
	blog2013     = "bassoonblog.blogspot.com, December 2013"
	blog2014     = "bassoonblog.blogspot.com, Happy new reed year, January 2014"
	blog2015     = "bassoonblog.blogspot.com, Update on reed a day challenge, August 2015"
	blog2023     = "bassoonblog.blogspot.com, 2023"
	brusky       = "P. Brusky, Reed measurements"
	bruskyWords  = "P. Brusky, Glossary of reed terms"
	ellin        = "V. Ellin, Studying reed making with Louis Skinner, part 1"
	ellin2       = "V. Ellin, Studying reed making with Louis Skinner, part 2"
	darmstadt    = "London Fields Reed Shack, Lou's Darmstadt model"
	green        = "kingkristopher.com, pages on reeds"
	fagottwurm   = "fagottwurm.de, page 4"
	ruminations  = "tjbassoon.com, Ruminations on cane selection and density testing, February 2023"
	offLabel     = "steesbassoon.blogspot.com, Splitting cane off label, March 2013"
	hardness2015 = "steesbassoon.blogspot.com, Measuring cane hardness, March 2015"
	testerHelp   = "reedsnstuff.com, hardness tester, support page"
	altitude     = "bulletin board of the International Double Reed Society, post 34586"
	soldSorted   = "lcdoublereeds.com, Gouged bassoon cane"
	oboeFloat    = "oboe-blog.de, June 2012"
	doctor       = "bassoondoctor.blogspot.com, Bassoon reeds, Dr. Elaine's procedure, March 2013"
	blog2017     = "bassoonblog.blogspot.com, How long does it take to make bassoon reeds, December 2017"
	adjustCanas  = "uac-m.org, Cañas de fagot, cómo ajustarlas"
	noSoak       = "bocalsoup.weebly.com, August 2017"
	fourthWire   = "D. L. Gibson, Is it a sound idea?"
	teaching     = "The Teaching of Instrumental Music, page 169"
	student      = "a student page on bassoon reeds, Marlboro College, 2006"
	schweizer    = "H. Schweizer, Viajando"
	morgue       = "steesbassoon.blogspot.com, Reed morgue again, July 2017"
	reedBlog     = "bassoonreed.blogspot.com"
	reedLore     = "Reed Lore, To the World's Bassoonists 1/2, International Double Reed Society"
	operatorLog  = "bassoonoperator.blogspot.com, Reed log, January 2010"
	operatorAir  = "bassoonoperator.blogspot.com, Environmental effects, May 2010"
	dryRoom      = "magicreed.com, Oboe reed making and a humidity controlled environment"
	shrinking    = "charlesmusic.com, When humidity is low wood instruments shrink"
	boardDry     = "oboe bulletin board of woodwind.org, thread 6494"
	boardDamp    = "oboe bulletin board of woodwind.org, thread 25611"
	conditioning = "tjbassoon.com, Reed making, how I do it, part 1, February 2011"
	adjusting    = "Revista Viento Percusión 7, Ajuste y raspado de las cañas, April 2018"
)

func published(who, says string) sdk.Source {
	return sdk.Source{Says: says, Who: who, Grade: sdk.Published}
}

func practice(says string) sdk.Source { return sdk.Source{Says: says, Grade: sdk.CommonPractice} }
func memory(says string) sdk.Source   { return sdk.Source{Says: says, Grade: sdk.FromMemory} }
func worked(says string) sdk.Source   { return sdk.Source{Says: says, Grade: sdk.WorkedOut} }
