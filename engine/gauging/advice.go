package gauging

import "fmt"

// Advice is what would settle an unsure rule, in about eight words; "" where it
// is sure. Inputs go by their Name.
func Advice(v RuleVerdict, c Combined) string {
	switch {
	case v.Sure:
		return ""
	case v.OnLimit && v.Holds:
		return "On the limit. Counts as right."
	case v.OnLimit:
		return "On the limit. Not enough."
	case v.Coarse && uncertain(c) == 1:
		return "This gauge cannot tell. You decide."
	case v.Coarse:
		return "These gauges cannot tell. You decide."
	case v.Measure < 0:
		return "Too close to tell. You decide."
	}
	name := c.Shares[v.Measure].Name
	switch v.More {
	case 0:
		return "Measure " + name + " again."
	case 1:
		return "Measure " + name + " once more."
	case 2:
		return "Measure " + name + " twice more."
	}
	return fmt.Sprintf("Measure %s %d times more.", name, v.More)
}

func uncertain(c Combined) int {
	n := 0
	for _, s := range c.Shares {
		if s.Part > 0 {
			n++
		}
	}
	return n
}
