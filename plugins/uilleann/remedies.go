package uilleann

import "canewright/plugins/sdk"

// symptoms: only what a source speaks of for this instrument.
func symptoms() []sdk.Symptom {
	return []sdk.Symptom{
		{Name: "back-d-sinks", Words: "the back D sinks", Also: []string{"the back D is weak"}},
		{Name: "octaves", Words: "the octaves do not agree"},
		{Name: "weather", Words: "it plays badly in other air"},
	}
}

func remedies() []sdk.Remedy {
	return []sdk.Remedy{
		{
			Name: "move the bridle higher", Symptoms: []string{"back-d-sinks"}, Because: "the lips have flattened, and the low curve reaches far down the blade",
			Do: "Measure the bridle's height. Move it a little towards the lips, and play both Ds.", Touches: sdk.TouchesWires,
			Expect: []sdk.Effect{{Dimension: "bridle.height", Way: sdk.More}}, Measure: []string{"bridle.height"},
			Sources: []sdk.Source{published(dayeHardD, "the usual cure is to trim the lips or to move the bridle higher")},
		},
		{
			Name: "trim the lips", Symptoms: []string{"back-d-sinks"}, Because: "the lips have flattened, and the bridle alone was not enough",
			Do:      "Measure the overall length. If there is length to spare, a hair's breadth off the lips, then play both Ds.",
			Touches: sdk.TouchesLength, TakesOff: []string{"overall", "blade.exposed", "cane.above_staple"},
			Expect: []sdk.Effect{{Dimension: "overall", Way: sdk.Less}}, Measure: []string{"overall"},
			Sources: []sdk.Source{published(dayeHardD, "the usual cure is to trim the lips or to move the bridle higher")},
		},
		{
			Name: "more curve inside below the lips", Symptoms: []string{"back-d-sinks"}, Because: "the end of the blade has relaxed into a low curve",
			Do:      "Measure the lips. If there is cane to spare, a few strokes inside on a wide cylinder, 5 mm from the lips or farther.",
			Touches: sdk.TouchesKnife, TakesOff: []string{"blade.thickness spine"}, Measure: []string{"blade.thickness spine", "resand.distance"},
			Expect:  []sdk.Effect{{Dimension: "blade.thickness spine", Way: sdk.Less}},
			Sources: []sdk.Source{published(dayeHardD, "very little is sanded off inside, on a cylinder a little rounder than the lips, no closer to them than 4 to 5 mm")},
		},
		{
			Name: "a rolled staple next time", Symptoms: []string{"octaves"}, Because: "a staple of plain tubing",
			Do: "Write it down for the next reed: a staple rolled of sheet, tapered.", Touches: sdk.TouchesNothing,
			Sources: []sdk.Source{
				published(gallagher, "staples of tubing leave the octaves out of tune with each other"),
				published(dooley, "bore, taper, eye, flattened length, length and depth in the blades each move them"),
			},
		},
		{
			Name: "let it settle in the air it plays in", Symptoms: []string{"weather"}, NotReed: true, Because: "cane follows the air",
			Do: "Leave the reed in the air of the place for a day before anything is scraped, and read the humidity.", Touches: sdk.TouchesNothing,
			Measure: []string{"room.humidity"},
			Sources: []sdk.Source{published(dayeAir, "reeds react to the climate, and are finished in the air they are meant for"), practice("a day")},
		},
	}
}
