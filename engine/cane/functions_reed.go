package cane

// reedFunctions: tube and seat, tip, blade, datum, crow.
func reedFunctions() []Function {
	contrast := func(pick func(Contrasts) Estimate) func(x []float64) (float64, error) {
		return func(x []float64) (float64, error) {
			c, err := Quadrants{
				ALeft: Estimate{Value: x[0]}, ARight: Estimate{Value: x[1]},
				BLeft: Estimate{Value: x[2]}, BRight: Estimate{Value: x[3]},
			}.Contrasts(0)
			return pick(c).Value, err
		}
	}
	const quadrants = "(a_left length, a_right length, b_left length, b_right length) length"
	return []Function{
		function("tube_of_widths(a length, b length) length",
			"outside diameter of the tube that two blades of these widths close to", textbook,
			func(x []float64) (float64, error) { return TubeOfWidths(x[0], x[1]) }),
		function("bore_of_widths(a length, b length, wall length) length",
			"inside diameter of that tube", textbook,
			func(x []float64) (float64, error) { return BoreOfWidths(x[0], x[1], x[2]) }),
		function("taper_of(large length, small length, length length) ratio",
			"change of diameter per length of a cone", textbook,
			func(x []float64) (float64, error) { return Taper(x[0], x[1], x[2]) }),
		function("cone_angle(taper ratio) angle",
			"included angle of a cone", textbook,
			func(x []float64) (float64, error) { return ConeAngle(x[0]) }),
		function("seat_depth(mouth length, tip length, taper ratio) length",
			"how far a reed that is not reamed goes on to a cone", textbook,
			func(x []float64) (float64, error) {
				f, err := Seat(Bore{Mouth: x[0]}, Cone{Tip: x[1], Taper: x[2]}, 0)
				return f.Depth, err
			}),
		function("seat_depth_reamed(mouth length, bore_taper ratio, tip length, taper ratio) length",
			"the same for a bore that narrows inward", textbook,
			func(x []float64) (float64, error) {
				f, err := Seat(Bore{x[0], x[1]}, Cone{x[2], x[3]}, 0)
				return f.Depth, err
			}),
		function("seat_change(change length, taper ratio) length",
			"how much further a reed goes on when its inside diameter grows by this much", operatorLog,
			func(x []float64) (float64, error) { return SeatChange(x[0], x[1]) }),
		function("seat_change_of_width(change length, taper ratio) length",
			"how much further a reed goes on when both blades are wider by this much", operatorLog,
			func(x []float64) (float64, error) { return SeatChangeOfWidth(x[0], x[1]) }),
		function("opening_area(width length, height length) area",
			"area of a tip opening of two arcs, from its width straight across and its height", textbook,
			func(x []float64) (float64, error) { return OpeningArea(x[0], x[1]) }),
		function("opening_height(width length, area area) length",
			"height of a tip opening of this width and area", textbook,
			func(x []float64) (float64, error) { return OpeningHeight(x[0], x[1]) }),
		function("opening_width(flat length, height length) length",
			"width straight across of a tip this wide when flat, opened to this height", textbook,
			func(x []float64) (float64, error) { return OpeningWidth(x[0], x[1]) }),
		function("blade_difference"+quadrants,
			"blade A less blade B, from four like places", textbook,
			contrast(func(c Contrasts) Estimate { return c.Blade })),
		function("side_difference"+quadrants,
			"left less right, from four like places", textbook,
			contrast(func(c Contrasts) Estimate { return c.Side })),
		function("twist_of"+quadrants,
			"half of: left less right on A, less the same on B", textbook,
			contrast(func(c Contrasts) Estimate { return c.Twist })),
		function("from_other_end(length length, at length) length",
			"a distance from the butt as one from the tip or fold, or back, with the length at that stage", arithmetic,
			func(x []float64) (float64, error) { return FromOtherEnd(x[0], x[1]) }),
		function("cents_between(a frequency, b frequency) interval",
			"how far b lies above a", textbook,
			func(x []float64) (float64, error) { return Cents(x[0], x[1]) }),
		function("cents_of_warmth(from temperature, to temperature) interval",
			"how far a column of air rises when it warms; a bare reed need not follow", textbook,
			func(x []float64) (float64, error) { return Warmth(x[0], x[1]) }),
	}
}
