package review

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"time"

	"canewright/engine/bench"
)

// Format and Version are those of an export's JSON lines. The version rises when
// a line changes its meaning; that a key comes in addition is no such change.
const (
	Format  = "canewright export"
	Version = 1
)

// Bounds of a file. A batch of twelve pieces has some 2,000 events and 1 MiB.
const (
	MostBytes   = 64 << 20
	mostLine    = 16 << 20
	mostEvents  = 100_000
	mostBatches = 200
	mostPieces  = 1_000
)

// Record is one batch as it was exported: the snapshot it was begun with, and
// every event.
type Record struct {
	Name, Title        string
	Started            time.Time
	RecipeName         string // the file's name, where it was begun
	Recipe, Set, Notes []byte
	Events             []bench.Event
}

// LineError is a line of an export that cannot be used. Line counts from 1.
type LineError struct {
	Line    int
	Message string
	Hint    string
}

func (e *LineError) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Message) }

// line is any line of an export; the keys of all kinds are apart.
type line struct {
	Format     string          `json:"format"`
	Version    int             `json:"version"`
	Is         string          `json:"is"`
	Batch      string          `json:"batch"`
	Title      string          `json:"title"`
	Started    time.Time       `json:"started"`
	RecipeName string          `json:"recipe_name"`
	Recipe     string          `json:"recipe_sha256"`
	Set        string          `json:"dimensions_sha256"`
	Notes      string          `json:"notes_sha256"`
	SHA256     string          `json:"sha256"`
	Text       *string         `json:"text"`
	Base64     *string         `json:"base64"`
	Kind       string          `json:"kind"`
	Body       json.RawMessage `json:"body"`
	Events     int             `json:"events"`
	bench.Head
}

// reader keeps what was read so far.
type reader struct {
	at    int
	kept  map[string][]byte
	heads map[string]bool
	open  *line // head of the batch being read
	now   Record
	all   []Record
	count int
}

const damaged = "the file was changed or cut off on its way; ask for it again"

func (r *reader) fault(hint, format string, a ...any) error {
	return &LineError{r.at, fmt.Sprintf(format, a...), hint}
}

// Read reads an export in JSON lines. The error is a *LineError, or that of
// reading.
func Read(in io.Reader) ([]Record, error) {
	r := &reader{kept: map[string][]byte{}, heads: map[string]bool{}}
	limited := &io.LimitedReader{R: in, N: MostBytes + 1}
	s := bufio.NewScanner(limited)
	s.Buffer(nil, mostLine)
	for s.Scan() {
		r.at++
		if len(bytes.TrimSpace(s.Bytes())) == 0 {
			continue
		}
		if err := r.line(s.Bytes()); err != nil {
			return nil, err
		}
	}
	r.at++
	switch err := s.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return nil, r.fault("this is no export of canewright", "the line is longer than %d MiB", mostLine>>20)
	case err != nil:
		return nil, err
	case limited.N <= 0:
		return nil, r.fault("export fewer batches at a time", "the file is larger than %d MiB", MostBytes>>20)
	case r.open != nil:
		return nil, r.fault(damaged, "the file ends before batch %q does", clip(r.open.Batch))
	case len(r.all) == 0:
		return nil, r.fault("make one with: canewright export BATCH > FILE", "there is no batch in this file")
	}
	return r.all, nil
}

func (r *reader) line(data []byte) error {
	var l line
	if err := json.Unmarshal(data, &l); err != nil {
		return r.fault(orElse(r.at == 1, "this is no export; make one with: canewright export BATCH > FILE", damaged), "it is no line of an export: %s", shortly(err))
	}
	switch l.Is {
	case "batch":
		return r.head(l)
	case "kept":
		return r.keep(l)
	case "event":
		return r.event(l)
	case "end":
		return r.end(l)
	}
	return r.fault("this is no export; make one with: canewright export BATCH > FILE", "nobody knows what %q is here", clip(l.Is))
}

func (r *reader) head(l line) error {
	switch {
	case l.Format != Format:
		return r.fault("make one with: canewright export BATCH > FILE", "this is no export of canewright")
	case l.Version != Version:
		return r.fault("update canewright, or ask for an export of version 1", "this export is of version %d, and version %d is read here", l.Version, Version)
	case r.open != nil:
		return r.fault(damaged, "batch %q begins before batch %q ends", clip(l.Batch), clip(r.open.Batch))
	case l.Batch == "" || r.heads[l.Batch]:
		return r.fault(damaged, "the batch has no name of its own")
	case len(r.all) >= mostBatches:
		return r.fault("export fewer batches at a time", "there are more than %d batches in this file", mostBatches)
	}
	r.heads[l.Batch] = true
	r.open = &l
	r.now = Record{Name: l.Batch, Title: l.Title, Started: l.Started, RecipeName: l.RecipeName}
	return nil
}

func (r *reader) keep(l line) error {
	var data []byte
	switch {
	case l.Text != nil:
		data = []byte(*l.Text)
	case l.Base64 != nil:
		var err error
		if data, err = base64.StdEncoding.DecodeString(*l.Base64); err != nil {
			return r.fault(damaged, "a file kept with a batch cannot be read")
		}
	}
	sum := sha256.Sum256(data)
	if hex.EncodeToString(sum[:]) != l.SHA256 {
		return r.fault(damaged, "a file kept with a batch does not match its checksum")
	}
	r.kept[l.SHA256] = data
	return nil
}

func (r *reader) event(l line) error {
	if r.open == nil || l.Batch != r.open.Batch {
		return r.fault(damaged, "an event of batch %q stands outside it", clip(l.Batch))
	}
	if r.count++; r.count > mostEvents {
		return r.fault("export fewer batches at a time", "there are more than %d events in this file", mostEvents)
	}
	if want := uint64(len(r.now.Events) + 1); l.Seq != want {
		return r.fault(damaged, "event %d stands where %d should be", l.Seq, want)
	}
	if l.Cause == 0 || l.Cause > l.Seq {
		return r.fault(damaged, "event %d has no cause before it", l.Seq)
	}
	if l.At.IsZero() || l.At.Year() < 1900 || l.At.Year() > 2200 || l.Entered.Year() < 1900 || l.Entered.Year() > 2200 {
		return r.fault(damaged, "event %d has no time that can be", l.Seq)
	}
	body, err := bench.DecodeBody(l.Kind, l.Body)
	if err != nil {
		return r.fault("if a newer version of canewright wrote it, update; else "+damaged, "event %d cannot be read: %s", l.Seq, shortly(err))
	}
	r.now.Events = append(r.now.Events, bench.Event{Head: l.Head, Body: body})
	return nil
}

func (r *reader) end(l line) error {
	if r.open == nil || l.Batch != r.open.Batch {
		return r.fault(damaged, "batch %q ends, and has not begun", clip(l.Batch))
	}
	if l.Events != len(r.now.Events) {
		return r.fault(damaged, "batch %q has %d events here, and had %d when it was exported", clip(l.Batch), len(r.now.Events), l.Events)
	}
	for _, k := range []struct {
		what, sum string
		into      *[]byte
	}{{"recipe", r.open.Recipe, &r.now.Recipe}, {"dimensions", r.open.Set, &r.now.Set}, {"notes", r.open.Notes, &r.now.Notes}} {
		data, ok := r.kept[k.sum]
		if !ok {
			return r.fault(damaged, "the %s batch %q was begun with are not in this file", k.what, clip(l.Batch))
		}
		*k.into = data
	}
	r.all = append(r.all, r.now)
	r.open = nil
	return nil
}

func orElse(yes bool, a, b string) string {
	if yes {
		return a
	}
	return b
}

// shortly keeps what a decoder quotes of a stranger's file short.
func shortly(err error) string { return clip(err.Error()) }

func clip(s string) string {
	if r := []rune(s); len(r) > 80 {
		return string(r[:80]) + "…"
	}
	return s
}
