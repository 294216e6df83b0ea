package recipe

import (
	"regexp"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// anchored: such a word says, or may say, where a distance is counted from, or
// that it is none.
var anchored = regexp.MustCompile(`(?i)\b(from|below|above|behind|beyond|past|between|off|short|before|under|over|beneath|up|down|in front|inside|apart|long|thick|thin|wide|deep|high|open|across|diameter|width|thickness|opening|gap|spacing|every|blade of|stop)\b`)

// nowhere reports "at 27 mm" where nothing says from where. Where a target of
// the recipe holds the number, its name in braces would.
func (c *paperCheck) nowhere(t diagnostic.Text, value string, r []rune, n quantity.Printed) {
	before := strings.Fields(strings.ToLower(string(r[max(0, n.From-12):n.From])))
	if len(before) == 0 || before[len(before)-1] != "at" {
		return
	}
	hint := "write from where: " + clip(n.Text) + " from the butt"
	if d := c.speaksOf(value, n.Value.Q); d != "" {
		hint = "write {" + d + "} in its place: that shows the number and where it is counted from"
	}
	c.remark("recipe/no-datum", t.Span(n.From, n.To), hint, clip(n.Text)+" from where?")
}

// speaksOf is the dimension that a text most likely means: a distance whose
// target holds the number, one that the text calls by name before others.
func (c *paperCheck) speaksOf(text string, q int64) string {
	text = strings.ToLower(text)
	best := ""
	for _, s := range c.Aims {
		d := c.Slots[s.Slot].Dimension
		if d.Kind != quantity.Length || d.Datum == "" || s.Target.Tolerance.Side(q) != quantity.Inside {
			continue
		}
		for _, name := range append([]string{d.Title}, d.Aliases...) {
			for _, w := range strings.Fields(strings.ToLower(name)) {
				if len(w) > 3 && strings.Contains(text, w) {
					return d.Name
				}
			}
		}
		if best == "" {
			best = d.Name
		}
	}
	return best
}
