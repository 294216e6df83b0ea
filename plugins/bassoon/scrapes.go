package bassoon

import (
	"slices"

	"canewright/plugins/sdk"
)

// remedies: from trade knowledge, each with who says so. Where makers
// contradict each other there are two.
func remedies() []sdk.Remedy { return slices.Concat(besides(), wireRemedies(), scrapes()) }

// scrapes take cane: measured first, one stroke or two, then tried.
func scrapes() []sdk.Remedy {
	scrape := func(name, lane, because, do string, symptoms, when []string, sources ...sdk.Source) sdk.Remedy {
		where := "blade.thickness"
		if lane != "" {
			where += " " + lane
		}
		return sdk.Remedy{
			Name: name, Symptoms: symptoms, When: when, Because: because, Do: do, Touches: sdk.TouchesKnife,
			TakesOff: []string{where}, Expect: []sdk.Effect{less(where)}, Measure: []string{where, "crow.pitch"}, Sources: sources,
		}
	}
	// A shorter reed crows higher: where it crows high already, that speaks
	// against it.
	clip := func(name, because string, symptoms, when []string, sources ...sdk.Source) sdk.Remedy {
		if len(when) == 0 {
			when = []string{"crow.pitch <= F4"}
			sources = append(sources, memory("a crow of E to F"))
		}
		return sdk.Remedy{
			Name: name, Symptoms: symptoms, When: when, Because: because,
			Do:      "Measure the overall length. If there is length to spare, a hair's breadth off the tip, then play.",
			Touches: sdk.TouchesLength, TakesOff: []string{"overall", "blade.length", "tip.above_first_wire"},
			Expect: []sdk.Effect{less("overall"), more("crow.pitch")}, Measure: []string{"overall", "tip.thickness", "crow.pitch"}, Sources: sources,
		}
	}
	crow := []sdk.Source{
		published(teaching, "a crow too high and tight: the lay too short, too thick, or both; scrape more"),
		published(operatorLong, "shave the back of a stiff reed that crows high"),
		memory("a crow of E to F; another source wants F sharp to A"),
	}
	back := scrape("lighten the back of a high crow", "", "the lay is too thick at the back",
		"Measure the blade. If there is cane to spare, two strokes evenly across in front of the collar, then crow again.",
		[]string{"crow-high"}, []string{"crow.pitch > F4"}, crow...)
	back.Expect = append(back.Expect, less("crow.pitch"))
	return []sdk.Remedy{
		back,
		scrape("a little off in front of the collar", "", "too much wood at the back",
			"Measure the blade. If there is cane to spare, two strokes evenly across right in front of the collar, then try low attacks.",
			[]string{"too-heavy", "attack-poor", "low-notes-resist"}, nil,
			published(scraping, "a heavy reed with poor low attack: evenly across, right in front of the first wire"),
			published(operatorLong, "shave the back")),
		scrape("go on towards the heart", "", "it is still heavy after the back was lightened",
			"Measure the blade. If there is cane to spare, strokes further forward, the heart too, without a step; then try.",
			[]string{"too-heavy"}, nil,
			published(scraping, "go on forward, thin the heart carefully too, or the sides end thin as paper and it is still heavy; even fall from centre to edge, back to front")),
		scrape("sand the sides lightly", "rails", "the sides are stiff",
			"Measure the rails. If there is cane to spare, fine paper along the sides once, then try.",
			[]string{"too-heavy"}, nil,
			published(scraping, "after back and heart, sand the sides lightly")),
		scrape("a little off everywhere", "", "the reed is too heavy",
			"Measure the blade. If there is cane to spare everywhere, one light stroke over each part, then play G and E flat.",
			[]string{"g-e-flat-sharp"}, []string{"play.open_g > G3", "play.forked_e_flat > Eb3"},
			published(teaching, "fourth-space G and forked E flat sharp: too heavy; scrape all over")),
		scrape("take from the stronger side", "", "one blade or one side is stronger",
			"Measure both blades. If the stronger side has cane to spare, one stroke there only, then press it shut again.",
			[]string{"off-centre"}, nil,
			published(ewellSix, "closing off centre: take from the stronger side only"),
			published(ewellFive, "if in doubt, balance; the blade that collapses later is the stronger")),
		scrape("a little more off hard cane", "", "the cane is hard",
			"Measure the blade. If there is cane to spare, a stroke more than usual all over, then play.",
			[]string{"tone-brittle"}, nil,
			published(hardAndSoft, "hard cane: brittle tone, slightly sharp, steady; scraped a bit more it is usable")),
		scrape("scrape the back of a sharp reed", "", "the back is thick",
			"Measure the blade. If there is cane to spare, two strokes at the back, then play against the tuner.",
			[]string{"sharp"}, nil, memory("sharp over all: blade short, back thick, or opening large")),
		scrape("thin the channels by the collar", "channels", "the channels by the collar are thick",
			"Measure the channels. If there is cane to spare, a stroke on each by the collar, four alike, then try the low notes.",
			[]string{"low-notes-resist"}, nil, memory("low notes do not start: back or channels too thick")),
		clip("a hair off a long tip", "the tip is too long", []string{"e-f-flat"}, nil,
			published(teaching, "E and F on the staff flat: the tip is too long, among others"), memory("cutting the tip helps")),
		clip("a hair off the tip of a low crow", "the lay is too long or too thin", []string{"crow-low"}, []string{"crow.pitch < E4"},
			published(teaching, "a crow too deep: too thin, the lay too long; cut the tip and rework"), memory("a crow of E to F")),
		clip("raise the reed, do not bite", "the reed is too low", []string{"bocal-low"}, []string{"crow.with_bocal < 256 Hz"},
			published(reedLore, "reed and bocal give at least the piano's middle C (256 Hz), or the player pinches"), memory("a shorter or narrower reed is higher")),
		{
			Name: "file the edges narrower", Symptoms: []string{"flat"}, Touches: sdk.TouchesEdge,
			Because: "the blade is too wide", Do: "Measure the tip's width. If there is width to spare, one pass of the file along each edge, then play.",
			TakesOff: []string{"tip.width"}, Expect: []sdk.Effect{less("tip.width"), more("crow.pitch")}, Measure: []string{"tip.width", "crow.pitch"},
			Sources: []sdk.Source{published(questions, "file the blade's edges narrower; too far, and it leaks and is ruined")},
		},
	}
}
