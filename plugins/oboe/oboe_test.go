package oboe_test

import (
	"strings"
	"testing"

	"canewright/plugins/citation"
	"canewright/plugins/oboe"
)

func TestThePluginAnswers(t *testing.T) {
	t.Parallel()
	citation.Answers(t, oboe.Plugin(), "oboe")
}

// Recipes are written in these names; a name that goes needs a new major
// version.
func TestTheNamesRecipesUse(t *testing.T) {
	t.Parallel()
	have := citation.ByName(t, oboe.Plugin())
	for _, name := range strings.Fields(`
		tube.diameter split.pieces gouge.centre gouge.side gouge.eccentricity gouge.regrowth
		hardness.first_end hardness.second_end hardness.spread soak.time sink.time shape.widest shape.tip
		staple.length tie.length tie.fold_above_staple thread.top wire.thickness ring.width rest.time
		overall cane.above_staple tip.start tip.start_centre tip.length heart.start heart.length back.length back.bark
		windows.length windows.spine rails.width tip.thickness tip.corner heart.thickness back.thickness rails.thickness
		blade.thickness reed.width tip.opening crow.pitch crow.octaves reed.played reed.days room.humidity room.temperature reed.score
		cane.length float.depth tie.sides_close scrape.length`) {
		if _, ok := have[name]; !ok {
			t.Errorf("%s is missing", name)
		}
	}
}

// cited is every number the sources give, from both sides where they disagree;
// who says it stands beside it.
func cited() []citation.Row {
	return []citation.Row{
		{"tube.diameter", "10.0 mm", "Lakota; geocities; dirigent63"},
		{"tube.diameter", "10.5 mm", "Lakota, for learners"},
		{"tube.diameter", "11.0 mm", "Lakota"},
		{"tube.diameter", "9.9 mm", "Aldis, Reeds: slightly under 10 mm"},
		{"split.pieces", "3", "Holland"},
		{"split.pieces", "1", "Holland"},
		{"split.pieces", "2", "Aldis, Reeds: at most"},
		{"gouge.centre", "0.60 mm", "thread 15898; Bar; Nedialkov"},
		{"gouge.centre", "0.55 mm", "Nedialkov; dirigent63"},
		{"gouge.centre", "0.63 mm", "Nedialkov"},
		{"gouge.centre", "0.56 mm", "dirigent63"},
		{"gouge.centre", "0.58 mm", "Bar; practice"},
		{"gouge.side", "0.40 mm", "thread 15898"},
		{"gouge.side", "0.50 mm", "thread 15898"},
		{"gouge.side", "0.43 mm", "Nedialkov"},
		{"gouge.side", "0.52 mm", "Nedialkov"},
		{"gouge.side", "0.35 mm", "Bar"},
		{"gouge.side", "0.29 mm", "Bar"},
		{"gouge.eccentricity", "0.05 mm", "thread 15898: very small"},
		{"gouge.eccentricity", "0.15 mm", "worked from Nedialkov"},
		{"gouge.eccentricity", "0.29 mm", "worked from Bar"},
		{"gouge.regrowth", "0.01 mm", "thread 21548"},
		{"gouge.regrowth", "0.04 mm", "thread 21548"},
		{"hardness.spread", "4", "tester's help page: the limit"},
		{"soak.time", "30 min", "everything2, hot"},
		{"soak.time", "60 min", "everything2, cold"},
		{"soak.time", "20 min", "dirigent63; thread 22437"},
		{"soak.time", "15 min", "oboeinsight, part one"},
		{"soak.time", "2.5 h", "thread 12950"},
		{"soak.time", "4 h", "thread 12950"},
		{"soak.time", "4 min", "howaboutoboe"},
		{"soak.time", "24 h", "thread 12950: a whole day is far too long"},
		{"sink.time", "15 min", "Aldis, Tying on"},
		{"shape.widest", "7.2 mm", "Nedialkov"},
		{"shape.widest", "6.10 mm", "Nedialkov, from books"},
		{"shape.widest", "8.20 mm", "Nedialkov, from books"},
		{"shape.widest", "6.27 mm", "Nedialkov, from catalogues"},
		{"shape.widest", "7.39 mm", "Nedialkov, from catalogues"},
		{"shape.tip", "7.1 mm", "dirigent63"},
		{"staple.length", "45 mm", "Nedialkov; Aldis, Tying on"},
		{"staple.length", "46 mm", "dirigent63; Nedialkov; Aldis, Tying on"},
		{"staple.length", "47 mm", "oboeinsight, part one; Nedialkov"},
		{"staple.length", "49 mm", "Nedialkov"},
		{"staple.length", "46 mm", "Hodge, short scrape at 442 Hz"},
		{"staple.length", "47 mm", "Hodge, long scrape at 440 Hz"},
		{"tie.sides_close", "1", "thread 26782"},
		{"tie.length", "72 mm", "racheloboes; auntymuriels, cut"},
		{"tie.length", "73 mm", "racheloboes; thread 26782"},
		{"tie.length", "74 mm", "online-oboe; oboepalas; auntymuriels"},
		{"tie.length", "75 mm", "online-oboe; oboepalas"},
		{"tie.fold_above_staple", "27 mm", "worked from online-oboe"},
		{"tie.fold_above_staple", "28 mm", "worked from online-oboe"},
		{"thread.top", "0 mm", "oboe.net.au: at the end"},
		{"thread.top", "0.5 mm", "thread 25662"},
		{"wire.thickness", "0.35 mm", "online-oboe"},
		{"ring.width", "3 mm", "thread 26782"},
		{"rest.time", "8 h", "practice: overnight"},
		{"overall", "70 mm", "oboeinsight, definitions; thread 17400"},
		{"overall", "69 mm", "paddlefish"},
		{"overall", "71 mm", "paddlefish"},
		{"overall", "68 mm", "thread 17400"},
		{"overall", "72 mm", "oboepalas, short scrape"},
		{"overall", "72.5 mm", "thread 16007"},
		{"overall", "74.5 mm", "thread 16007"},
		{"cane.above_staple", "1 in", "thread 17400, from the thread"},
		{"cane.above_staple", "23 mm", "worked: 70 less 47 mm"},
		{"tip.start", "66 mm", "oboeinsight, definitions; thread 23828"},
		{"tip.start", "67 mm", "racheloboes"},
		{"tip.start", "71 mm", "oboepalas, short scrape"},
		{"tip.start_centre", "68 mm", "oboeinsight, definitions"},
		{"tip.length", "1 mm", "oboepalas; Ruiz 4, short scrape"},
		{"tip.length", "4 mm", "worked from oboeinsight, long scrape"},
		{"heart.start", "62 mm", "racheloboes"},
		{"heart.length", "5 mm", "oboeinsight, definitions"},
		{"back.length", "11 mm", "oboeinsight, definitions"},
		{"back.bark", "3 mm", "oboeinsight, definitions"},
		{"tip.thickness", "0.08 mm", "oboepalas"},
		{"tip.thickness", "0.10 mm", "oboepalas"},
		{"heart.thickness", "0.50 mm", "thread 23828"},
		{"heart.thickness", "0.43 mm", "thread 23828"},
		{"heart.thickness", "0.30 mm", "oboepalas, just behind the tip"},
		{"heart.thickness", "0.35 mm", "oboepalas, just behind the tip"},
		{"blade.thickness", "0.50 mm", "thread 23828, heart"},
		{"blade.thickness", "0.08 mm", "oboepalas, tip"},
		{"blade.thickness", "0.63 mm", "worked from Nedialkov: the gouge"},
		{"reed.width", "7 mm", "Wikipedia, Double reed"},
		{"crow.pitch", "C5", "bsmny; paddlefish; bandencyclopedia"},
		{"crow.octaves", "3", "paddlefish"},
		{"reed.played", "10 h", "oboefiles"},
		{"reed.played", "15 h", "oboefiles"},
		{"reed.days", "4 d", "Ruiz 5"},
		{"room.humidity", "35 %", "magicreed; thread 6494"},
		{"room.humidity", "50 %", "magicreed; thread 6494"},
		{"room.humidity", "70 %", "thread 25611"},
	}
}

// Every value a source gives must be plausible, from both sides where sources
// disagree.
func TestPlausibleRangesHoldWhatIsPublished(t *testing.T) {
	t.Parallel()
	citation.Inside(t, oboe.Plugin(), cited())
}

// A published page mixes up micrometres and millimetres; an inch, a thou or a
// micrometre read as a millimetre is what a plausible range is there to catch.
func TestAReadingInTheWrongUnitIsNotPlausible(t *testing.T) {
	t.Parallel()
	citation.Outside(t, oboe.Plugin(), []citation.Slip{
		{"gouge.centre", "0.60 µm"}, {"gouge.centre", "600"}, {"gouge.centre", "24"},
		{"gouge.side", "0.45 µm"}, {"gouge.side", "450"},
		{"tip.thickness", "4"}, {"heart.thickness", "20"}, {"staple.length", "1.85"}, {"overall", "2.76"}, {"tube.diameter", "0.4"},
	})
}

// A range is there because of a number; where nobody gives one, there is the
// word and the datum and nothing else.
func TestEveryRangeRestsOnANumber(t *testing.T) {
	t.Parallel()
	citation.Ranges(t, oboe.Plugin(), cited())
}

func TestSources(t *testing.T) {
	t.Parallel()
	citation.Sources(t, oboe.Plugin())
}
