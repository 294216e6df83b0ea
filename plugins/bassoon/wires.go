package bassoon

import "canewright/plugins/sdk"

// wires: counted from the blade towards the butt, measured from the butt.
func wires() []sdk.Dimension {
	return []sdk.Dimension{
		{
			Name: "wire.first", Title: "first wire", Aliases: []string{"top wire", "upper wire", "1st wire"},
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt to the centre of the twist", Tool: "ruler",
			More: "far", Less: "close", Plausible: "20 .. 33 mm",
			Sources: []sdk.Source{
				published(lacan2, "1 1/16 in (27 mm); every wire's number is to its centre line"),
				published(blog2013, "exactly 1 in (25.4 mm)"),
				published(blog2023, "exactly 1 in (25.4 mm)"),
				memory("25 to 28 mm"),
			},
		},
		{
			Name: "wire.second", Title: "second wire", Aliases: []string{"middle wire", "throat wire", "lower wire", "2nd wire"},
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt to the centre of the twist", Tool: "ruler",
			More: "far", Less: "close", Plausible: "12 .. 26 mm",
			Sources: []sdk.Source{
				published(blog2023, "5/16 in below the first, which is 17.5 mm from the butt where the first is at 1 in"),
				published(brusky, "5/16 in (the page prints 7.5 mm beside it) below the first"),
				worked("19.1 mm where the first is at 27 mm and 5/16 in lie between"),
			},
		},
		{
			Name: "wire.third", Title: "third wire", Aliases: []string{"butt wire", "bottom wire", "3rd wire"},
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt to the centre of the twist", Tool: "ruler",
			More: "far", Less: "close", Plausible: "1.5 .. 12 mm",
			Sources: []sdk.Source{published(blog2023, "3/16 in (4.8 mm)")},
		},
		{
			Name: "wire.gap", Title: "first wire to second", Aliases: []string{"throat", "throat length"},
			Kind: "length", Unit: "mm",
			More: "long", Less: "short", Plausible: "3 .. 14 mm",
			Formula: "wire.first - wire.second",
			Sources: []sdk.Source{
				published(brusky, "5/16 in; the page prints 7.5 mm beside it, and the inch value is the one its author works in"),
				published(blog2023, "5/16 in"),
				published(bruskyWords, "the throat is the stretch between the first and the second wire"),
				worked("first less second"),
			},
		},
		{
			Name: "wire.lower_gap", Title: "second wire to third",
			Kind: "length", Unit: "mm",
			More: "long", Less: "short", Plausible: "5 .. 22 mm",
			Formula: "wire.second - wire.third",
			Sources: []sdk.Source{worked("second less third; 12.7 mm where they are at 17.5 and 4.8 mm, 14.3 mm where they are at 19.1 and 4.8 mm")},
		},
		// The same wires from the other end: worked out, so that a recipe that
		// counts from the fold or from the tip can say its own number.
		{
			Name: "wire.first_from_fold", Title: "first wire from the fold", Aliases: []string{"fold to first wire"},
			Kind: "length", Unit: "mm",
			More: "far", Less: "close", Plausible: "17 .. 46 mm",
			Formula: "length(fold.to_butt) - wire.first",
			Sources: []sdk.Source{worked("fold to butt less first wire: 1 5/16 in (33.3 mm) where one author has them at 2 5/16 in and 1 in (" + blog2013 + ")")},
		},
		{
			Name: "wire.second_from_fold", Title: "second wire from the fold", Aliases: []string{"fold to second wire"},
			Kind: "length", Unit: "mm",
			More: "far", Less: "close", Plausible: "24 .. 54 mm",
			Formula: "length(fold.to_butt) - wire.second",
			Sources: []sdk.Source{worked("fold to butt less second wire: 1 5/8 in (41.3 mm) where they are at 2 5/16 in and 5/16 in below a first wire at 1 in")},
		},
		{
			Name: "wire.third_from_fold", Title: "third wire from the fold", Aliases: []string{"fold to third wire"},
			Kind: "length", Unit: "mm",
			More: "far", Less: "close", Plausible: "38 .. 65 mm",
			Formula: "length(fold.to_butt) - wire.third",
			Sources: []sdk.Source{worked("fold to butt less third wire: 2 1/8 in (54.0 mm) where they are at 2 5/16 in and 3/16 in")},
		},
		{
			Name: "wire.second_from_tip", Title: "second wire from the tip", Aliases: []string{"tip to second wire"},
			Kind: "length", Unit: "mm",
			More: "far", Less: "close", Plausible: "22 .. 54 mm",
			Formula: "overall - wire.second",
			Sources: []sdk.Source{worked("overall less second wire: 36.5 mm where they are at 55.6 and 19.1 mm")},
		},
		{
			Name: "wire.third_from_tip", Title: "third wire from the tip", Aliases: []string{"tip to third wire"},
			Kind: "length", Unit: "mm",
			More: "far", Less: "close", Plausible: "36 .. 65 mm",
			Formula: "overall - wire.third",
			Sources: []sdk.Source{worked("overall less third wire: 50.8 mm where they are at 55.6 and 4.8 mm")},
		},
		{
			Name: "wire.fourth", Title: "fourth wire",
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt to the centre of the twist", Tool: "ruler",
			More: "far", Less: "close",
			Sources: []sdk.Source{published(fourthWire, "tried; sealing was more even; no place given")},
		},
		{
			Name: "wire.gauge", Title: "wire thickness", Aliases: []string{"wire gauge", "gauge of the wire"},
			Kind: "length", Unit: "AWG", Subject: "batch", Across: true,
			How: "as marked on the spool, or across the wire", Tool: "micrometer",
			More: "thick", Less: "thin", Plausible: "26 .. 18 AWG",
			Sources: []sdk.Source{
				published(lacan2, "22 AWG"),
				published(student, "22 AWG"),
				published(reedTips, "22 AWG for the first wire, 23 AWG for the others"),
				published(ellin, "21 AWG for the first wire, which keeps the opening from collapsing"),
				practice("brass wire of 22 AWG"),
			},
		},
		{
			Name: "wire.turns", Title: "turns of wire", Aliases: []string{"turns"},
			Kind: "count",
			How:  "count the turns round the tube", Tool: "eye",
			More: "many", Less: "few", Plausible: "1 .. 6",
			Sources: []sdk.Source{
				published(blog2013, "2; 3 for a temporary bottom wire"),
				published(stowellBind, "3 on the third wire of a reed left unbound"),
			},
		},
		{
			Name: "wire.end", Title: "twist left standing", Aliases: []string{"wire end"},
			Kind: "length", Unit: "mm", Datum: "the tube",
			How: "from the tube to the end of the twist, before it is bent down", Tool: "ruler",
			More: "long", Less: "short", Plausible: "1 .. 12 mm",
			Sources: []sdk.Source{
				published(lacan2, "1/8 in (3.2 mm)"),
				published(stowellBind, "about 4 mm"),
			},
		},
		{
			Name: "thread.size", Title: "thread", Aliases: []string{"thread number", "thread gauge"},
			Kind: "count", Subject: "batch",
			How: "the number on the spool", Tool: "eye",
			More: "fine", Less: "coarse", Plausible: "3 .. 100",
			Sources: []sdk.Source{published(stowellBind, "20, crochet thread, all cotton; nylon and polyester stretch and squeeze the cane")},
		},
		{
			Name: "thread.turns", Title: "turns of thread",
			Kind: "count",
			How:  "count them, or the winder's", Tool: "eye",
			More: "many", Less: "few", Plausible: "5 .. 250",
			Sources: []sdk.Source{published(stowellBind, "about 100")},
		},
		{
			Name: "seal.inside", Title: "seal inside the tube", Aliases: []string{"varnish inside"},
			Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt to where the coat inside ends", Tool: "ruler",
			More: "far in", Less: "short", Plausible: "1 .. 28 mm",
			Sources: []sdk.Source{published(operatorLog, "about 10 mm up, wiped with the mandrel; outside from the second wire to the butt, and on the end")},
		},
		{
			Name: "collar.above_first_wire", Title: "collar above the first wire", Aliases: []string{"collar", "shoulder", "shoulder above the first wire"},
			Kind: "length", Unit: "mm", Datum: "the first wire",
			How: "from the centre of the first wire's twist to the collar", Tool: "ruler",
			More: "far", Less: "close", Plausible: "0 .. 8 mm",
			Sources: []sdk.Source{
				published(lacan4, "3 mm, just under 1/8 in, and 0.5 mm (1/64 in) deep"),
				published(blog2023, "1/8 in"),
			},
		},
	}
}
