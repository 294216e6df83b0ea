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
				published(adjustCanas, "at least 5 min, wholly, before adjusting a reed"),
				published(fagottwurm, "several hours before splitting"),
				published(everything2, "overnight before profiling"),
				published(blog2009, "at least 2 h before shaping"),
				published(doctor, "until it sinks, several hours; days are fine if the water is changed daily"),
				published(blog2023, "a few hours or overnight before forming"),
				published(student, "at least 3 h, warm, before forming"),
				published(lacan4, "several minutes, warm, before finishing"),
				published(noSoak, "none at all until forming: shaped and profiled dry"),
				published(stowellGouge, "none before gouging, usually"),
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
			Name: "score.spacing", Title: "score to score", Aliases: []string{"spacing of the scores"},
			Kind: "length", Unit: "mm", Datum: "the next scored line",
			How: "from one line to the next, at the butt", Tool: "ruler",
			More: "wide", Less: "narrow", Plausible: "0.3 .. 4 mm",
			Sources: []sdk.Source{published(stowellScore, "1.00 mm, with a tap")},
		},
		{
			Name: "score.length", Title: "length of the scores", Aliases: []string{"score length"},
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt to where the longest line ends", Tool: "ruler",
			More: "long", Less: "short", Plausible: "8 .. 33 mm",
			Sources: []sdk.Source{
				published(stowellScore, "at least half way to the first wire"),
				published(lacan2, "from the butt upward, none past the first wire: it would leak"),
				worked("13.5 mm is half way to a first wire at 27 mm"),
			},
		},
		{
			Name: "bevel.strokes", Title: "strokes for the bevel",
			Kind: "count",
			How:  "count the strokes on one end", Tool: "eye",
			More: "many", Less: "few", Plausible: "1 .. 100",
			Sources: []sdk.Source{published(blog2013, "about 25 on each end, on a block with 320 paper, until the halves meet")},
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
			Name: "mandrel.taper", Title: "taper of the mandrel", Aliases: []string{"slope of the mandrel", "taper of the bocal"},
			Kind: "ratio", Subject: "batch",
			How: "difference of two diameters by the length between them, mm per mm", Tool: "caliper",
			More: "steep", Less: "slow", Plausible: "0.02 .. 0.2",
			Sources: []sdk.Source{published(operatorLog, "0.07")},
		},
		{
			Name: "fold.at", Title: "place of the fold", Aliases: []string{"fold point", "middle of the piece"},
			Kind: "length", Unit: "mm", Datum: "one end of the piece",
			How: "from the marked end to the pencil line across the middle", Tool: "ruler",
			More: "far", Less: "close", Plausible: "50 .. 70 mm",
			Sources: []sdk.Source{
				published(doctor, "the true middle"),
				published(blog2009, "a pencil line across the exact middle"),
				worked("60 mm of 120 mm"),
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
		{
			Name: "soak.cycles", Title: "rounds of soaking and drying", Aliases: []string{"soak and dry cycles"},
			Kind: "count", Subject: "batch",
			How: "one soak and one drying are one round", Tool: "eye",
			More: "many", Less: "few", Plausible: "1 .. 15",
			Sources: []sdk.Source{
				published(stowellPrep, "3 to 4, to raise the grain"),
				published(conditioning, "several within two weeks"),
			},
		},
		{
			Name: "soak.conditioning", Title: "time of soaking and drying", Aliases: []string{"conditioning"},
			Kind: "time", Unit: "d", Subject: "batch",
			How: "from the first soak to the last drying", Tool: "clock",
			More: "long", Less: "short", Plausible: "12 h .. 200 d",
			Sources: []sdk.Source{published(conditioning, "about two weeks, several rounds, before forming")},
		},
		{
			Name: "cement.time", Title: "time for the cement to set", Aliases: []string{"drying time of the cement"},
			Kind: "time", Unit: "h", Subject: "batch",
			How: "from the last coat to the reamer", Tool: "clock",
			More: "long", Less: "short", Plausible: "0 min .. 60 d",
			Sources: []sdk.Source{
				published(blog2017, "overnight, from cement to reaming and cutting the tip"),
				published(blog2015, "none: wound the next day and tested at once, a quick test of new cane"),
			},
		},
	}
}
