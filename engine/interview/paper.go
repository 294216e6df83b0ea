package interview

import (
	"regexp"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

var (
	// A paper says "27 to 30 mm" and "27–30 mm" for what a recipe writes as
	// 27 .. 30 mm.
	rangeForm = regexp.MustCompile(`^(.*[0-9"″a-zA-Z%°])\s*(?:\bto\b|–|—|-|…|\.\.)\s*([0-9A-G].*)$`)
	// It says "about", which is no number.
	hedgeForm = regexp.MustCompile(`(?i)^(?:about|approx\.?|approximately|ca\.?|circa|roughly|~|≈|exactly)\s*`)
)

// read takes a number as it is written on the paper.
func (n *number) read(text string) error {
	first, second := text, ""
	if a, b, ok := strings.Cut(text, "="); ok && !strings.ContainsAny(text, "<>") && !strings.Contains(text, "(") {
		first, second = strings.TrimSpace(a), strings.TrimSpace(b)
	} else {
		at := 0
		if first, second, at = quantity.Columns(text); at > 0 && second == "" {
			return refuse("write the number in the brackets, or no brackets", "there is nothing in the brackets")
		}
	}
	style := quantity.Style{Want: n.dim.Kind}
	one, limits, err := column(first, style, n.dim)
	if err != nil {
		return err
	}
	two := ""
	if second != "" {
		if two, _, err = column(second, style, n.dim); err != nil {
			return err
		}
	}
	n.paper, n.first, n.second, n.limits = text, one, two, limits
	return nil
}

// column reads one column, in the notation of papers, and writes it in that of
// recipes.
func column(text string, style quantity.Style, d *dimension.Dimension) (out string, limits bool, err error) {
	text = strings.TrimSpace(hedgeForm.ReplaceAllString(text, ""))
	try := []string{text}
	if m := rangeForm.FindStringSubmatch(text); m != nil {
		try = append(try, strings.TrimSpace(m[1])+" .. "+strings.TrimSpace(m[2]))
	}
	for _, t := range try {
		if _, err := quantity.ParseTolerance(t, style); err == nil {
			return t, true, nil
		}
	}
	if _, err = quantity.Parse(text, style); err == nil {
		return text, false, nil
	}
	q, ok := err.(*quantity.Error)
	if !ok {
		return "", false, err
	}
	hint := q.Hint
	if hint == "" || strings.Contains(q.Message, "no unit") {
		hint = "write it with its unit, as on the paper: 27 mm, 1 1/16 in, 31.4 thou, 27 to 30 mm, or in both: 27 mm (1 1/16 in)"
	}
	return "", false, refuse(hint, d.Title+": "+q.Message)
}

var deviationForm = regexp.MustCompile(`^[0-9.,]`)

// allow takes what the sheet says how far a number may be off.
func (n *number) allow(line string) error {
	t := line
	if deviationForm.MatchString(t) {
		t = "± " + t
	}
	if t != "at least" && t != "at most" && !strings.HasPrefix(t, "±") && !strings.HasPrefix(t, "+") && !strings.HasPrefix(t, "-") {
		return refuse("write ± 0.5 mm, +0.5 -0.2 mm, at least or at most; Enter leaves it open", "this is no tolerance")
	}
	if _, err := quantity.ParseTolerance(withTolerance(n.first, t), quantity.Style{Want: n.dim.Kind}); err != nil {
		q, _ := err.(*quantity.Error)
		if q == nil {
			return err
		}
		return refuse("write ± 0.5 mm, +0.5 -0.2 mm, at least or at most; Enter leaves it open", q.Message)
	}
	n.tolerance = t
	return nil
}

// convert counts the number from the dimension's own datum: the length between
// the two ends less the number, or with it where the paper counts away.
func (n *number) convert() error {
	text := n.first
	if !n.limits {
		if n.tolerance == "" {
			return nil
		}
		text = withTolerance(n.first, n.tolerance)
	}
	style := quantity.Style{Want: n.dim.Kind}
	t, err := quantity.ParseTolerance(text, style)
	if err != nil {
		return err
	}
	l, err := quantity.Parse(n.length, style)
	if err != nil {
		return err
	}
	mm := quantity.Main(quantity.Length)
	from := func(b quantity.Bound) string {
		q := l.Value.Q - b.Q
		if n.away {
			q = l.Value.Q + b.Q
		}
		return quantity.Format(quantity.Value{Kind: t.Kind, Q: q}, mm, 0)
	}
	low, high := t.Low, t.High
	if !n.away {
		low, high = high, low
	}
	switch {
	case t.Nominal.Set && t.High.Q-t.Nominal.Q == t.Nominal.Q-t.Low.Q:
		n.converted = withTolerance(from(t.Nominal), "± "+quantity.Format(quantity.Value{Kind: t.Kind, Q: t.High.Q - t.Nominal.Q}, mm, 0))
	case low.Set && high.Set:
		n.converted = strings.TrimSuffix(from(low), " mm") + " .. " + from(high)
	case low.Set:
		n.converted = "at least " + from(low)
	default:
		n.converted = "at most " + from(high)
	}
	_, err = quantity.ParseTolerance(n.converted, style)
	return err
}

// inMillimetres says what a number in inches, thou or a gauge is; "" for one
// in mm.
func inMillimetres(first string, d *dimension.Dimension) string {
	if d.Kind != quantity.Length {
		return ""
	}
	printed, err := quantity.PrintedIn(first, quantity.Style{Want: d.Kind})
	if err != nil {
		return ""
	}
	mm := quantity.Main(quantity.Length)
	var out []string
	for _, p := range printed {
		if p.Unit == mm {
			return ""
		}
		out = append(out, strings.TrimSuffix(quantity.Format(p.Value, mm, 10_000), " mm"))
	}
	return strings.Join(out, " to ") + " mm"
}

// takeWait reads a wait as people say it.
func takeWait(line string) (*wait, error) {
	time := func(s string) bool {
		if s == "overnight" {
			return true
		}
		e, err := quantity.Parse(s, quantity.Style{Want: quantity.Time})
		return err == nil && e.Value.Q > 0
	}
	word, rest, _ := strings.Cut(line, " ")
	if word == "until" && rest != "" {
		return &wait{until: rest}, braces(rest)
	}
	if t, ok := strings.CutPrefix(line, "at least "); ok && time(t) {
		return &wait{least: t}, nil
	}
	if t, ok := strings.CutPrefix(line, "at most "); ok && time(t) {
		return &wait{most: t}, nil
	}
	if m := rangeForm.FindStringSubmatch(line); m != nil {
		a, b := strings.TrimSpace(m[1]), strings.TrimSpace(m[2])
		if _, unit, ok := strings.Cut(b, " "); ok && !time(a) {
			a += " " + unit
		}
		if time(a) && time(b) {
			return &wait{least: a, most: b}, nil
		}
	}
	if time(line) {
		return &wait{usual: line}, nil
	}
	return nil, refuse("write overnight, 2 h, 2 to 3 weeks, at least 1 d, or until it sinks; Enter: no wait", "this is no time")
}

// braces refuses what a recipe would take for a name.
func braces(text string) error {
	if i := strings.IndexByte(text, '{'); i >= 0 && strings.IndexByte(text[i:], '}') > 0 {
		return refuse("leave the { } out; what stands between them is a name in a recipe", "{ } would be taken for the name of a dimension")
	}
	return nil
}
