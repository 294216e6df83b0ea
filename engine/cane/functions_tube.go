package cane

const (
	textbook     = "textbook"
	own          = "own computation"
	operatorLog  = "textbook; bassoonoperator.blogspot.com, Reed log, January 2010"
	lobben       = "Lobben, Machinists' and Draftsmen's Handbook, 1900, p. 200"
	archimedes   = "Archimedes' principle; OpenStax, College Physics, chapter 11"
	arithmetic   = "arithmetic"
	woodHandbook = "USDA Wood Handbook, FPL-GTR-282 (2021), equation 4-5"
)

// tubeFunctions: splitting, curves and gouges. Tubes, beds and blades are given
// by diameter, as makers name them.
func tubeFunctions() []Function {
	round := func(pick func(Part) float64) func(x []float64) (float64, error) {
		return func(x []float64) (float64, error) {
			parts, err := Split(Tube{x[0], x[0]}, pieces(x[1]), 0)
			if err != nil {
				return 0, err
			}
			return pick(parts[0]), nil
		}
	}
	oval := func(pick func(e ellipse) float64) func(x []float64) (float64, error) {
		return func(x []float64) (float64, error) {
			e, err := Tube{x[0], x[1]}.ellipse("oval tube")
			if err != nil {
				return 0, err
			}
			return pick(e), nil
		}
	}
	return []Function{
		function("arc_of_tube(tube length, pieces count) length",
			"width along the bark of each piece of a round tube", textbook,
			round(func(p Part) float64 { return p.Arc })),
		function("chord_of_tube(tube length, pieces count) length",
			"width straight across of each piece of a round tube", textbook,
			round(func(p Part) float64 { return p.Chord })),
		function("sagitta_of_tube(tube length, pieces count) length",
			"height of each piece of a round tube over its chord", textbook,
			round(func(p Part) float64 { return p.Sagitta })),
		function("arc_of_oval(widest length, narrowest length, pieces count) length",
			"width along the bark of each piece of an oval tube, cut into equal arcs", textbook,
			func(x []float64) (float64, error) {
				parts, err := Split(Tube{x[0], x[1]}, pieces(x[2]), 0)
				if err != nil {
					return 0, err
				}
				return parts[0].Arc, nil
			}),
		function("roundest_radius(widest length, narrowest length) length",
			"smallest radius of the bark of an oval tube, at the ends of its long diameter", textbook,
			oval(func(e ellipse) float64 { return e.radius(0) })),
		function("flattest_radius(widest length, narrowest length) length",
			"largest radius of the bark of an oval tube, on its flat sides", textbook,
			oval(func(e ellipse) float64 { return e.a / e.b * e.a })),
		function("turn_of_oval(widest length, narrowest length, pieces count) angle",
			"angle from the long diameter to the first edge that makes the pieces most alike", own,
			func(x []float64) (float64, error) {
				turn, _, err := BestTurn(Tube{x[0], x[1]}, pieces(x[2]))
				return turn, err
			}),
		function("radius_spread(widest length, narrowest length, pieces count) length",
			"how much the mean radii of the pieces of an oval tube differ at the best turn", own,
			func(x []float64) (float64, error) {
				_, spread, err := BestTurn(Tube{x[0], x[1]}, pieces(x[2]))
				return spread, err
			}),
		function("radius_spread_at(widest length, narrowest length, pieces count, turn angle) length",
			"how much the mean radii of the pieces of an oval tube differ at this turn", own,
			func(x []float64) (float64, error) {
				parts, err := Split(Tube{x[0], x[1]}, pieces(x[2]), x[3])
				return RadiusSpread(parts), err
			}),
		function("radius_of(chord length, sagitta length) length",
			"radius from a chord and the height of the arc over its middle", lobben,
			func(x []float64) (float64, error) { return Radius(x[0], x[1]) }),
		function("sagitta_of(radius length, chord length) length",
			"height of an arc over its chord", textbook,
			func(x []float64) (float64, error) { return Sagitta(x[0], x[1]) }),
		function("chord_of(radius length, sagitta length) length",
			"width straight across an arc of this height", textbook,
			func(x []float64) (float64, error) { return Chord(x[0], x[1]) }),
		function("gouge_side(tube length, blade length, centre length, at length) length",
			"thickness at an arc distance from the mid-line, from the diameters of bark and blade and the centre thickness", own,
			func(x []float64) (float64, error) { return side(x[0], x[1], 0, x[2], x[3]) }),
		function("gouge_side_double(tube length, blade length, sideways length, centre length, at length) length",
			"the same for a double radius, the blade moved sideways and cut from both ends", own,
			func(x []float64) (float64, error) { return side(x[0], x[1], x[2], x[3], x[4]) }),
		function("gouge_blade(tube length, centre length, side length, at length) length",
			"diameter of the blade that leaves this centre and this side at an arc distance", own,
			func(x []float64) (float64, error) {
				g, err := Find(x[0]/2, 0, x[1], x[2], x[3])
				return 2 * g.Blade, err
			}),
		function("gouge_offset(tube length, centre length, side length, at length) length",
			"how far that blade's centre lies toward the bark from the bark's own; below zero thins the sides", own,
			func(x []float64) (float64, error) {
				g, err := Find(x[0]/2, 0, x[1], x[2], x[3])
				return g.Offset, err
			}),
	}
}

// side takes the diameters of bark and blade.
func side(tube, blade, sideways, centre, at float64) (float64, error) {
	g, err := Set(tube/2, blade/2, sideways, centre)
	if err != nil {
		return 0, err
	}
	return g.Thickness(tube/2, at)
}
