package terminal

import (
	"github.com/charmbracelet/x/ansi"

	"canewright/engine/bench"
)

// sign goes before a verdict and marks the value on the number line. It says
// what the sentence says, by shape: round inside, a tip up above, a tip down
// below; filled when it is sure, hollow when not, a question mark where the
// gauge cannot tell.
func sign(side string, sure, coarse bool) string {
	if coarse {
		return "?"
	}
	var hollow, filled string
	switch side {
	case "inside":
		hollow, filled = "○", "●"
	case "above":
		hollow, filled = "△", "▲"
	case "below":
		hollow, filled = "▽", "▼"
	default:
		return "+" // read, and not judged yet
	}
	if sure {
		return filled
	}
	return hollow
}

// tint colours a verdict where colour is allowed: the last thing that tells it,
// after word, shape and place. Green, yellow and red of the eight that every
// colour terminal has, as the player has set them.
func (t *Terminal) tint(side string, sure bool, text string) string {
	if !t.Colour || t.Plain {
		return text
	}
	style := ansi.NewStyle()
	if sure {
		style = style.Bold()
	}
	switch side {
	case "inside":
		style = style.ForegroundColor(ansi.Green)
	case "above":
		style = style.ForegroundColor(ansi.Yellow)
	case "below":
		style = style.ForegroundColor(ansi.Red)
	default:
		return text
	}
	return style.Styled(text)
}

// verdicts are the readings of a reply that were judged, in order.
func verdicts(evs []bench.Event) []*bench.Said {
	var out []*bench.Said
	for _, e := range evs {
		if r, ok := e.Body.(bench.ReadingTaken); ok && r.Said != nil {
			out = append(out, r.Said)
		}
	}
	return out
}
