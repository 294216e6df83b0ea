package session

import (
	"strings"
	"time"

	"canewright/engine/bench"
)

// when takes the time from a line that is entered later: "@19:40" alone sets it
// for the lines behind it, "7 @19:40 1.31" says it of one. Elsewhere, and
// without such a word, it is now. A zero moment and no text: only the time was
// set.
func (s *Session) when(text string) (bench.Moment, string, error) {
	now := s.moment()
	if !s.later {
		return now, text, nil
	}
	words := strings.Fields(text)
	for i, w := range words {
		if !strings.HasPrefix(w, "@") {
			continue
		}
		spec, n := w[1:], 1
		if i+1 < len(words) && !strings.Contains(spec, ":") && clockLike(words[i+1]) {
			spec, n = spec+" "+words[i+1], 2 // @yesterday 19:40, @2026-11-24 19:40
		}
		at, err := s.instant(spec)
		if err != nil {
			return now, "", err
		}
		rest := strings.Join(append(append([]string{}, words[:i]...), words[i+n:]...), " ")
		if rest == "" {
			s.at = at
			return bench.Moment{}, "", nil
		}
		return s.happened(at), rest, nil
	}
	if s.at.IsZero() {
		return now, text, nil
	}
	return s.happened(s.at), text, nil
}

// clockLike: "19:40".
func clockLike(w string) bool {
	_, err := time.Parse("15:04", w)
	return err == nil
}

// instant reads "19:40", "yesterday 19:40", "2026-11-24 19:40" or "now" in the
// zone of the bench.
func (s *Session) instant(spec string) (time.Time, error) {
	now := s.out.Now()
	day, text := now, spec
	if word, rest, ok := strings.Cut(spec, " "); ok {
		text = rest
		if strings.EqualFold(word, "yesterday") {
			day = now.AddDate(0, 0, -1)
		} else if d, err := time.ParseInLocation(time.DateOnly, word, now.Location()); err == nil {
			day = d
		} else {
			text = "?"
		}
	}
	if strings.EqualFold(spec, "now") {
		return time.Time{}, nil
	}
	c, err := time.Parse("15:04", text)
	if err != nil {
		return time.Time{}, &bench.Refusal{Message: "This is no time: @" + clipped(spec) + ".", Hint: "Write @19:40, @yesterday 19:40, or @2026-11-24 19:40."}
	}
	at, err := onTheDay(day, c)
	if err != nil {
		return time.Time{}, err
	}
	if first, _ := alike(at); at.After(now) {
		at = first // of the two, the one that has been
	}
	switch {
	case !at.After(now):
	case text != spec && !strings.HasPrefix(strings.ToLower(spec), "yesterday"):
		return time.Time{}, &bench.Refusal{Message: at.Format("2006-01-02 15:04") + " is still to come.", Hint: "Write a day that has been: @" + now.Format(time.DateOnly) + " " + at.Format("15:04") + "."}
	default:
		return time.Time{}, &bench.Refusal{Message: at.Format("15:04") + " is still to come.", Hint: "If it was last night: @yesterday " + at.Format("15:04") + "."}
	}
	return at, nil
}

// onTheDay is a time of day on a day, as the clock on the wall showed it. Where
// clocks are put back it shows an hour twice: that is the later one. Where they
// are put forward it leaves one out.
func onTheDay(day, c time.Time) (time.Time, error) {
	at := time.Date(day.Year(), day.Month(), day.Day(), c.Hour(), c.Minute(), 0, 0, day.Location())
	if at.Hour() != c.Hour() || at.Minute() != c.Minute() {
		return at, &bench.Refusal{Message: "No clock showed " + c.Format("15:04") + " on " + day.Format(time.DateOnly) + ": it was put forward.", Hint: "Write what the clock showed, before or after."}
	}
	_, at = alike(at)
	return at, nil
}

// alike are the moments that the clock on the wall shows as it shows at, where
// it was put back: an hour, or half or twice that somewhere. Mostly both are at.
func alike(at time.Time) (first, second time.Time) {
	first, second = at, at
	for _, back := range []time.Duration{30 * time.Minute, time.Hour, 2 * time.Hour} {
		if t := at.Add(-back); t.Format(time.DateTime) == at.Format(time.DateTime) {
			first = t
		}
		if t := at.Add(back); t.Format(time.DateTime) == at.Format(time.DateTime) {
			second = t
		}
	}
	return first, second
}

// happened is a moment of the past, entered now.
func (s *Session) happened(at time.Time) bench.Moment {
	m := s.moment()
	m.Entered = m.At
	if !at.IsZero() {
		m.At = at.Truncate(time.Millisecond).UTC()
		m.Zone = at.Format("-07:00 MST")
	}
	return m
}

func (s *Session) timeSaid() string {
	if s.at.IsZero() {
		return "The lines from here on happen now."
	}
	said := "The lines from here on happened " + s.at.Format("2006-01-02") + " at " + s.at.Format("15:04")
	switch first, second := alike(s.at); {
	case first.Before(s.at):
		said += ", the second time the clock showed it"
	case second.After(s.at):
		said += ", the first time the clock showed it"
	}
	return said + "."
}

func clipped(s string) string {
	if r := []rune(s); len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return s
}
