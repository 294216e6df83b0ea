package conform

import (
	"fmt"
	"strings"
)

// Result is how a check went.
type Result string

const (
	OK      Result = "ok"
	Failed  Result = "failed"
	Skipped Result = "skipped"
)

// Check is one thing asked of a plugin.
type Check struct {
	Name   string   `json:"check"`
	Asks   string   `json:"asks"`
	Result Result   `json:"result"`
	Seen   []string `json:"seen"`         // what was seen, or why it was skipped
	Do     string   `json:"do,omitempty"` // what to do where it failed
}

// Report is what was found out about a plugin. All texts are safe to show.
type Report struct {
	Program    string  `json:"program"`
	SHA256     string  `json:"sha256,omitempty"` // of the executable that was run
	Instrument string  `json:"instrument,omitempty"`
	Version    string  `json:"version,omitempty"` // the plugin's own words
	OK         bool    `json:"ok"`
	Checks     []Check `json:"checks"`
}

// Count says how many checks went this way.
func (r *Report) Count(how Result) int {
	n := 0
	for _, c := range r.Checks {
		if c.Result == how {
			n++
		}
	}
	return n
}

// Summary is the last line of a report.
func (r *Report) Summary() string {
	name := r.Instrument
	if name == "" {
		name = r.Program
	}
	s := fmt.Sprintf("%s: all %d checks passed", name, r.Count(OK))
	if n := r.Count(Failed); n > 0 {
		s = fmt.Sprintf("%s: %d of %d checks failed", name, n, len(r.Checks))
	}
	if n := r.Count(Skipped); n > 0 {
		s += fmt.Sprintf(", %d skipped", n)
	}
	return s
}

// String is the report as text, one check after the other.
func (r *Report) String() string {
	var b strings.Builder
	for _, c := range r.Checks {
		fmt.Fprintf(&b, "%-8s%s: %s\n", c.Result, c.Name, c.Asks)
		for _, s := range c.Seen {
			fmt.Fprintf(&b, "        %s\n", s)
		}
		if c.Do != "" {
			fmt.Fprintf(&b, "        do: %s\n", c.Do)
		}
	}
	b.WriteString(r.Summary() + "\n")
	return b.String()
}

// The checks, in the order of a report.
const (
	handshake   = "handshake"
	connection  = "connection"
	describe    = "introduction"
	inTime      = "time"
	answerSize  = "answer size"
	versions    = "versions"
	readable    = "readable"
	names       = "names"
	sources     = "sources"
	ranges      = "ranges"
	words       = "words"
	formulas    = "formulas"
	usable      = "usable"
	notFound    = "not found"
	unknown     = "unknown"
	stable      = "stable"
	cancel      = "cancel"
	ownSocket   = "own socket"
	memory      = "memory"
	stops       = "stop"
	quiet       = "quiet"
	hostGone    = "host gone"
	ownFolder   = "folder"
	throughHost = "host"
)

var asks = []struct{ name, what string }{
	{handshake, "the first line on standard output is the handshake, within the time for starting"},
	{connection, "it can be connected to, and both ends show their certificates"},
	{describe, "Describe gives a well-formed name, the wire number, and needs nothing the host cannot do"},
	{inTime, "every call is answered within its deadline"},
	{answerSize, "no answer is larger than the host takes"},
	{versions, "Describe, List and Get agree on name, major and minor version"},
	{readable, "every kind, unit, condition and grade is a known word"},
	{names, "names are well-formed, and none means two things"},
	{sources, "every dimension and remedy has a source, or says common practice"},
	{ranges, "least ≤ usual ≤ most in every plausible range"},
	{words, "title, datum, condition, way of reading and the pair of words are there, and no tool is misspelt"},
	{formulas, "formulas compile and yield the kind they should"},
	{usable, "nothing else keeps the set from being used"},
	{notFound, "a set it does not hold is NOT_FOUND"},
	{unknown, "fields and capabilities it cannot know are ignored"},
	{stable, "asked again, and started again, it answers byte for byte the same"},
	{cancel, "cancelled calls do not keep it from answering, and it rests afterwards"},
	{ownSocket, "it listens nowhere but where its handshake says"},
	{memory, "it stays within its memory"},
	{stops, "it ends soon after it is asked to, and leaves nothing running"},
	{quiet, "the handshake stands alone on standard output"},
	{hostGone, "it ends by itself when its host was killed"},
	{ownFolder, "it writes nothing into its folder"},
	{throughHost, "canewright itself takes the set"},
}
