package bassoon

import "canewright/plugins/sdk"

// blank: scoring, bevelling, folding and forming, and the times between.
func blank() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "soak.time", Title: "soaking time", Aliases: []string{"soak"},
			Kind: "time", Unit: "h", Subject: "batch",
			How: "from the moment the cane is under water", Tool: "clock",
			More: "long", Less: "short", Plausible: "1 min .. 14 d",
			Sources: []sdk.Source{
				published(lowAtwater, "overnight before gouging, 2 to 3 h before shaping"),
				published(harris, "at least 2 h in warm water before gouging"),
				published(blog2013, "about 2 h before forming"),
				published(lacan2, "8 h before forming and not over 24 h; several minutes, warm, after scoring"),
				published(conditioning, "24 h before forming"),
				published(medpants, "overnight, in practice up to several days"),
				published(adjusting, "at least 5 min before adjusting a reed"),
			},
		},
		{
			Name: "score.lines", Title: "scored lines", Aliases: []string{"score lines", "scores"},
			Kind: "count",
			How:  "count the cuts on one side", Tool: "eye",
			More: "many", Less: "few", Plausible: "1 .. 25",
			Sources: []sdk.Source{
				published(lacan2, "1 in the centre and 2 to 3 on each side, which makes 5 to 7"),
				published(stowellScore, "5 to 6 cuts right through, or shallow scores over the whole bark, 1 mm apart with a tap"),
			},
		},
		{
			Name: "bevel.length", Title: "bevel length", Aliases: []string{"bevel"},
			Kind: "length", Unit: "mm", Datum: "the butt", Condition: "dry",
			How: "from the butt to where the bevel ends, on the opened piece", Tool: "ruler",
			More: "long", Less: "short", Plausible: "2 .. 35 mm",
			Sources: []sdk.Source{
				published(blog2013, "3/8 in (9.5 mm), dry, after the rest"),
				published(reedTips, "from the second wire to the butt, widening to the butt"),
				published(stowellBevel, "from the butt past the first wire to the start of the blade"),
			},
		},
		{
			Name: "mandrel.line", Title: "butt to the mandrel's line", Aliases: []string{"mandrel line"},
			Kind: "length", Unit: "mm", Datum: "the line on the mandrel",
			How: "from the line to the butt: past the line is plus, short of it is minus", Tool: "ruler",
			More: "far on", Less: "short", Plausible: "-10 .. 10 mm",
			Sources: []sdk.Source{
				published(blog2023, "to the line on the mandrel, straight, never twisting"),
				memory("the range"),
			},
		},
		{
			Name: "fold.to_butt", Title: "fold to butt", Aliases: []string{"folded length"},
			Kind: "length", Unit: "mm", Datum: "the fold",
			How: "from the fold to where the butt is trimmed", Tool: "ruler",
			More: "long", Less: "short", Plausible: "50 .. 66 mm",
			Sources: []sdk.Source{
				published(blog2013, "2 5/16 in (58.7 mm)"),
				published(blog2009, "2 5/16 in (58.7 mm)"),
				practice("a piece of 120 mm, folded at 60 mm and cut 5 mm below the fold, leaves 55 mm"),
			},
		},
		{
			Name: "rest.time", Title: "rest of the blank", Aliases: []string{"rest"},
			Kind: "time", Unit: "d", Subject: "piece",
			How: "from the day the blank was formed", Tool: "clock",
			More: "long", Less: "short", Plausible: "1 h .. 2000 d",
			Sources: []sdk.Source{
				published(blog2013, "at least 2 weeks before the blank is taken apart"),
				published(blog2015, "some of the best reeds came from blanks one day old"),
				published(blog2014, "some blanks made in 2011 were still unused in 2014"),
				practice("about a day before the tube is sealed with glue"),
			},
		},
	}
}
