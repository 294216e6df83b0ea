package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"canewright/cmd/internal/terminal"
	"canewright/engine/diagnostic"
	"canewright/engine/interview"
)

// sheetTalk shows questions and reads lines; what they mean is the
// interview's.
type sheetTalk struct {
	c     *commander
	iv    *interview.Interview
	lines []string
	where string
}

// talk asks until nothing more is asked, the answers end, or quit. The error
// is of an answer from a file that was refused.
func (s *sheetTalk) talk(ctx context.Context) (done bool, err error) {
	in := s.c.asker()
	s.c.wrap("", "One question at a time. Enter leaves it open, - goes one back, ? helps, quit stops.")
	read, again := 0, false
	for {
		q := s.iv.Ask(s.lines)
		if again {
			s.c.printf("> ")
		} else {
			s.show(q)
		}
		again = false
		if q.Done {
			return true, nil
		}
		line, err := in.line(ctx)
		switch {
		case errors.Is(err, errAtQuestion): // what was answered is kept
			return false, ctx.Err()
		case errors.Is(err, io.EOF):
			s.c.printf("\n")
			return false, nil
		}
		read++
		if err != nil && !errors.Is(err, terminal.ErrLongLine) {
			return false, fmt.Errorf("read the answer: %w", err)
		}
		if !s.c.sys.Typed {
			s.c.printf("%s\n", diagnostic.Clean(line))
		}
		switch strings.TrimSpace(line) {
		case interview.Quit:
			return false, nil
		case interview.Help:
			s.help(q)
			again = true
			continue
		}
		next, refused := s.lines, err
		if err == nil {
			next, refused = s.iv.Answer(s.lines, line)
		}
		if refused != nil {
			hint := ""
			if r, ok := refused.(*interview.Refusal); ok {
				hint = r.Hint
			}
			if !s.c.sys.Typed {
				return false, hinted{usageError{fmt.Errorf("make a recipe: line %d, %q: %w", read, diagnostic.Clean(line), refused)}, hint}
			}
			s.c.wrap("  ", sentence(refused.Error()))
			if hint != "" {
				s.c.wrap("  ", sentence(hint))
			}
			again = true
			continue
		}
		s.lines = next
	}
}

func sentence(s string) string {
	if s = diagnostic.Clean(upperFirst(s)); strings.HasSuffix(s, "?") {
		return s
	}
	return s + "."
}

func upperFirst(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' {
		return strings.ToUpper(s[:1]) + s[1:]
	}
	return s
}

// manyOffers fill a small screen.
const manyOffers = 20

func (s *sheetTalk) show(q interview.Question) {
	for _, l := range q.Said {
		s.c.wrap("  ", diagnostic.Clean(l))
	}
	if q.Done {
		return
	}
	if q.Where != s.where && q.Where != "" {
		s.c.printf("\n%s\n", upperFirst(diagnostic.Clean(q.Where)))
	}
	s.where = q.Where
	s.c.printf("\n")
	s.c.wrap("", diagnostic.Clean(q.Prompt))
	for i, o := range q.Offers {
		s.c.wrap(fmt.Sprintf("  %2d ", i+1), diagnostic.Clean(o))
	}
	if len(q.Offers) > manyOffers { // the question has gone off the screen
		s.c.wrap("", diagnostic.Clean(q.Prompt))
	}
	if q.Enter != "" {
		s.c.wrap("  Enter: ", q.Enter)
	}
	s.c.printf("> ")
}

func (s *sheetTalk) help(q interview.Question) {
	for _, l := range q.Help {
		s.c.wrap("  ", diagnostic.Clean(l))
	}
	s.c.wrap("", "Enter leaves it open; - goes one question back; quit stops, and what was answered is kept.")
}
