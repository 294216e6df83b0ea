package oboe

import "canewright/plugins/sdk"

// scrape: the finished reed, its places and its thicknesses.
func scrape() []sdk.Dimension {
	long := func(name, title, how, plausible string, aliases []string, sources ...sdk.Source) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Aliases: aliases, Kind: "length", Unit: "mm", Datum: "the bottom of the staple",
			How: how, Tool: "ruler", More: "long", Less: "short", Plausible: plausible, Sources: sources,
		}
	}
	// A length along the blade between two marks counts from the first of them.
	between := func(name, title, from, how, plausible string, aliases []string, sources ...sdk.Source) sdk.Dimension {
		d := long(name, title, how, plausible, aliases, sources...)
		d.Datum = from
		return d
	}
	thick := func(name, title, how, plausible string, aliases []string, sources ...sdk.Source) sdk.Dimension {
		return sdk.Dimension{
			Name: name, Title: title, Aliases: aliases, Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: how, Tool: "dial indicator", More: "thick", Less: "thin", Plausible: plausible, Sources: sources,
		}
	}
	unknown := practice("the word is common; no source gives a number")
	across := func(d sdk.Dimension) sdk.Dimension {
		d.Across, d.Datum, d.More, d.Less, d.Tool = true, "", "wide", "narrow", "caliper"
		return d
	}
	tipLength := long("tip.length", "tip", "", "0.3 .. 8 mm", []string{"tip length"},
		published(palas, "1 mm, short scrape"), published(ruizFour, "1 mm, short scrape"),
		worked("overall less start of the tip: 4 mm where they are 70 and 66 mm, long scrape"))
	tipLength.Datum, tipLength.How, tipLength.Tool, tipLength.Formula = "", "", "", "overall - tip.start"
	opening := thick("tip.opening", "tip opening", "between the blades at the centre of the tip, at rest", "", []string{"opening"},
		practice("looked at rather than measured; no source gives a number"))
	opening.Tool, opening.More, opening.Less = "feeler gauge", "open", "closed"
	return []sdk.Dimension{
		long("overall", "overall length", "from the cork end to the tip", "63 .. 78 mm", []string{"reed length", "finished length"},
			published(insightWords, "70 mm, long scrape"),
			published(paddlefish, "69 to 71 mm, long scrape"),
			published(boardLength, "68 to 70 mm and more, long scrape"),
			published(boardPitch, "72.5 mm played at A 442 Hz, 74.5 mm at 438 Hz; some like under 70 mm"),
			published(palas, "72 mm, short scrape")),
		{
			Name: "cane.above_staple", Title: "cane above the staple", Kind: "length", Unit: "mm",
			More: "long", Less: "short", Plausible: "16 .. 32 mm", Formula: "overall - staple.length",
			Sources: []sdk.Source{
				published(boardLength, "1 in (25.4 mm) of cane, from the thread"),
				worked("23 mm where the reed is 70 and the staple 47 mm"),
			},
		},
		long("tip.start", "start of the tip", "from the cork end to where the tip begins at the sides", "60 .. 76 mm", []string{"tip begins"},
			published(insightWords, "66 mm of 70 mm, long scrape"), published(rachel, "67 mm, long scrape"),
			published(boardHeart, "66 mm, base of the blend"), published(palas, "71 mm of 72 mm, short scrape")),
		long("tip.start_centre", "start of the tip at the centre", "from the cork end to where the tip begins at the centre", "60 .. 77 mm", nil,
			published(insightWords, "about 2 mm above the sides, which is 68 mm of 70 mm")),
		tipLength,
		long("heart.start", "start of the heart", "from the cork end to the lower end of the heart", "54 .. 72 mm", []string{"heart begins"},
			published(rachel, "62 mm, long scrape")),
		between("heart.length", "heart", "the start of the heart", "along the middle, up to the blend", "0.5 .. 10 mm", []string{"heart length"},
			published(insightWords, "about 5 mm or less, long scrape")),
		between("back.length", "back", "the lower end of the back", "along the middle, up to the heart", "0 .. 18 mm", []string{"back length"},
			published(insightWords, "about 11 mm, long scrape")),
		between("back.bark", "bark under the back", "the thread", "from the thread to where the back begins", "0 .. 14 mm", []string{"bark left"},
			published(insightWords, "about 3 mm, long scrape")),
		between("windows.length", "windows", "the lower end of the windows", "along one window; both should be alike", "", []string{"window length"}, unknown),
		across(between("windows.spine", "spine between the windows", "", "across the wood left between them", "", nil, unknown)),
		across(between("rails.width", "rails", "", "across the wood left at the side, beside a window", "", []string{"rail width"}, unknown)),
		between("scrape.length", "scrape", "the tip", "from the tip down to where the bark begins", "", nil,
			practice("up to half way to the thread in a short scrape; no source gives a number")),
		thick("tip.thickness", "tip thickness", "at the centre of the tip", "0.02 .. 0.25 mm", nil,
			published(palas, "0.08 to 0.10 mm, short scrape")),
		thick("tip.corner", "corners of the tip", "at the thicker corner", "", []string{"corner of the tip"}, unknown),
		thick("heart.thickness", "heart thickness", "at the thickest place of the heart", "0.2 .. 0.7 mm", nil,
			published(boardHeart, "0.50 mm, not under 0.43 mm, long scrape; more chokes the back"),
			published(palas, "0.30 to 0.35 mm just behind the tip, short scrape")),
		thick("back.thickness", "back thickness", "in the middle of the back", "", nil, unknown),
		thick("rails.thickness", "rail thickness", "in the middle of a rail", "", nil, unknown),
		{
			Name: "blade.thickness", Title: "blade thickness", Kind: "length", Unit: "mm", Across: true, Condition: "wet",
			How: "on the gouged side, at the station", Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: "0.02 .. 0.8 mm",
			Grid: &sdk.Grid{From: []string{"tip", "thread"}, Lanes: []string{"spine", "channels", "rails"}, Blades: []string{"A", "B"}, Short: "blade"},
			Sources: []sdk.Source{
				published(boardHeart, "heart 0.50 to 0.43 mm, long scrape"),
				published(palas, "tip 0.08 to 0.10 mm, behind it 0.30 to 0.35 mm, short scrape"),
				worked("nowhere thicker than the gouge, 0.63 mm at most"),
			},
		},
		across(between("reed.width", "width of the reed", "", "across the tip", "5.5 .. 9 mm", nil, published(encyclopedia, "about 7 mm"))),
		opening,
	}
}
