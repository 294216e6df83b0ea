package bassoon

import "canewright/plugins/sdk"

// Who says it, of remedies only.
const (
	operatorLong = "bassoonoperator.blogspot.com, Longer reeds, June 2012"
	scraping     = "H. Schweizer, Dicas de raspagem"
	questions    = "arundoresearch.com, Q and A"
	ewellFive    = "T. B. Ewell, transcript Reed finishing 5"
	ewellSix     = "T. B. Ewell, transcript Reed finishing 6"
	hardAndSoft  = "tjbassoon.com, March 2023"
	heckelMonth  = "theheckeler.ca, Reed month, August 2011"
	bluntKnife   = "oboistic.ca, D'oh, of course"
)

func more(dimension string) sdk.Effect { return sdk.Effect{Dimension: dimension, Way: sdk.More} }
func less(dimension string) sdk.Effect { return sdk.Effect{Dimension: dimension, Way: sdk.Less} }

// pressed is a wire pressed from one side, and what its source sees the tip's
// opening do.
func pressed(name, wire, axis string, opening sdk.Way, symptoms, when []string, because, do string, sources ...sdk.Source) sdk.Remedy {
	return sdk.Remedy{
		Name: name, Symptoms: symptoms, When: when, Because: because, Do: do, Wire: wire, Axis: axis, Touches: sdk.TouchesWires,
		Expect: []sdk.Effect{{Dimension: "tip.opening", Way: opening}}, Measure: []string{"tip.opening"}, Sources: sources,
	}
}

// wireRemedies press and turn wires, which can be taken back.
func wireRemedies() []sdk.Remedy {
	const top, sides = "top and bottom", "sides"
	ranged := memory("an opening of about 1.0 to 2.0 mm; no source gives a number")
	return []sdk.Remedy{
		pressed("open the tip with the second wire", "second", top, sdk.More,
			[]string{"tip-closed", "low-notes-resist"}, []string{"tip.opening < 1.0 mm"},
			"the opening is small", "Reed soaked, mandrel in: press the second wire a little from top and bottom, then try the low notes.",
			published(teaching, "second wire from top and bottom: heavier tone, the low register easier"),
			published(reedTips, "second wire from top and bottom opens the tip"), ranged),
		pressed("close the tip with the second wire", "second", sides, sdk.Less,
			[]string{"tip-open", "tonguing-heavy"}, []string{"tip.opening > 2.0 mm"},
			"the opening is large", "Reed soaked, mandrel in: press the second wire a little from the sides, then try a loud low note: it may close there.",
			published(teaching, "second wire from the sides: lighter, less resistance, easier tonguing; may close in a loud low register"), ranged),
		pressed("close the tip with the first wire", "first", top, sdk.Less,
			[]string{"high-notes-weak", "tip-open"}, []string{"tip.opening > 2.0 mm"},
			"the opening is large", "Tighten the second wire, then press the first a little from top and bottom.",
			published(teaching, "first wire from top and bottom: closes, thins the tone, less resistance, upper register better"), ranged),
		pressed("open the tip with the first wire", "first", sides, sdk.More,
			[]string{"tip-closed", "tone-thin"}, []string{"tip.opening < 1.0 mm"},
			"the first wire is too flat", "Tighten the second wire, then press the first a little from the sides.",
			sdk.Source{Says: "the opposite of what the first wire from top and bottom does (The Teaching of Instrumental Music, page 169)", Grade: sdk.WorkedOut}, ranged),
		pressed("press the third wire for spring", "third", top, sdk.More,
			[]string{"little-spring", "tip-closed"}, nil,
			"the butt holds the tip too little", "Only before the thread is on; reed soaked, mandrel in: press the third wire a little from top and bottom; see that the reed still fits the bocal.",
			published(reedTips, "third wire from top and bottom acts like the second")),
		// The source's drawing was not visible: from where is left open.
		pressed("press the lower wire against the throat", "second", "", sdk.More,
			[]string{"tone-dirty", "tip-closed"}, []string{"tip.opening < 1.0 mm"},
			"the opening is too small", "Reed soaked, mandrel in: press the lower wire a hair against the throat, then round it again; stop if the tip does not open.",
			published(adjusting, "the lower wire against the throat opens the tip; close it with the upper one if it is too wide then"), ranged),
		// Contradicts the first of this list: same wire, and pressed from the
		// same side if this is what "perpendicular to the blades" means.
		pressed("close the tip with the lower wire", "second", top, sdk.Less,
			[]string{"tone-weak", "tip-open"}, []string{"tip.opening > 2.0 mm"},
			"the opening is too large", "Reed soaked, mandrel in: press the lower wire a hair, square to the blades, and watch the tip; two other sources see it open.",
			published(adjusting, "the lower wire, perpendicular to the blades, closes the tip; then the upper one the same way: darker, harder"), ranged),
		pressed("close the throat of a sharp reed", "second", sides, sdk.Less,
			[]string{"sharp"}, []string{"tip.opening > 2.0 mm"},
			"the opening is large", "Reed soaked, mandrel in: press the second wire a little from the sides, then play against the tuner.",
			memory("a large opening makes the whole reed sharp; open the throat less"), ranged),
		{
			Name: "tighten the second wire", Symptoms: []string{"wires-loose"}, Wire: "second", Touches: sdk.TouchesWires,
			Because: "pressing a wire loosens it", Do: "Pull the twist of the second wire, then turn it; do it before the first wire is touched.",
			Sources: []sdk.Source{published(teaching, "squeezing loosens the wires; tighten the second before adjusting the first")},
		},
		{
			Name: "tighten from the third wire", Symptoms: []string{"wires-loose", "leaks"}, Wire: "third", Touches: sdk.TouchesWires,
			Because: "the cane shrank when it dried", Do: "Only before the thread is on: pull and turn the third wire until the reed sits at the mandrel's mark, then the other two.",
			Measure: []string{"mandrel.line", "reed.on_bocal"},
			Sources: []sdk.Source{published(stowellBind, "the third wire first, until the reed sits at the mark, then the others; pull, then twist")},
		},
		{
			Name: "round the second wire", Symptoms: []string{"low-notes-stop"}, Wire: "second", Touches: sdk.TouchesWires,
			Because: "the second wire went oval", Do: "Round it with the pliers, then try the lowest notes.", Measure: []string{"tip.opening"},
			Sources: []sdk.Source{published(adjusting, "the lowest notes stop when the lower wire has gone oval: round it again")},
		},
		{
			Name: "tighten the wires and soak", Symptoms: []string{"no-crow"}, Touches: sdk.TouchesWires,
			Because: "air gets out, or the tips stand too far apart", Do: "Soak the whole reed, tighten the wires, crow again.",
			Measure: []string{"crow.pitch", "tip.opening"},
			Sources: []sdk.Source{published(teaching, "no crow: a leak, or the tips too far apart; tighten the wires, soak")},
		},
		{
			Name: "a thicker and firm first wire", Symptoms: []string{"collapses"}, When: []string{"wire.gauge < 21 AWG"}, Wire: "first", Touches: sdk.TouchesWires,
			Because: "the first wire is too weak to hold the opening", Do: "Put on a first wire of 21 AWG, firm.", Measure: []string{"tip.opening"},
			Expect:  []sdk.Effect{more("tip.opening")},
			Sources: []sdk.Source{published(ellin, "21 AWG for the first wire, which keeps the opening from collapsing")},
		},
	}
}

// besides touch nothing, or not the reed, or the tube.
func besides() []sdk.Remedy {
	next := func(name, because, do string, source sdk.Source, symptoms ...string) sdk.Remedy {
		return sdk.Remedy{Name: name, Symptoms: symptoms, Because: because, Do: do, Touches: sdk.TouchesNothing, Sources: []sdk.Source{source}}
	}
	return []sdk.Remedy{
		{
			Name: "soak it five minutes", Symptoms: []string{"tip-closed", "low-notes-resist", "attack-poor", "no-crow", "leaks", "too-heavy"},
			Because: "perhaps the reed is not wholly wet", Do: "Soak the whole reed for five minutes, then try again.", Touches: sdk.TouchesNothing,
			Sources: []sdk.Source{
				published(adjusting, "at least 5 min, wholly, before anything is adjusted"),
				published(adjustCanas, "at least 5 min, wholly"),
			},
		},
		{
			Name: "find the leak", Symptoms: []string{"no-crow", "leaks"}, Touches: sdk.TouchesNothing,
			Because: "air gets out at the sides or the tube", Do: "Stop the butt, suck the air out, listen for the pop; wet the sides and blow to see where bubbles come.",
			Sources: []sdk.Source{published(teaching, "suck the air out and stop the butt: a pop after a moment"), published(lacan4, "suction test")},
		},
		next("a lighter reed for this weather", "the air changed, not the reed", "Play a lighter reed today and leave this one alone; do not scrape.",
			published(operatorAir, "humidity from 20 to 70 % within an evening: fuzzy, distorted, closed; a lighter reed helped"), "weather"),
		next("leave a crow of F sharp to A", "some want the crow there", "Leave the crow as it is and try the notes instead.",
			published(reedLore, "between middle F sharp and A, the reed alone"), "crow-high"),
		next("leave the back thicker next time", "the back is too thin", "Write it down for the next reed: more wood at the back; low notes then get harder.",
			published(brusky, "a thicker back: high notes easier, low and soft ones harder"), "high-notes-weak"),
		next("a narrower shape next time", "the blade is too wide", "Write it down for the next reed: a narrower shape.",
			published(questions, "a whole reed that is flat: the blade is too wide"), "flat"),
		next("bevel from the second wire next time", "the butt is stiff", "Write it down for the next reed: a bevel from the second wire to the butt, lightest at the wire.",
			published(reedTips, "a bevel from the second wire to the butt gives the tip more spring"), "little-spring"),
		next("sand the inside next time", "water lies in the rough inside", "Write it down for the next cane: soak, dry and sand the inside, three or four times.",
			published(stowellPrep, "soak, dry and sand 3 to 4 times before forming"), "fries"),
		next("blow the water out", "water lies in the reed", "Blow or suck the water out and play again.",
			practice("water in the reed fries; it is blown out first"), "fries"),
		{
			Name: "try another bocal", Symptoms: []string{"one-note", "flat", "sharp"}, NotReed: true, Touches: sdk.TouchesInstrument,
			Because: "the bocal, not the reed", Do: "Play the same reed on another bocal.",
			Sources: []sdk.Source{published(heckelMonth, "trouble on middle C and D flat, the same with six reeds, went when the bocal was changed")},
		},
		{
			Name: "look for a leak in the instrument", Symptoms: []string{"one-note", "low-notes-resist"}, NotReed: true, Touches: sdk.TouchesInstrument,
			Because: "a pad does not close", Do: "Close all holes of each joint by hand and suck; or play another bassoon with this reed.",
			Sources: []sdk.Source{published(questions, "leaks in the instrument pass for faults of the reed")},
		},
		{
			Name: "sharpen the knife", Symptoms: []string{"many-bad"}, NotReed: true, Touches: sdk.TouchesInstrument,
			Because: "a blunt knife tears and presses", Do: "Sharpen the knife before anything else is changed.",
			Sources: []sdk.Source{published(bluntKnife, "many bad reeds in a row, written of the oboe: the knife was blunt")},
		},
		{
			Name: "let the room come to rest", Symptoms: []string{"weather"}, When: []string{"room.humidity > 70 %"}, NotReed: true, Touches: sdk.TouchesInstrument,
			Because: "the air is damp", Do: "Dry the case, and try the reed again when the room is below 70 %.", Measure: []string{"room.humidity"},
			Sources: []sdk.Source{published(boardDamp, "over 70 % is a problem; written of the oboe")},
		},
		{
			Name: "seal the tube and wire again", Symptoms: []string{"leaks"}, Touches: sdk.TouchesTube,
			Because: "air gets out at the tube", Do: "Put on fresh wires and seal the tube, let it dry overnight, test again.",
			Sources: []sdk.Source{published(teaching, "no pop: seal the tube and wire it again"), published(lacan4, "suction test")},
		},
		{
			Name: "seat the blades again", Symptoms: []string{"blades-slip"}, Touches: sdk.TouchesTube,
			Because: "the tube was formed with a twist", Do: "Soak the reed, loosen the wires, set the blades edge to edge on the mandrel, tighten.",
			Sources: []sdk.Source{published(hardAndSoft, "slipped blades are set again; much slipped ones were not sold")},
		},
		{
			Name: "give up gaping sides", Symptoms: []string{"leaks"}, Touches: sdk.TouchesGivenUp,
			Because: "the sides of the blades gape", Do: "Put the reed aside: no seal holds gaping sides.",
			Sources: []sdk.Source{practice("sides of the blades that gape cannot be sealed"), published(teaching, "the pop fails where the sides leak")},
		},
		{
			Name: "give up soft cane", Symptoms: []string{"sags"}, Touches: sdk.TouchesGivenUp,
			Because: "the cane is too soft", Do: "Put the reed aside: very flat, sagging, no tenor or upper register.",
			Sources: []sdk.Source{published(hardAndSoft, "soft cane: very flat, sagging, no tenor or upper register, quiet; of six, one was liked")},
		},
		{
			Name: "retire a soggy reed", Symptoms: []string{"e-f-flat"}, Touches: sdk.TouchesGivenUp,
			Because: "the reed is old and soggy", Do: "Put the reed aside.",
			Sources: []sdk.Source{published(teaching, "E and F flat: tip too long, heart too thin, or the reed old and soggy"), memory("a soggy reed is retired")},
		},
	}
}
