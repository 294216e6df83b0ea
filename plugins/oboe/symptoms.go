package oboe

import "canewright/plugins/sdk"

// symptoms: what a player hears, feels or sees, in the player's words.
func symptoms() []sdk.Symptom {
	return []sdk.Symptom{
		{Name: "flat", Words: "the reed is flat"},
		{Name: "hard-sharp", Words: "it is hard and sharp"},
		{Name: "easy-sharp", Words: "it is easy and sharp"},
		{Name: "bright", Words: "it is too bright"},
		{Name: "batch-hard", Words: "all reeds of a batch are hard to blow"},
		{Name: "hard", Words: "it is hard to blow", Also: []string{"stiff", "too much resistance"}},
		{Name: "no-response", Words: "it does not respond", Also: []string{"soft attacks fail"}},
		{Name: "low-poor", Words: "the low register is poor", Also: []string{"low notes do not speak", "low notes are hard"}},
		{Name: "chokes", Words: "it chokes in the back"},
		{Name: "harsh", Words: "it is harsh and thin"},
		{Name: "leaks", Words: "it leaks"},
		{Name: "tip-open", Words: "the opening is too large"},
		{Name: "tip-closed", Words: "the opening is too small"},
		{Name: "blades-cross", Words: "the blades cross after a week or two"},
		{Name: "hard-after-water", Words: "it is too open and hard after the water"},
		{Name: "many-bad", Words: "many reeds in a row are bad"},
		{Name: "weather", Words: "all reeds are strange today"},
		{Name: "top-unstable", Words: "the top is unstable in winter"},
		{Name: "hardens", Words: "a new reed gets harder in its first days"},
		{Name: "worn", Words: "after many days it is soft and cannot be held"},
		{Name: "crow-low", Words: "the crow is below C", Also: []string{"it crows low"}},
		{Name: "crow-high", Words: "the crow is above C", Also: []string{"it crows high"}},
		{Name: "soft-cane", Words: "the cane is soft"},
	}
}
