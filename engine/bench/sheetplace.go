package bench

import (
	"slices"
	"strings"
)

// whereabouts is a place on a blade as a player names it behind the strokes:
// "left rail A", "rails A", "tip". known is false where neither a lane, the tip
// nor a station is named: such strokes may have gone anywhere.
type whereabouts struct {
	known   bool
	blades  []string // none: no blade is named
	lanes   []string // none: across the whole width
	side    string   // "left", "right": a lane read as one has them
	station string   // "9", without its unit
	tip     bool
}

// whereOn reads a place with the words of a grid.
func whereOn(blades, lanes []string, text string) whereabouts {
	var at whereabouts
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return strings.ContainsRune(" ,;+&/()", r) })
	as := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;+&/()", r) })
	for i := 0; i < len(words); {
		if n, lane := laneAt(lanes, words[i:]); n > 0 {
			at.lanes, at.known = append(at.lanes, lane), true
			i += n
			continue
		}
		w := words[i]
		switch {
		case w == "left" || w == "right":
			if at.side != "" && at.side != w {
				at.side = "both"
			} else {
				at.side = w
			}
		case w == "tip":
			at.tip, at.known = true, true
		case w == "both" && i+1 < len(words) && words[i+1] == "blades":
			at.blades = append(at.blades, blades...)
		case w[0] >= '0' && w[0] <= '9' && at.station == "":
			at.station, at.known = bareStation(strings.ReplaceAll(w, ",", ".")), true
		default:
			for _, b := range blades {
				// "a" in the middle is a word of its own: "a rail".
				if strings.EqualFold(b, w) && (as[i] == b || i == len(words)-1 || i > 0 && words[i-1] == "blade") && !slices.Contains(at.blades, b) {
					at.blades = append(at.blades, b)
				}
			}
		}
		i++
	}
	return at
}

// laneAt finds the lane that words begin with, the longest first; a lane may be
// said in the singular.
func laneAt(lanes, words []string) (n int, lane string) {
	for _, l := range lanes {
		parts := strings.Fields(strings.ToLower(l))
		if len(parts) <= n || len(parts) > len(words) {
			continue
		}
		if slices.EqualFunc(parts, words[:len(parts)], func(a, b string) bool { return a == b || strings.TrimSuffix(a, "s") == strings.TrimSuffix(b, "s") }) {
			n, lane = len(parts), l
		}
	}
	return n, lane
}

// bareStation is a station without its unit: "9" of "9 mm" and of "9mm".
func bareStation(text string) string {
	if i := strings.IndexFunc(text, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != '/' }); i > 0 {
		text = text[:i]
	}
	return text
}
