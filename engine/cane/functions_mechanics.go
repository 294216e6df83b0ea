package cane

// mechanicsFunctions: stiffness, density, moisture. No formula has a name for
// mm⁴, so the second moment of area stays inside.
func mechanicsFunctions() []Function {
	return []Function{
		function("modulus_of_flat(slope stiffness, span length, width length, thickness length) pressure",
			"modulus of elasticity of a flat strip in three-point bending, from load over deflection", textbook,
			func(x []float64) (float64, error) {
				i, err := FlatStrip(x[2], x[3])
				if err != nil {
					return 0, err
				}
				return ThreePoint(x[0], x[1], i)
			}),
		function("modulus_of_gouged(slope stiffness, span length, tube length, thickness length, arc length) pressure",
			"the same for a gouged piece, as the arc it is", own,
			func(x []float64) (float64, error) {
				s, err := GougedSection(x[2]/2, x[3], x[4])
				if err != nil {
					return 0, err
				}
				return ThreePoint(x[0], x[1], s.Second)
			}),
		function("modulus_of_held(slope stiffness, span length, width length, thickness length) pressure",
			"modulus of elasticity of a flat strip held at one end and pressed at the other", textbook,
			func(x []float64) (float64, error) {
				i, err := FlatStrip(x[2], x[3])
				if err != nil {
					return 0, err
				}
				return Cantilever(x[0], x[1], i)
			}),
		function("slope_of_gouged(modulus pressure, span length, tube length, thickness length, arc length) stiffness",
			"load over deflection of a gouged piece in three-point bending", own,
			func(x []float64) (float64, error) {
				s, err := GougedSection(x[2]/2, x[3], x[4])
				if err != nil {
					return 0, err
				}
				return ThreePointSlope(x[0], x[1], s.Second)
			}),
		function("arching_of(tube length, thickness length, arc length) ratio",
			"how many times stiffer a gouged piece is than the flat formula says", own,
			func(x []float64) (float64, error) { return Arching(x[0]/2, x[1], x[2]) }),
		function("thickness_cubed(from length, to length) ratio",
			"how many times stiffer a flat strip becomes from one thickness to another", textbook,
			func(x []float64) (float64, error) { return ThicknessCubed(x[0], x[1]) }),
		function("density_afloat(length length, under length, water density) density",
			"density of an even stick that floats upright, from its length and that under water", archimedes,
			func(x []float64) (float64, error) { return Afloat(x[0], x[1], x[2]) }),
		function("density_in_water(dry mass, apparent mass, water density) density",
			"density from the mass and what the piece weighs in water", archimedes,
			func(x []float64) (float64, error) { return InWater(x[0], x[1], x[2]) }),
		function("density_with_sinker(dry mass, sinker mass, both mass, water density) density",
			"density of a floating piece, from the sinker and both weighed in water", archimedes,
			func(x []float64) (float64, error) { return WithSinker(x[0], x[1], x[2], x[3]) }),
		function("water_density(water temperature) density",
			"density of clean water, 0 to 40 °C", "Tanaka and others, Metrologia 38 (2001), from memory",
			func(x []float64) (float64, error) { return WaterDensity(x[0]) }),
		function("wood_moisture(air temperature, room humidity) ratio",
			"moisture that wood comes to in this air; cane differs, a guide only", woodHandbook,
			func(x []float64) (float64, error) { return WoodMoisture(x[0], x[1]) }),
		function("indoor_humidity(outside temperature, outside_humidity humidity, inside temperature) humidity",
			"humidity of outside air warmed indoors with no water added", "textbook, Magnus formula, from memory",
			func(x []float64) (float64, error) { return IndoorHumidity(x[0], x[1], x[2]) }),
	}
}
