package bassoon

import "canewright/plugins/sdk"

// blade: thicknesses.
func blade() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "blade.thickness", Title: "blade thickness", Aliases: []string{"lay thickness"},
			Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "on the gouged side, the round foot in the hollow, at the station", Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: "0.02 .. 1.6 mm",
			Grid: &sdk.Grid{
				From: []string{"collar", "tip"}, Lanes: []string{"spine", "channels", "rails"},
				Blades: []string{"A", "B"}, Short: "blade",
			},
			Sources: []sdk.Source{
				published(brusky, "0.0314 in (0.80 mm) just in front of the collar is one of three; then every 3 mm from the collar towards the tip, down the centre"),
				published(morgue, "every 1/8 in (3.2 mm) from tip to collar along spine, channels and rails, on the gouged side"),
				memory("spine: collar 0.80 to 0.95 mm, half blade 0.55 to 0.65, two thirds 0.35 to 0.45, 5 mm from the tip 0.25 to 0.30, tip 0.10 to 0.15; edges about two thirds of that at the back and half at the tip; an example, not a limit"),
			},
		},
		{
			Name: "tip.thickness", Title: "tip thickness", Aliases: []string{"thickness of the tip"},
			Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "at the centre of the tip, on the gouged side", Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: "0.02 .. 0.4 mm",
			Sources: []sdk.Source{
				published(reedBlog, "2 to 3 thou (about 0.05 mm) at the thinnest"),
				memory("about 0.10 to 0.15 mm at the centre, 0.05 to 0.08 mm at the corners"),
			},
		},
		{
			Name: "tip.corner", Title: "thickness of the tip's corners", Aliases: []string{"corner of the tip"},
			Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "at the thicker corner, on the gouged side", Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: "0.02 .. 0.3 mm",
			Sources: []sdk.Source{memory("0.05 to 0.08 mm")},
		},
	}
}
