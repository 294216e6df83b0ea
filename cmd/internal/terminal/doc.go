// Package terminal is the line-by-line face: it shows a question, reads a
// line, hands it to the session, and shows the next. It never rounds, judges or
// decides. It paints no full screen, so it works with screen readers, pipes and
// wet hands.
//
// A Keyboard reads a real terminal key by key, for calipers that type and pedals
// that turn pages; a LineReader reads anything else. Pictures (a number line, a
// blade) say nothing that the words do not say, and Plain leaves them out.
package terminal
