package toolbox

import (
	"strings"

	"canewright/engine/quantity"
)

// Field is one number of one tool.
type Field struct {
	Tool  string // "shaper"
	Key   string // "fold"
	Kind  quantity.Kind
	Title string // what it is: "width at the fold"
	How   string // how and where to measure it
	Use   string // what it is needed for
	// Usual is what hardly any such tool lies outside of, from memory: a number
	// outside is asked about, not refused.
	Usual string
}

// Name is the field as a file, a setting and a command name it.
func (f Field) Name() string { return f.Tool + "." + f.Key }

// Example is a value as one would write it.
func (f Field) Example() string {
	if f.Kind == quantity.Ratio {
		return "0.07"
	}
	return examples[f.Name()]
}

var examples = map[string]string{
	"shaper.fold": "15.0 mm", "shaper.collar": "12.6 mm", "shaper.butt": "12.0 mm", "shaper.cane": "15.2 mm",
	"profiler.collar": "0.90 mm", "profiler.length": "29.5 mm",
	"mandrel.tip": "4.00 mm", "mandrel.diameter": "6.10 mm", "mandrel.at": "30 mm", "mandrel.line_at": "25 mm",
	"bocal.tip": "4.50 mm", "bocal.diameter": "5.20 mm", "bocal.at": "10 mm",
	"staple.length": "47.0 mm", "staple.small": "4.60 mm", "staple.oval": "2.60 mm", "staple.large": "6.50 mm",
	"gouger.blade": "11.0 mm", "gouger.radius": "5.5 mm", "gouger.bed": "10.5 mm", "gouger.centre": "0.60 mm", "gouger.length": "75 mm",
}

// Tools lists the tools in the order they are shown and asked for.
func Tools() []string {
	return []string{"shaper", "profiler", "mandrel", "bocal", "staple", "gouger"}
}

// Fields lists every number a toolbox can hold, tool by tool.
func Fields() []Field {
	l, r := quantity.Length, quantity.Ratio
	return []Field{
		{"shaper", "fold", l, "width of the metal at its widest", "a caliper across the metal: at the fold, or at the ears where those are wider", "the width of the shape", "4 .. 30 mm"},
		{"shaper", "collar", l, "width of the metal at the collar", "a caliper across the metal where the collar, or the first wire, will come", "the width at the first wire", "3 .. 25 mm"},
		{"shaper", "butt", l, "width of the metal at the butt", "a caliper across the metal where the butt, or the lower end of the tie, will come", "the diameter of the tube, and so the mandrel and the bocal", "2 .. 25 mm"},
		{"shaper", "cane", l, "width of cane shaped on it", "a caliper across a shaped piece, wet, at its widest; only where the recipe says nothing of its shaper", "the width of the shape, from the cane itself", "4 .. 30 mm"},
		{"profiler", "collar", l, "thickness it leaves at the collar", "a dial indicator on a profiled piece, centre line, just in front of the collar", "the thickness at the collar", "0.2 .. 3 mm"},
		{"profiler", "length", l, "length it cuts, fold to collar", "a ruler on a profiled piece, from the fold to the collar, one side", "where the collar comes", "10 .. 60 mm"},
		{"mandrel", "tip", l, "diameter at its small end", "a micrometer on the very end", "how far a blank goes on", "1 .. 20 mm"},
		{"mandrel", "diameter", l, "diameter at a second place", "a micrometer, away from the end", "its taper, if nobody tells it", "1 .. 25 mm"},
		{"mandrel", "at", l, "from the small end to that second place", "a ruler along the mandrel", "its taper, if nobody tells it", "1 .. 120 mm"},
		{"mandrel", "taper", r, "change of diameter per mm of length", "as its maker tells it; leave it out where the two diameters are given", "how far a blank goes on", "0.005 .. 0.3"},
		{"mandrel", "line_at", l, "from the small end to its line", "a ruler along the mandrel", "where the butt should stand", "1 .. 120 mm"},
		{"bocal", "tip", l, "outer diameter at its small end", "a micrometer on the very end, not pressed", "how far a reed goes on", "2 .. 12 mm"},
		{"bocal", "diameter", l, "outer diameter at a second place", "a micrometer, away from the end", "its taper, if nobody tells it", "2 .. 16 mm"},
		{"bocal", "at", l, "from the small end to that second place", "a ruler along the bocal", "its taper, if nobody tells it", "1 .. 60 mm"},
		{"bocal", "taper", r, "change of diameter per mm of length", "as its maker tells it; leave it out where the two diameters are given", "how far a reed goes on", "0.005 .. 0.3"},
		{"staple", "length", l, "length", "a caliper from the cork end to the other", "every place counted from the bottom of the staple", "10 .. 70 mm"},
		{"staple", "small", l, "diameter at its small end, the widest way", "a caliper, outside, across the oval the long way", "where the sides close", "2 .. 10 mm"},
		{"staple", "oval", l, "diameter at its small end, the narrow way", "a caliper, outside, across the oval the short way; leave it out where the end is round", "where the sides close", "1 .. 10 mm"},
		{"staple", "large", l, "diameter at its large end", "a caliper, outside, without the cork", "the staple's taper", "3 .. 15 mm"},
		{"gouger", "blade", l, "diameter of the blade's curve", "as its maker tells it, or a radius gauge; twice the radius", "the thickness at the sides", "4 .. 80 mm"},
		{"gouger", "radius", l, "radius of the blade's curve", "instead of the diameter", "the thickness at the sides", "2 .. 40 mm"},
		{"gouger", "bed", l, "diameter of the bed's curve", "as its maker tells it, or a plug gauge that lies without light under it", "the thickness at the sides, and which tubes fit", "5 .. 60 mm"},
		{"gouger", "centre", l, "thickness it leaves at the centre", "a dial indicator or micrometer on a gouged piece, centre line; leave it out where the gouger is set to each recipe", "the gouge, and the wall of the tube", "0.3 .. 3 mm"},
		{"gouger", "length", l, "length of cane its bed takes", "a ruler along the bed, stop to stop", "the length of the piece", "30 .. 220 mm"},
	}
}

// FieldNamed finds a field by its name; blanks and case do not matter.
func FieldNamed(name string) (Field, bool) {
	name = strings.ToLower(strings.TrimSpace(name))
	for _, f := range Fields() {
		if f.Name() == name {
			return f, true
		}
	}
	return Field{}, false
}

// Parse reads a value of the field: a length with its unit, a taper as a plain
// number or in %. flow: only a point is a decimal point. The error is a
// *quantity.Error.
func (f Field) Parse(text string, flow bool) (quantity.Entered, error) {
	e, err := quantity.Parse(text, quantity.Style{Want: f.Kind, Point: flow})
	if q, ok := err.(*quantity.Error); ok && f.Kind == quantity.Ratio {
		own := *q
		own.Hint = "write a plain number, mm of diameter for each mm of length: " + f.Example()
		return e, &own
	}
	if err != nil {
		return e, err
	}
	if e.Value.Q <= 0 {
		return e, &quantity.Error{From: 0, To: len([]rune(text)), Message: "it is not above zero", Hint: "write it as in " + f.Example()}
	}
	return e, nil
}

// Doubt says what is hard to believe of a value, and what may have been meant;
// "" where nothing is.
func (f Field) Doubt(e quantity.Entered) string {
	style := quantity.Style{Want: f.Kind}
	usual, err := quantity.ParseTolerance(f.Usual, style)
	if err != nil || usual.Side(e.Value.Q) == quantity.Inside {
		return ""
	}
	if s, ok := quantity.Suggest(e, usual, style); ok {
		return "did you mean " + s + "?"
	}
	return "most lie between " + usual.Limits()
}
