package review

import (
	"time"
)

// Review is what was done in one batch. Lists are in the order in which things
// were done, but for the deviations: the largest first.
type Review struct {
	Batch   string    `json:"batch"`
	Title   string    `json:"title"`
	Recipe  string    `json:"recipe"`
	Version int       `json:"version"`
	Author  string    `json:"author,omitempty"` // as the recipe says
	Digest  string    `json:"recipe_sha256"`    // recipe.Digest of the text it was begun with
	Started time.Time `json:"started"`
	Last    time.Time `json:"last"`
	Zone    string    `json:"zone,omitempty"` // of the last event
	Who     []string  `json:"who,omitempty"`  // names given at the bench
	Closed  bool      `json:"closed"`
	Events  int       `json:"events"`

	Pieces     []Piece     `json:"pieces"`
	Judged     int         `json:"judged"`  // readings that were held against a target
	Outside    int         `json:"outside"` // of them
	Deviations []Deviation `json:"deviations"`
	LeftOut    []LeftOut   `json:"left_out"`
	NotReached []Ahead     `json:"not_reached"`
	Before     []Ahead     `json:"begun_elsewhere"`
	Waits      []Wait      `json:"waits_cut_short"`
	Unsure     []Unsure    `json:"unsure_accepted"`
	Other      []Other     `json:"other_tools"`
	Wet        []Wet       `json:"other_condition"`
	Rules      []Rule      `json:"rules_not_kept"`
	NotJudged  int         `json:"rules_not_judged"` // something was not measured
	Corrected  []Corrected `json:"corrected"`
	TakenBack  int         `json:"taken_back"` // answers
	Notes      []Note      `json:"notes_answered"`
	Remarks    []Remark    `json:"remarks"`
}

// Subjects are the pieces or tubes an entry is about: "piece 3", "pieces 1-4".
type Subjects struct {
	Kind  string   `json:"kind"` // "piece" or "tube"
	Marks []string `json:"marks"`
}

// Piece is what became of one piece or tube.
type Piece struct {
	Kind  string    `json:"kind"`
	Mark  string    `json:"mark"`
	Tube  string    `json:"tube,omitempty"`
	Place string    `json:"place"` // as at the bench: "finished", "set aside" …
	Stage string    `json:"stage,omitempty"`
	Since time.Time `json:"since"`
	Why   string    `json:"why,omitempty"`
	Split int       `json:"split_into,omitempty"`
}

// Deviation is one reading, or several of one thing at one visit, against its
// target.
type Deviation struct {
	Subjects
	Stage    string   `json:"stage"`
	Visit    int      `json:"visit"`
	Slot     string   `json:"slot"`
	Title    string   `json:"title"`
	Readings []string `json:"readings"`        // as typed, corrected where they were
	Typed    []string `json:"typed,omitempty"` // as typed at first, where a correction put them right
	Mean     string   `json:"mean,omitempty"`  // of several
	Target   string   `json:"target"`          // as written
	Halves   float64  `json:"half_widths"`     // Measure
	Side     string   `json:"side"`            // "inside", "above" or "below"
	Word     string   `json:"word"`            // "too thick", "inside"
	Sure     bool     `json:"sure"`            // as it was said then
	Said     bool     `json:"said"`            // a verdict was said at all: all repeats were there
	Tool     string   `json:"tool,omitempty"`  // read with
	OnLimit  bool     `json:"on_limit"`        // which is inside
	seq      uint64   // of the last reading
	cause    uint64
}

// LeftOut is a measurement, a look or a stage's work that was skipped.
type LeftOut struct {
	Subjects
	Stage string `json:"stage"`
	What  string `json:"what"` // "measurement", "look" or "work"
	Title string `json:"title,omitempty"`
	Why   string `json:"why,omitempty"`
}

// Ahead are stages a piece has not come to, or did not go through here.
type Ahead struct {
	Subjects
	Stage  string `json:"stage"`  // the first of them, or the one it was taken up at
	Stages int    `json:"stages"` // how many
	Place  string `json:"place,omitempty"`
}

// Wait is a wait that was shorter than the recipe has it. Times in ms.
type Wait struct {
	Subjects
	Stage   string `json:"stage"`
	Took    int64  `json:"took_ms"`
	Least   int64  `json:"least_ms,omitempty"`
	Usual   int64  `json:"usual_ms,omitempty"`
	Asked   string `json:"asked"` // as written: "at least 2 h"
	Short   int64  `json:"short_by_ms"`
	AtLeast bool   `json:"under_least"` // else only under what is usual
	Why     string `json:"why,omitempty"`
}

// Unsure is a reading that was accepted though the verdict was unsure, or
// outside and taken as right.
type Unsure struct {
	Subjects
	Stage    string   `json:"stage"`
	Title    string   `json:"title"`
	Readings []string `json:"readings"`
	Target   string   `json:"target"`
	Side     string   `json:"side"`
	Passed   bool     `json:"taken_as_right"` // else let stand
}

// Other is a tool or material that is not the recipe's.
type Other struct {
	Subjects
	Stage    string `json:"stage"`
	Title    string `json:"title,omitempty"` // of what was read with it
	Instead  string `json:"instead_of,omitempty"`
	Used     string `json:"used"`
	Unknown  bool   `json:"unknown,omitempty"` // no note could be chosen for it
	Readings int    `json:"readings,omitempty"`
}

// Wet is a reading taken of wet cane where dry is asked, or the other way.
type Wet struct {
	Subjects
	Stage    string `json:"stage"`
	Title    string `json:"title"`
	Was      string `json:"was"`
	Asked    string `json:"asked"`
	Readings int    `json:"readings"`
}

// Rule is a rule that did not hold, and what came of it.
type Rule struct {
	Subjects
	Stage string   `json:"stage"`
	That  string   `json:"that"`
	With  []string `json:"with,omitempty"`
	Said  string   `json:"said,omitempty"`
	Then  string   `json:"then,omitempty"`
	// NotJudged: it was left open, as Said tells: wet and dry readings together.
	NotJudged bool `json:"not_judged,omitempty"`
}

// Corrected is a reading that was put right later.
type Corrected struct {
	Subjects
	Stage   string   `json:"stage"`
	Title   string   `json:"title"`
	Was     string   `json:"was"`
	Now     string   `json:"now"`
	Changes []string `json:"changes,omitempty"`
}

// Note is a safety note and how it was answered.
type Note struct {
	ID      string   `json:"id"`
	Signal  string   `json:"signal"`
	Times   int      `json:"times"`
	Answers []string `json:"answers"` // different ones, as typed
	Stages  []string `json:"stages"`
}

// Remark is the pupil's own words.
type Remark struct {
	Subjects
	Stage string `json:"stage,omitempty"`
	Text  string `json:"text"`
}
