package bassoon

import "canewright/plugins/sdk"

// symptoms: what a player hears, feels or sees, in the player's words.
func symptoms() []sdk.Symptom {
	return []sdk.Symptom{
		{Name: "low-notes-resist", Words: "low notes do not speak", Also: []string{"low notes are hard", "the bottom resists", "low notes do not start", "low notes resist", "low notes are stiff", "low notes crack", "it will not play low notes softly", "response is slow low down"}},
		{Name: "low-notes-stop", Words: "the lowest notes stop after wire work", Also: []string{"low notes stop"}},
		{Name: "high-notes-weak", Words: "high notes are weak", Also: []string{"no upper register", "high notes do not come"}},
		{Name: "tip-closed", Words: "the tip is too closed", Also: []string{"the opening is too small"}},
		{Name: "tip-open", Words: "the tip is too open", Also: []string{"the opening is too large"}},
		{Name: "little-spring", Words: "the tip has too little spring"},
		{Name: "tonguing-heavy", Words: "tonguing is heavy"},
		{Name: "attack-poor", Words: "soft attacks fail", Also: []string{"low attacks are poor"}},
		{Name: "tone-thin", Words: "the tone is thin"},
		{Name: "tone-dirty", Words: "the sound is clumsy and dirty"},
		{Name: "tone-weak", Words: "it vibrates too freely and sounds weak"},
		{Name: "tone-brittle", Words: "the tone is brittle and a little sharp"},
		{Name: "fries", Words: "it fries in soft playing", Also: []string{"frying noise"}},
		{Name: "too-heavy", Words: "the reed is too heavy", Also: []string{"stiff", "hard to blow"}},
		{Name: "sags", Words: "it is very flat, sagging and quiet"},
		{Name: "collapses", Words: "the reed collapses"},
		{Name: "flat", Words: "the whole reed is flat"},
		{Name: "sharp", Words: "the whole reed is sharp"},
		{Name: "e-f-flat", Words: "E and F on the staff are flat"},
		{Name: "g-e-flat-sharp", Words: "fourth-space G or forked E flat is sharp"},
		{Name: "crow-high", Words: "the crow is too high and tight", Also: []string{"it crows high"}},
		{Name: "crow-low", Words: "the crow is too deep", Also: []string{"it crows low"}},
		{Name: "no-crow", Words: "there is no crow"},
		{Name: "bocal-low", Words: "the reed on the bocal sounds too low", Also: []string{"I have to pinch"}},
		{Name: "leaks", Words: "it leaks", Also: []string{"the pop test fails", "the suction test fails"}},
		{Name: "wires-loose", Words: "the wires are loose"},
		{Name: "off-centre", Words: "it closes off centre", Also: []string{"one blade closes later"}},
		{Name: "blades-slip", Words: "the blades slip sideways"},
		{Name: "weather", Words: "it is fuzzy and closed since the weather changed"},
		{Name: "one-note", Words: "one note is bad with every reed"},
		{Name: "many-bad", Words: "many reeds in a row are bad"},
	}
}
