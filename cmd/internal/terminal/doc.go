// Package terminal is the line-by-line face: it shows a question, reads a
// line, hands it to the session, and shows the next. It never rounds, judges or
// decides. It paints no full screen, so it works with screen readers, pipes and
// wet hands.
package terminal
