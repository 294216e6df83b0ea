package oboe

import "canewright/plugins/sdk"

func more(dimension string) sdk.Effect { return sdk.Effect{Dimension: dimension, Way: sdk.More} }
func less(dimension string) sdk.Effect { return sdk.Effect{Dimension: dimension, Way: sdk.Less} }

// besides touch nothing, or not the reed, or end it.
func besides() []sdk.Remedy {
	next := func(name, because, do string, symptoms []string, sources ...sdk.Source) sdk.Remedy {
		return sdk.Remedy{Name: name, Symptoms: symptoms, Because: because, Do: do, Touches: sdk.TouchesNothing, Sources: sources}
	}
	return []sdk.Remedy{
		next("find the leak first", "air gets out at the sides, most of all by the tip", "Stop the staple, blow gently under water, and see where bubbles come; change nothing else before.",
			[]string{"leaks", "no-response"},
			published(ryon, "leaks at the sides, above all by the tip, come before everything else"), practice("bubbles under water show the place")),
		next("a larger tube next time", "a small tube, a wide shape or thick sides", "Write it down for the next reed: a larger tube, a narrower shape, or thinner sides.",
			[]string{"tip-open"},
			published(lakota, "a smaller tube opens; small with a wide shape is too open"), published(geocities, "smaller opens")),
		next("a smaller tube next time", "a large tube or a narrow shape", "Write it down for the next reed: a smaller tube, or a wider shape.",
			[]string{"tip-closed"},
			published(lakota, "a larger tube closes; large with a narrow shape is too closed"), published(geocities, "larger closes")),
		next("start the thread lower next time", "the cane was not tied straight", "Write it down for the next reed: mark the staple's end on the cane and start tying about five turns below it.",
			[]string{"blades-cross"},
			published(muriel, "mark the staple's end on the cane, start about five turns below"), published(boardThread, "a closing ring of 3 mm helps")),
		next("soak four minutes", "it lay in the water too long", "Let it dry, then soak it about four minutes and take it out.",
			[]string{"hard-after-water", "tip-open"},
			published(overSoaked, "about 4 min"), published(boardDamp, "over-soaked reeds are open and hard")),
		next("finish soft cane shorter", "the cane is soft", "Write the cane down, and leave the next reed of it shorter.",
			[]string{"soft-cane"}, published(boardSoft, "soft cane is finished shorter")),
		{
			Name: "sharpen the knife", Symptoms: []string{"many-bad"}, NotReed: true, Touches: sdk.TouchesInstrument,
			Because: "a blunt knife tears and presses", Do: "Sharpen the knife before anything else is changed.",
			Sources: []sdk.Source{published(blunt, "many bad reeds in a row: the knife was blunt"), practice("a blunt knife is looked for first")},
		},
		{
			Name: "dry the case", Symptoms: []string{"weather"}, When: []string{"room.humidity > 70 % RH"}, NotReed: true, Touches: sdk.TouchesInstrument,
			Because: "the case is damp", Do: "Leave the open case under a lamp for five minutes, out of reach of the bulb.", Measure: []string{"room.humidity"},
			Sources: []sdk.Source{published(boardDamp, "over 70 % reeds are strange; dry the case under a lamp for 5 min")},
		},
		{
			Name: "make the air less dry", Symptoms: []string{"top-unstable", "low-poor"}, When: []string{"room.humidity < 40 % RH"}, NotReed: true, Touches: sdk.TouchesInstrument,
			Because: "the air is dry", Do: "Bring the room to 45 to 50 % and try again.", Measure: []string{"room.humidity"}, Expect: []sdk.Effect{more("room.humidity")},
			Sources: []sdk.Source{published(boardDry, "at 35 % low notes are hard and the top is unstable; 45 to 50 % is fine"), worked("40 % lies half way between 35 and 45 %")},
		},
		{
			Name: "look for a leak in the instrument", Symptoms: []string{"low-poor"}, NotReed: true, Touches: sdk.TouchesInstrument,
			Because: "a pad does not close", Do: "Play another oboe with this reed.",
			Sources: []sdk.Source{practice("low notes that do not come with any reed: a pad leaks")},
		},
		{
			Name: "give up an easy, sharp reed", Symptoms: []string{"easy-sharp"}, Touches: sdk.TouchesGivenUp,
			Because: "too much is off already", Do: "Put the reed aside.",
			Sources: []sdk.Source{published(insightFixes, "easy and sharp: too much was taken; usually lost")},
		},
		{
			Name: "give up a large leak", Symptoms: []string{"leaks"}, Touches: sdk.TouchesGivenUp,
			Because: "the cane is swaybacked, or the shape off centre", Do: "Put the reed aside: a large leak stays.",
			Sources: []sdk.Source{published(ryon, "swaybacked cane, a shape off centre, the tie: scrap if the leak is large")},
		},
		{
			Name: "a new reed", Symptoms: []string{"worn"}, When: []string{"reed.played > 10 h"}, Touches: sdk.TouchesGivenUp,
			Because: "it is worn", Do: "Play a new reed, and put this one aside.",
			Sources: []sdk.Source{published(ruizFive, "soft, bright, uncontrollable after many days: a new reed"), published(lifeOfReeds, "10 to 15 playing hours")},
		},
	}
}

// presses change the opening or the thread, and can be taken back.
func presses() []sdk.Remedy {
	return []sdk.Remedy{
		{
			Name: "press the opening smaller", Symptoms: []string{"tip-open"}, Touches: sdk.TouchesTube,
			Because: "the opening is large", Do: "Wet the reed and press the blades together above the thread, lightly, a few times.",
			Expect: []sdk.Effect{less("tip.opening")}, Measure: []string{"tip.opening"},
			Sources: []sdk.Source{published(rachelMore, "an opening too large is squeezed")},
		},
		{
			Name: "press the opening larger", Symptoms: []string{"tip-closed"}, Touches: sdk.TouchesTube,
			Because: "the opening is small", Do: "Wet the reed and press its sides at the thread, lightly.",
			Expect: []sdk.Effect{more("tip.opening")}, Measure: []string{"tip.opening"},
			Sources: []sdk.Source{worked("the opposite of what is done to an opening too large")},
		},
		{
			Name: "loosen the last two turns", Symptoms: []string{"batch-hard", "hard"}, When: []string{"thread.top < 0.5 mm"}, Touches: sdk.TouchesTube,
			Because: "tied too tight, or the thread runs past the staple", Do: "Only if you can tie off again: undo the last two turns of thread and end it half a millimetre below the staple's top.",
			Expect: []sdk.Effect{more("thread.top")}, Measure: []string{"thread.top"},
			Sources: []sdk.Source{published(boardHard, "loosen the last two turns, stop 0.5 mm below"), published(boardThread, "never past the staple")},
		},
	}
}
