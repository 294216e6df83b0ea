package tool

import "canewright/engine/quantity"

// rectangular is where most of the uncertainties below come from: a maximum
// permissible error ±a, taken as equally likely anywhere inside, is worth
// a/√3 (JCGM 100:2008, 4.3.7).
const rectangular = "u = limit/√3 (JCGM 100:2008, 4.3.7); limit "

const (
	nanometresPerMicrometre = 1_000
	microcentsPerCent       = 1_000_000
	nanogramsPerMilligram   = 1_000_000
	quantaPerKelvin         = 9_000
	quantaPerPercent        = 10_000_000 // of humidity
	quantaPerDegree         = 3_600_000  // of angle
	piconewtonsPerNewton    = 1_000_000_000_000
	millisecondsPerSecond   = 1_000
)

// gauges are the tools that read a number. Kinds are those of differences (a
// tuner reads in cents, a thermometer in kelvins), since a step is one.
func gauges() []Tool {
	um := func(n float64) quantity.Value {
		return quantity.Value{Kind: quantity.Length, Q: int64(n*nanometresPerMicrometre + 0.5)}
	}
	cents := func(n float64) quantity.Value {
		return quantity.Value{Kind: quantity.Interval, Q: int64(n*microcentsPerCent + 0.5)}
	}
	of := func(k quantity.Kind, quanta int64) quantity.Value { return quantity.Value{Kind: k, Q: quanta} }
	gauge := []string{"gauge"}
	return []Tool{
		{Name: "caliper", Aliases: []string{"calipers", "calliper", "callipers", "digital caliper", "sliding caliper"}, Classes: gauge,
			Step: um(10), Error: um(11.547), Source: rectangular + "±0.02 mm: from memory"},
		{Name: "dial indicator", Aliases: []string{"dial gauge", "thickness gauge", "indicator", "thickness indicator"}, Classes: gauge,
			Step: um(10), Error: um(5.774), Source: rectangular + "±0.01 mm: common practice"},
		{Name: "micrometer", Aliases: []string{"micrometer screw"}, Classes: gauge,
			Step: um(10), Error: um(2.309), Source: rectangular + "±0.004 mm: from memory"},
		{Name: "fine micrometer", Aliases: []string{"digital micrometer"}, Classes: gauge,
			Step: um(1), Error: um(2.309), Source: rectangular + "±0.004 mm: from memory"},
		{Name: "ruler", Aliases: []string{"rule", "steel rule", "steel ruler"}, Classes: gauge,
			Step: um(500), Error: um(57.735), Source: "step: half a division, as read by eye, common practice; " + rectangular + "±0.1 mm: from memory"},
		{Name: "tape measure", Aliases: []string{"measuring tape", "tape"}, Classes: gauge,
			Step: um(1000), Error: um(288.675), Source: rectangular + "±0.5 mm: from memory"},
		{Name: "feeler gauge", Aliases: []string{"feeler", "feeler leaf"}, Classes: gauge,
			Step: um(50), Error: um(2.887), Source: "step: the usual spacing of the leaves, common practice; " + rectangular + "±0.005 mm: from memory"},
		{Name: "plug gauge", Aliases: []string{"pin gauge", "bore gauge", "taper gauge"}, Classes: gauge,
			Step: um(100), Error: um(5.774), Source: "step: the usual spacing of a set, common practice; " + rectangular + "±0.01 mm: from memory"},
		{Name: "protractor", Aliases: []string{"angle gauge"}, Classes: gauge,
			Step: of(quantity.Angle, quantaPerDegree), Error: of(quantity.Angle, 1_039_230), Source: rectangular + "±0.5°: common practice"},
		{Name: "tuner", Aliases: []string{"tuning device"}, Classes: gauge,
			Step: cents(1), Error: cents(0.57735), Source: rectangular + "±1 cent: from memory"},
		{Name: "ear", Aliases: []string{"by ear"}, Classes: gauge,
			Step: cents(50), Error: cents(28.8675), Source: rectangular + "±50 cents, a crow named to the nearest note: common practice"},
		{Name: "scale", Aliases: []string{"scales", "balance", "weighing scale"}, Classes: gauge,
			Step: of(quantity.Mass, 10*nanogramsPerMilligram), Error: of(quantity.Mass, 11_547_005), Source: rectangular + "±0.02 g: from memory"},
		{Name: "force gauge", Aliases: []string{"spring balance", "spring scale"}, Classes: gauge,
			Step: of(quantity.Force, piconewtonsPerNewton/10), Error: of(quantity.Force, 57_735_026_919), Source: rectangular + "±0.1 N: from memory"},
		{Name: "hygrometer", Classes: gauge,
			Step: of(quantity.Humidity, quantaPerPercent), Error: of(quantity.Humidity, 17_320_508), Source: rectangular + "±3 % relative humidity: from memory"},
		{Name: "thermometer", Classes: gauge,
			Step: of(quantity.TempDiff, quantaPerKelvin/10), Error: of(quantity.TempDiff, 5_196), Source: rectangular + "±1 K: from memory"},
		{Name: "clock", Aliases: []string{"watch", "timer"}, Classes: gauge,
			Step: of(quantity.Time, 60*millisecondsPerSecond), Error: of(quantity.Time, 0), Source: "read to the minute; its own error is nothing beside that: common practice"},
		{Name: "stopwatch", Classes: gauge,
			Step: of(quantity.Time, millisecondsPerSecond), Error: of(quantity.Time, 289), Source: rectangular + "±0.5 s for the thumb: from memory"},
		{Name: "hardness tester", Aliases: []string{"hardness gauge"}, Classes: gauge,
			Source: "reads in units of its own, which no other tester shares; the step is the last digit read: common practice"},
		{Name: "density tester", Aliases: []string{"float tester"}, Classes: gauge, Source: "reads in units of its own: common practice"},
		{Name: "eye", Aliases: []string{"by eye", "eyes", "counting", "by counting"}, Classes: gauge, Source: "counts and looks: no step"},
	}
}
