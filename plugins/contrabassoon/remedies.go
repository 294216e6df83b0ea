package contrabassoon

import "canewright/plugins/sdk"

// symptoms: only what a source speaks of for this instrument.
func symptoms() []sdk.Symptom {
	return []sdk.Symptom{{Name: "wavers", Words: "a new reed wavers in pitch", Also: []string{"the pitch is not steady"}}}
}

func remedies() []sdk.Remedy {
	return []sdk.Remedy{{
		Name: "cut the tip of a wavering reed", Symptoms: []string{"wavers"}, Because: "the tip was still long",
		Do:      "Measure the overall length. If there is length to spare, half a millimetre off the tip, then play.",
		Touches: sdk.TouchesLength, TakesOff: []string{"overall"}, Measure: []string{"overall"},
		Expect: []sdk.Effect{{Dimension: "overall", Way: sdk.Less}},
		Sources: []sdk.Source{
			published(bocalSoup, "new reeds were unsteady in pitch, and much better after the tip was cut"),
			practice("half a millimetre at a time"),
		},
	}}
}
