package englishhorn

import "canewright/plugins/sdk"

// scrape: the finished reed, its places and its thicknesses.
func scrape() []sdk.Dimension {
	along := func(name, title, from, how, plausible string, aliases []string, sources ...sdk.Source) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Aliases: aliases, Kind: "length", Unit: "mm", Datum: from,
			How: how, Tool: "ruler", More: "long", Less: "short", Plausible: plausible, Sources: sources,
		}
	}
	thick := func(name, title, how string, aliases []string, sources ...sdk.Source) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Aliases: aliases, Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: how, Tool: "dial indicator", More: "thick", Less: "thin", Sources: sources,
		}
	}
	wide := func(name, title, how, plausible string, aliases []string, sources ...sdk.Source) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Aliases: aliases, Kind: "length", Unit: "mm", Across: true,
			How: how, Tool: "caliper", More: "wide", Less: "narrow", Plausible: plausible, Sources: sources,
		}
	}
	own := practice(ownNumber)
	checked := published(hoveDays, "read with a dial indicator on the third and the fourth day; no number")
	const bottom = "the bottom of the staple"
	return []sdk.Dimension{
		along("overall", "overall length", bottom, "from the bocal's end to the tip", "45 .. 66 mm", []string{"reed length", "finished length"},
			published(instrHub, "55 to 60 mm"),
			published(hoveDays, "more than 54 mm: the top of the heart is marked there"),
			published(museumTenor, "49 mm, an old reed of this size, at A 438 to 440 Hz")),
		{
			Name: "cane.above_staple", Title: "cane above the staple", Kind: "length", Unit: "mm",
			More: "long", Less: "short", Plausible: "18 .. 40 mm", Formula: "overall - staple.length",
			Sources: []sdk.Source{worked("28 to 33 mm where the reed is 55 to 60 and the staple 27 mm; 22 mm on the old reed")},
		},
		along("first_scrape.length", "bark off below the fold", "the fold", "from the fold down to where the bark begins", "3 .. 15 mm", []string{"first scrape"},
			published(hoveDays, "7 to 8 mm on the first day, the tip not yet clipped open")),
		along("tip.start", "start of the tip", bottom, "from the bocal's end to the back of the tip", "44 .. 62 mm", []string{"back of the tip", "tip begins"},
			published(hoveDays, "52 mm")),
		along("heart.top", "top of the heart", bottom, "from the bocal's end to where the heart ends, at the centre", "45 .. 64 mm", []string{"heart ends"},
			published(hoveDays, "54 mm")),
		{
			Name: "tip.length", Title: "tip", Aliases: []string{"tip length"}, Kind: "length", Unit: "mm",
			More: "long", Less: "short", Formula: "overall - tip.start",
			Sources: []sdk.Source{worked("overall less start of the tip; " + ownNumber)},
		},
		along("heart.length", "heart", "the start of the heart", "along the middle, up to its top", "", []string{"heart length"}, own),
		along("back.length", "back", "the lower end of the back", "along the middle, up to the heart", "", []string{"back length"}, own),
		along("back.bark", "bark under the back", "the top of the staple", "from the staple's top to where the back begins", "0 .. 16 mm", []string{"bark left"},
			published(hoveDays, "about 5 mm")),
		along("windows.length", "windows", "the lower end of the windows", "along one window; both should be alike", "", []string{"window length"}, own),
		wide("windows.spine", "spine between the windows", "across the wood left between them", "", nil,
			published(hoveDays, "a spine is roughed in on the second day and defined on the third; no number")),
		wide("rails.width", "rails", "across the wood left at the side, beside a window", "", []string{"rail width"},
			published(hoveDays, "rails are left at the back, they hold the opening; no number")),
		thick("tip.thickness", "tip thickness", "at the centre of the tip", nil, checked),
		thick("tip.corner", "corners of the tip", "at the thicker corner", []string{"corner of the tip"},
			published(hoveDays, "thinned on the fourth day; no number")),
		thick("heart.thickness", "heart thickness", "at the thickest place of the heart", nil, checked),
		thick("back.thickness", "back thickness", "in the middle of the back", nil, own),
		thick("rails.thickness", "rail thickness", "in the middle of a rail", nil, own),
		{
			Name: "blade.thickness", Title: "blade thickness", Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "on the gouged side, at the station", Tool: "dial indicator",
			More: "thick", Less: "thin",
			Grid:    &sdk.Grid{From: []string{"tip", "thread"}, Lanes: []string{"spine", "channels", "rails"}, Blades: []string{"A", "B"}, Short: "blade"},
			Sources: []sdk.Source{checked},
		},
		wide("reed.width", "width of the reed", "across the tip", "7 .. 13 mm", []string{"tip width"},
			published(museumTenor, "9.5 mm, an old reed of this size"),
			published(schoolPage, "wider than an oboe's; no number")),
		{
			Name: "tip.opening", Title: "tip opening", Aliases: []string{"opening"},
			Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "between the blades at the centre of the tip, at rest", Tool: "feeler gauge",
			More: "open", Less: "closed",
			Sources: []sdk.Source{
				published(hoveCane, "a tube over 12.5 mm closes it, one under 12 mm opens it; no number"),
				practice("looked at rather than measured"),
			},
		},
	}
}
