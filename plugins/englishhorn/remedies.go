package englishhorn

import "canewright/plugins/sdk"

// symptoms: only what a source speaks of for this instrument.
func symptoms() []sdk.Symptom {
	return []sdk.Symptom{
		{Name: "tip-open", Words: "the opening is too large"},
		{Name: "tip-closed", Words: "the opening is too small"},
		{Name: "slips", Words: "the reed slips off the bocal", Also: []string{"it is loose on the bocal"}},
		{Name: "dull", Words: "the tubing makes it dull", Also: []string{"the lows of the tone are gone"}},
		{Name: "unbalanced", Words: "its quarters are not alike"},
	}
}

func remedies() []sdk.Remedy {
	return []sdk.Remedy{
		{
			Name: "a larger tube next time", Symptoms: []string{"tip-open"}, Because: "the tube was small for the shape",
			Do: "Write it down for the next reed: a larger tube, up to 12.5 mm, or a narrower shape.", Touches: sdk.TouchesNothing,
			Sources: []sdk.Source{published(hoveCane, "under 12 mm the opening is too large for a wide shape; a narrower shape can take it")},
		},
		{
			Name: "a smaller tube next time", Symptoms: []string{"tip-closed"}, Because: "the tube was large",
			Do: "Write it down for the next reed: a tube of 12.5 mm or less.", Touches: sdk.TouchesNothing,
			Sources: []sdk.Source{published(hoveCane, "over 12.5 mm it gouges badly and the opening is too closed")},
		},
		{
			Name: "tubing on the staple", Symptoms: []string{"slips"}, Because: "the staple does not fit the bocal's end",
			Do: "Put about 5 mm of soft tubing over the staple's end, and push the reed on again.", Touches: sdk.TouchesTube,
			Measure: []string{"tubing.length"},
			Sources: []sdk.Source{published(hoveTubing, "it seals and holds the reed; 5 mm, not under 4 mm; soft, about 6 mm wide and 1 mm thick")},
		},
		{
			Name: "a shorter piece of tubing", Symptoms: []string{"dull"}, Because: "tubing damps the staple",
			Do: "Change it for a shorter piece, not under 4 mm, or for a softer and thinner one.", Touches: sdk.TouchesTube,
			Expect: []sdk.Effect{{Dimension: "tubing.length", Way: sdk.Less}}, Measure: []string{"tubing.length"},
			Sources: []sdk.Source{published(hoveTubing, "longer than 5 mm, wider, thicker or stiff with age: the tone is damped")},
		},
		{
			Name: "even out the heavier quarter", Symptoms: []string{"unbalanced"}, Because: "one quarter is thicker than its fellows",
			Do:      "Measure heart and tip on all four quarters. A few strokes off the thickest alone, then measure again.",
			Touches: sdk.TouchesKnife, TakesOff: []string{"heart.thickness", "tip.thickness"}, Measure: []string{"heart.thickness", "tip.thickness", "crow.pitch"},
			Expect:  []sdk.Effect{{Dimension: "heart.thickness", Way: sdk.Less}},
			Sources: []sdk.Source{published(hoveDays, "heart and tip are read with a dial indicator on days 3 and 4, and unbalanced places are scraped")},
		},
	}
}
