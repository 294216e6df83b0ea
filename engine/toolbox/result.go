package toolbox

// Verdict says what becomes of one line of a recipe on somebody else's tools.
type Verdict string

const (
	// Carries: it is as good there as here.
	Carries Verdict = "carries over"
	// Changes: Now takes its place.
	Changes Verdict = "changes"
	// Unknown: neither can be said; Ask tells what would have to be known.
	Unknown Verdict = "cannot be known"
	// Breaks: a rule that these tools cannot keep as they are.
	Breaks Verdict = "cannot be kept"
)

// Kinds of lines.
const (
	OfSetting = "setting"
	OfTarget  = "target"
	OfRule    = "rule"
)

// Entry is one setting, target or rule of a recipe and what becomes of it.
type Entry struct {
	Stage   string  `json:"stage,omitempty"` // as written; empty: the recipe's own
	Name    string  `json:"name"`            // the setting, the dimension, or the rule as written
	Title   string  `json:"title,omitempty"` // of the dimension
	What    string  `json:"what"`            // OfSetting, OfTarget or OfRule
	Was     string  `json:"was"`             // as written
	Verdict Verdict `json:"verdict"`
	// Now is what may stand in the recipe in the place of Was, in its unit; only
	// of Changes. Also is the same in the other of mm and in.
	Now string `json:"now,omitempty"`
	// Typed is Now as the player wrote it, in its own unit; only of a setting that
	// is the number of a tool.
	Typed  string `json:"typed,omitempty"`
	Also   string `json:"also,omitempty"`
	Change string `json:"change,omitempty"` // by how much
	// Why is the chain of the sum, a link each.
	Why []string `json:"why,omitempty"`
	// Uncertain is how well the change is known.
	Uncertain string   `json:"uncertain,omitempty"`
	Note      string   `json:"note,omitempty"` // what to keep in mind all the same
	Ask       []string `json:"ask,omitempty"`  // what to measure, and what to ask the author
	Line      int      `json:"line,omitempty"` // in the recipe's file
}

// Result is what becomes of a whole recipe, in the order of its file.
type Result struct {
	Entries []Entry `json:"entries"`
	// States are the numbers of tools the recipe states, by name, as written.
	States map[string]string `json:"states"`
}

// Count is how many entries have a verdict.
func (r Result) Count(v Verdict) int {
	n := 0
	for _, e := range r.Entries {
		if e.Verdict == v {
			n++
		}
	}
	return n
}
