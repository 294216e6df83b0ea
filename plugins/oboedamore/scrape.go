package oboedamore

import "canewright/plugins/sdk"

// scrape: the finished reed, its places and its thicknesses. All are words and
// places; none has a published number.
func scrape() []sdk.Dimension {
	own := practice(ownNumber)
	along := func(name, title, from, how string, aliases ...string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Aliases: aliases, Kind: "length", Unit: "mm", Datum: from,
			How: how, Tool: "ruler", More: "long", Less: "short", Sources: []sdk.Source{own},
		}
	}
	thick := func(name, title, how string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: how, Tool: "dial indicator", More: "thick", Less: "thin", Sources: []sdk.Source{own},
		}
	}
	wide := func(name, title, how string) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Kind: "length", Unit: "mm", Across: true,
			How: how, Tool: "caliper", More: "wide", Less: "narrow", Sources: []sdk.Source{own},
		}
	}
	const bottom = "the bottom of the staple"
	overall := along("overall", "overall length", bottom, "from the bocal's end to the tip", "reed length", "finished length")
	overall.Sources = []sdk.Source{
		published(schoolPage, "shorter than an oboe's; no number"),
		practice("it follows the staple"),
	}
	width := wide("reed.width", "width of the reed", "across the tip")
	width.Sources = []sdk.Source{published(schoolPage, "wider than an oboe's; no number")}
	opening := thick("tip.opening", "tip opening", "between the blades at the centre of the tip, at rest")
	opening.Tool, opening.More, opening.Less, opening.Aliases = "feeler gauge", "open", "closed", []string{"opening"}
	blade := thick("blade.thickness", "blade thickness", "on the gouged side, at the station")
	blade.Grid = &sdk.Grid{From: []string{"tip", "thread"}, Lanes: []string{"spine", "channels", "rails"}, Blades: []string{"A", "B"}, Short: "blade"}
	return []sdk.Dimension{
		overall,
		{
			Name: "cane.above_staple", Title: "cane above the staple", Kind: "length", Unit: "mm",
			More: "long", Less: "short", Formula: "overall - staple.length",
			Sources: []sdk.Source{worked("overall less staple; " + ownNumber)},
		},
		along("tip.start", "start of the tip", bottom, "from the bocal's end to the back of the tip", "tip begins", "back of the tip"),
		{
			Name: "tip.length", Title: "tip", Aliases: []string{"tip length"}, Kind: "length", Unit: "mm",
			More: "long", Less: "short", Formula: "overall - tip.start",
			Sources: []sdk.Source{worked("overall less start of the tip; " + ownNumber)},
		},
		along("heart.top", "top of the heart", bottom, "from the bocal's end to where the heart ends, at the centre", "heart ends"),
		along("heart.length", "heart", "the start of the heart", "along the middle, up to its top", "heart length"),
		along("back.length", "back", "the lower end of the back", "along the middle, up to the heart", "back length"),
		along("back.bark", "bark under the back", "the thread", "from the thread to where the back begins", "bark left"),
		along("windows.length", "windows", "the lower end of the windows", "along one window; both should be alike", "window length"),
		wide("windows.spine", "spine between the windows", "across the wood left between them"),
		wide("rails.width", "rails", "across the wood left at the side, beside a window"),
		thick("tip.thickness", "tip thickness", "at the centre of the tip"),
		thick("tip.corner", "corners of the tip", "at the thicker corner"),
		thick("heart.thickness", "heart thickness", "at the thickest place of the heart"),
		thick("back.thickness", "back thickness", "in the middle of the back"),
		thick("rails.thickness", "rail thickness", "in the middle of a rail"),
		blade,
		width,
		opening,
	}
}
