package cli

import (
	"bufio"
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strconv"
	"time"
	"unicode/utf8"

	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/logbook"
	"canewright/engine/review"
)

// Format and version of the JSON lines; they are read there.
const (
	exportFormat  = review.Format
	exportVersion = review.Version
)

type exportHead struct {
	Format     string `json:"format"`
	Version    int    `json:"version"`
	Is         string `json:"is"` // "batch"
	Batch      string `json:"batch"`
	Title      string `json:"title"`
	Started    string `json:"started"`
	RecipeName string `json:"recipe_name"`
	Recipe     string `json:"recipe_sha256"`
	Set        string `json:"dimensions_sha256"`
	Notes      string `json:"notes_sha256"`
}

// exportKept is a file kept with a batch; it is written once, under the first
// batch that has it.
type exportKept struct {
	Is     string  `json:"is"` // "kept"
	SHA256 string  `json:"sha256"`
	Text   *string `json:"text,omitempty"`
	Base64 *string `json:"base64,omitempty"` // for what is no UTF-8
}

type exportEvent struct {
	Is        string          `json:"is"` // "event"
	Batch     string          `json:"batch"`
	Seq       uint64          `json:"seq"`
	Cause     uint64          `json:"cause"`
	Kind      string          `json:"kind"`
	TakenBack bool            `json:"taken_back,omitempty"`
	At        string          `json:"at"`
	Entered   string          `json:"entered"`
	Zone      string          `json:"zone,omitempty"`
	Session   string          `json:"session,omitempty"`
	Who       string          `json:"who,omitempty"`
	Subject   bench.Subject   `json:"subject"`
	Stage     string          `json:"stage,omitempty"`
	Visit     int             `json:"visit,omitempty"`
	Body      json.RawMessage `json:"body"`
}

type exportEnd struct {
	Is     string `json:"is"` // "end"
	Batch  string `json:"batch"`
	Events int    `json:"events"`
}

type jsonExport struct {
	to   *bufio.Writer
	line bytes.Buffer
	kept map[[sha256.Size]byte]bool
}

func (x *jsonExport) begin() error {
	x.kept = map[[sha256.Size]byte]bool{}
	return nil
}

func (x *jsonExport) batch(ctx context.Context, book *logbook.Logbook, name string, step func()) error {
	b, err := book.Kept(ctx, name)
	if err != nil {
		return err
	}
	head := exportHead{
		Format: exportFormat, Version: exportVersion, Is: "batch", Batch: b.Name, Title: b.Title, Started: stamp(b.Started, ""), RecipeName: b.RecipeName,
		Recipe: digest(b.Recipe), Set: digest(b.Set), Notes: digest(b.Notes),
	}
	if err := x.write(head); err != nil {
		return err
	}
	for _, data := range [][]byte{b.Recipe, b.Set, b.Notes} {
		sum := sha256.Sum256(data)
		if x.kept[sum] {
			continue
		}
		x.kept[sum] = true
		k := exportKept{Is: "kept", SHA256: digest(data)}
		if utf8.Valid(data) {
			s := string(data)
			k.Text = &s
		} else {
			s := base64.StdEncoding.EncodeToString(data)
			k.Base64 = &s
		}
		if err := x.write(k); err != nil {
			return err
		}
	}
	n := 0
	for r, err := range book.Events(ctx, name) {
		if err != nil {
			return err
		}
		n++
		step()
		e := exportEvent{
			Is: "event", Batch: b.Name, Seq: r.Seq, Cause: r.Cause, Kind: r.Kind, TakenBack: r.TakenBack, At: stamp(r.At, r.Zone), Entered: stamp(r.Entered, r.Zone),
			Zone: r.Zone, Session: r.Session, Who: r.Who, Subject: r.Subject, Stage: r.Stage, Visit: r.Visit, Body: r.Body,
		}
		if err := x.encode(e); err != nil {
			return &logbook.FileError{
				Path: book.Path(), Message: fmt.Sprintf("event %d of batch %q cannot be read: %v", r.Seq, b.Name, err),
				Hint: "put your copy of the logbook in its place; this file was left as it is",
			}
		}
		if err := x.put(); err != nil {
			return err
		}
	}
	return x.write(exportEnd{"end", b.Name, n})
}

func (x *jsonExport) write(v any) error {
	if err := x.encode(v); err != nil {
		return err
	}
	return x.put()
}

func (x *jsonExport) encode(v any) error {
	x.line.Reset()
	e := json.NewEncoder(&x.line)
	e.SetEscapeHTML(false)
	return e.Encode(v)
}

// put writes the line. What must not reach a terminal is escaped, which JSON
// allows and which loses nothing.
func (x *jsonExport) put() error {
	for _, r := range x.line.String() {
		var err error
		switch {
		case r < utf8.RuneSelf && r != 0x7f || !diagnostic.Unsafe(r):
			_, err = x.to.WriteRune(r)
		case r > 0xffff:
			const base, half = 0x10000, 0x400
			_, err = fmt.Fprintf(x.to, `\u%04x\u%04x`, 0xd800+(r-base)/half, 0xdc00+(r-base)%half)
		default:
			_, err = fmt.Fprintf(x.to, `\u%04x`, r)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func digest(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// stamp is a time by RFC 3339, to the millisecond, with the offset the zone
// begins with ("+01:00 CET"); UTC where none is known.
func stamp(t time.Time, zone string) string {
	if offset, ok := offsetOf(zone); ok {
		t = t.In(time.FixedZone("", offset))
	}
	return t.Format("2006-01-02T15:04:05.000Z07:00")
}

// offsetOf reads ±hh:mm, in seconds.
func offsetOf(zone string) (int, bool) {
	if len(zone) < 6 || zone[3] != ':' || zone[0] != '+' && zone[0] != '-' {
		return 0, false
	}
	h, err1 := strconv.Atoi(zone[1:3])
	m, err2 := strconv.Atoi(zone[4:6])
	if err1 != nil || err2 != nil || h < 0 || m < 0 || h > 23 || m > 59 {
		return 0, false
	}
	s := (h*60 + m) * 60
	if zone[0] == '-' {
		s = -s
	}
	return s, true
}
