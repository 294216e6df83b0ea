package bench

import (
	"encoding/json"
	"fmt"
	"time"
)

// Subject is what an event is about: a tube, a piece, or the whole batch.
type Subject struct {
	Kind string `json:"kind"` // "batch", "tube" or "piece"
	ID   string `json:"id,omitempty"`
}

// The kinds of subject that have a place in the recipe of their own.
const (
	ofPiece = "piece"
	ofTube  = "tube"
)

var wholeBatch = Subject{Kind: "batch"}

// Whole reports whether the event is about the batch as a whole.
func (s Subject) Whole() bool { return s.Kind == "batch" }

// Head is common to all events. Cause is the seq of the first event of the
// answer it came from; taking an answer back takes back its whole cause.
type Head struct {
	Seq     uint64    `json:"seq"`
	Cause   uint64    `json:"cause"`
	At      time.Time `json:"at"`      // when it happened
	Entered time.Time `json:"entered"` // when it was typed
	Zone    string    `json:"zone,omitempty"`
	Session string    `json:"session,omitempty"`
	Who     string    `json:"who,omitempty"`
	Subject Subject   `json:"subject"`
	Stage   string    `json:"stage,omitempty"`
	Visit   int       `json:"visit,omitempty"`
}

// Event is one thing that happened, in the past tense.
type Event struct {
	Head
	Body Body
}

// Body is the part of an event that differs by kind: plain data.
type Body interface{ Kind() string }

type (
	// BatchStarted opens a batch.
	BatchStarted struct {
		Recipe  string `json:"recipe"`
		Version int    `json:"version"`
		Pieces  int    `json:"pieces"`
		Tubes   int    `json:"tubes,omitempty"`
	}
	// SessionOpened begins an evening at the bench; notes repeat by it.
	SessionOpened struct {
		ID string `json:"id"`
	}
	// SessionClosed ends it: the player left on purpose. A program that was
	// killed left no such event, and goes on in the same session.
	SessionClosed struct{}
	// PieceAdded puts a piece, or a tube where the subject is one, at its first
	// stage, or at the stage At for one that was begun elsewhere. A piece split
	// from a tube keeps what was read of the tube.
	PieceAdded struct {
		Mark   string `json:"mark"`
		Number int    `json:"number"` // of its kind, from 1
		Tube   string `json:"tube,omitempty"`
		At     string `json:"at,omitempty"` // stage key
	}
	// NoteAcknowledged records that a safety note was answered.
	NoteAcknowledged struct {
		ID       string `json:"id"`
		Revision int    `json:"revision"`
		Signal   string `json:"signal"`
		Answer   string `json:"answer"`
		Piece    string `json:"piece,omitempty"` // DANGER is answered for each piece
	}
	// ReadingTaken is one number read off one tool, as typed.
	ReadingTaken struct {
		Slot      string `json:"slot"`
		Text      string `json:"text"`
		Unit      string `json:"unit"`
		Bare      bool   `json:"bare,omitempty"`
		Step      int64  `json:"step"`
		Q         int64  `json:"q"`
		Tool      string `json:"tool,omitempty"`
		Condition string `json:"condition,omitempty"`
		Repeat    int    `json:"repeat"`
		Said      *Said  `json:"said,omitempty"` // nil while repeats are missing or no target is in force
	}
	// Said is a verdict as it was said. JSON has no infinity: Freedom is left out.
	Said struct {
		Side        string  `json:"side"`
		OnLimit     bool    `json:"on_limit,omitempty"`
		Probability float64 `json:"probability"`
		Sure        bool    `json:"sure"`
		Coarse      bool    `json:"coarse,omitempty"`
		More        int     `json:"more,omitempty"`
		N           int     `json:"n"`
		Sentence    string  `json:"sentence"`
		Target      string  `json:"target"`
		U           int64   `json:"u,omitempty"`       // standard uncertainty, quanta
		Scatter     int64   `json:"scatter,omitempty"` // its part from the readings' scatter
		Tool        int64   `json:"tool,omitempty"`    // its part from step and tool
	}
	// Settled closes the measurement of one slot at this visit: what rules use
	// from here on. Side is empty where no target is in force.
	Settled struct {
		Slot     string `json:"slot"`
		Sum      int64  `json:"sum"`
		N        int    `json:"n"`
		Side     string `json:"side,omitempty"`
		Sure     bool   `json:"sure"`
		Accepted bool   `json:"accepted,omitempty"` // the player let an unsure one stand
		Passed   bool   `json:"passed,omitempty"`   // the player took it as right though its side is outside
		Kept     bool   `json:"kept,omitempty"`     // the readings of an earlier visit count
		Do       string `json:"do,omitempty"`       // what the recipe says to do although the piece goes on
	}
	// Skipped leaves a measurement, a look or a stage's work out.
	Skipped struct {
		What string `json:"what"`
		Slot string `json:"slot,omitempty"`
		Why  string `json:"why,omitempty"`
	}
	// RuleJudged records a formula, its inputs and its result, as said.
	RuleJudged struct {
		That    string   `json:"that"`
		Inputs  []string `json:"inputs,omitempty"`
		Missing []string `json:"missing,omitempty"`
		Holds   bool     `json:"holds"`
		Said    string   `json:"said,omitempty"`
		// How sure it is: the probability that it holds (JCGM 106), and what would
		// settle it where that is not enough.
		Probability float64 `json:"probability,omitempty"`
		Sure        bool    `json:"sure,omitempty"`
		Advice      string  `json:"advice,omitempty"`
	}
	// Done answers a stage that only says do.
	Done struct{}
	// Looked is what the eye or ear found.
	Looked struct {
		Question string   `json:"question"`
		Answers  []string `json:"answers"`
		Do       string   `json:"do,omitempty"` // as in Settled
	}
	// WaitBegun and WaitEnded bracket a rest. A wait is never a gate: Early
	// says it was ended before its least time, Why what the player gave as the
	// reason, if any.
	WaitBegun struct{}
	WaitEnded struct {
		Stage string `json:"stage"`
		Early bool   `json:"early,omitempty"`
		Why   string `json:"why,omitempty"`
	}
	// PieceMoved is the only way a piece changes its place.
	PieceMoved struct {
		How string `json:"how"`
		To  string `json:"to,omitempty"` // stage key; empty when the recipe is finished
		Do  string `json:"do,omitempty"`
		Why string `json:"why,omitempty"`
	}
	// TubeSplit says how many pieces came out of a tube.
	TubeSplit struct {
		Pieces int `json:"pieces"`
	}
	// Chosen is what is really used, or the condition the cane really is in, for
	// this piece at this visit of the stage.
	Chosen struct {
		What    string `json:"what"` // "tool", "material" or "condition"
		Instead string `json:"instead,omitempty"`
		Name    string `json:"name"`
		Known   bool   `json:"known"`
		At      string `json:"stage"` // stage key
	}
	// StrokesMade counts strokes of the knife or file and where they went.
	StrokesMade struct {
		N     int    `json:"n"`
		Where string `json:"where,omitempty"`
	}
	// ValueCorrected puts a reading right. It moves nothing; Said is the verdict
	// of the visit's readings with the new value, Changes what else would have
	// come out differently.
	ValueCorrected struct {
		Slot    string   `json:"slot"`
		At      string   `json:"stage"` // stage key of the reading
		On      int      `json:"on"`    // its visit
		Repeat  int      `json:"repeat"`
		Was     string   `json:"was"` // as typed then
		Text    string   `json:"text"`
		Unit    string   `json:"unit"`
		Bare    bool     `json:"bare,omitempty"`
		Step    int64    `json:"step"`
		Q       int64    `json:"q"`
		Said    *Said    `json:"said,omitempty"`
		WasSaid string   `json:"was_said,omitempty"`
		Changes []string `json:"changes,omitempty"`
	}
	// SymptomsNoted is what a player says is wrong: names of symptoms.
	SymptomsNoted struct {
		Symptoms []string `json:"symptoms"`
		At       string   `json:"stage"`
	}
	// RemedyTried says that a remedy is tried, RemedyJudged whether it helped:
	// "yes" or "no".
	RemedyTried struct {
		Name string `json:"name"`
		Do   string `json:"do"`
		At   string `json:"stage"`
	}
	RemedyJudged struct {
		Name   string `json:"name"`
		Helped string `json:"helped"`
	}
	// Remark is the player's own words.
	Remark struct {
		Text string `json:"text"`
	}
	// AnswerTakenBack removes all events of a cause from the fold.
	AnswerTakenBack struct {
		Cause uint64 `json:"cause"`
	}
	// BatchClosed ends a batch.
	BatchClosed struct{}
)

func (BatchStarted) Kind() string     { return "batch started" }
func (SessionOpened) Kind() string    { return "session opened" }
func (SessionClosed) Kind() string    { return "session closed" }
func (PieceAdded) Kind() string       { return "piece added" }
func (NoteAcknowledged) Kind() string { return "note acknowledged" }
func (ReadingTaken) Kind() string     { return "reading taken" }
func (Settled) Kind() string          { return "settled" }
func (Skipped) Kind() string          { return "skipped" }
func (RuleJudged) Kind() string       { return "rule judged" }
func (Done) Kind() string             { return "done" }
func (Looked) Kind() string           { return "looked" }
func (WaitBegun) Kind() string        { return "wait begun" }
func (WaitEnded) Kind() string        { return "wait ended" }
func (PieceMoved) Kind() string       { return "piece moved" }
func (TubeSplit) Kind() string        { return "tube split" }
func (Chosen) Kind() string           { return "setting chosen" }
func (StrokesMade) Kind() string      { return "strokes made" }
func (ValueCorrected) Kind() string   { return "value corrected" }
func (SymptomsNoted) Kind() string    { return "symptoms noted" }
func (RemedyTried) Kind() string      { return "remedy tried" }
func (RemedyJudged) Kind() string     { return "remedy judged" }
func (Remark) Kind() string           { return "remark" }
func (AnswerTakenBack) Kind() string  { return "answer taken back" }
func (BatchClosed) Kind() string      { return "batch closed" }

// DecodeBody reads the JSON of a body of this kind.
func DecodeBody(kind string, data []byte) (Body, error) {
	switch kind {
	case "batch started":
		return decode[BatchStarted](data)
	case "session opened":
		return decode[SessionOpened](data)
	case "session closed":
		return SessionClosed{}, nil
	case "piece added":
		return decode[PieceAdded](data)
	case "note acknowledged":
		return decode[NoteAcknowledged](data)
	case "reading taken":
		return decode[ReadingTaken](data)
	case "settled":
		return decode[Settled](data)
	case "skipped":
		return decode[Skipped](data)
	case "rule judged":
		return decode[RuleJudged](data)
	case "done":
		return Done{}, nil
	case "looked":
		return decode[Looked](data)
	case "wait begun":
		return WaitBegun{}, nil
	case "wait ended":
		return decode[WaitEnded](data)
	case "piece moved":
		return decode[PieceMoved](data)
	case "tube split":
		return decode[TubeSplit](data)
	case "setting chosen":
		return decode[Chosen](data)
	case "strokes made":
		return decode[StrokesMade](data)
	case "value corrected":
		return decode[ValueCorrected](data)
	case "symptoms noted":
		return decode[SymptomsNoted](data)
	case "remedy tried":
		return decode[RemedyTried](data)
	case "remedy judged":
		return decode[RemedyJudged](data)
	case "remark":
		return decode[Remark](data)
	case "answer taken back":
		return decode[AnswerTakenBack](data)
	case "batch closed":
		return BatchClosed{}, nil
	}
	return nil, fmt.Errorf("read event: unknown kind %q, written by a newer version", kind)
}

func decode[T Body](data []byte) (Body, error) {
	var b T
	err := json.Unmarshal(data, &b)
	return b, err
}
