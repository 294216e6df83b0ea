package cli

import (
	"bufio"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"canewright/engine/bench"
	"canewright/engine/dimension"
	"canewright/engine/logbook"
	"canewright/engine/quantity"
)

// csvColumns: subject is piece, tube or batch, and piece its mark; text is what
// was typed, or what it was corrected to, and then first what was typed first;
// value is in value_unit.
var csvColumns = []string{
	"batch", "subject", "piece", "stage", "visit", "dimension", "repeat", "text", "unit", "value", "value_unit", "tool", "condition",
	"side", "sure", "probability", "at", "entered", "who", "taken_back", "first",
}

type csvExport struct{ to *csv.Writer }

func newCSVExport(to *bufio.Writer) *csvExport {
	w := csv.NewWriter(to)
	w.UseCRLF = true // RFC 4180, section 2
	return &csvExport{w}
}

func (x *csvExport) begin() error { return x.to.Write(csvColumns) }

func (x *csvExport) batch(ctx context.Context, book *logbook.Logbook, name string, step func()) error {
	b, err := book.Kept(ctx, name)
	if err != nil {
		return err
	}
	var kinds kindsOf
	if len(b.Set) > 0 {
		set, err := dimension.Decode(b.Set)
		if err != nil {
			return fmt.Errorf("export batch %q: read the kept dimension set: %w", name, err)
		}
		kinds = kindsOf{set}
	}
	for r, err := range book.Readings(ctx, name) {
		if err != nil {
			return err
		}
		step()
		row, err := csvRow(name, r, kinds)
		if err != nil {
			return &logbook.FileError{
				Path: book.Path(), Message: fmt.Sprintf("event %d of batch %q cannot be read: %v", r.Seq, name, err),
				Hint: "put your copy of the logbook in its place; this file was left as it is",
			}
		}
		if err := x.to.Write(row); err != nil {
			return err
		}
	}
	x.to.Flush()
	return x.to.Error()
}

func csvRow(batch string, r logbook.Row, kinds kindsOf) ([]string, error) {
	var b bench.ReadingTaken
	if err := json.Unmarshal(r.Body, &b); err != nil {
		return nil, err
	}
	first := ""
	if r.Correction != nil {
		var c bench.ValueCorrected
		if err := json.Unmarshal(r.Correction, &c); err != nil {
			return nil, err
		}
		first = b.Text
		b.Text, b.Unit, b.Q, b.Said = c.Text, c.Unit, c.Q, c.Said
	}
	value, unit := kinds.value(b)
	side, sure, probability := "", "", ""
	if s := b.Said; s != nil {
		side, sure, probability = s.Side, yesNo(s.Sure), strconv.FormatFloat(s.Probability, 'f', -1, 64)
	}
	return []string{
		cell(batch), cell(r.Subject.Kind), cell(r.Subject.ID), cell(r.Stage), strconv.Itoa(r.Visit), cell(b.Slot), strconv.Itoa(b.Repeat), cell(b.Text), cell(b.Unit),
		value, unit, cell(b.Tool), cell(b.Condition), cell(side), sure, probability, stamp(r.At, r.Zone), stamp(r.Entered, r.Zone), cell(r.Who), yesNo(r.TakenBack), cell(first),
	}, nil
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// cell is a text as a cell: no controls, and nothing a spreadsheet would run as
// a formula. A number may begin with its sign.
func cell(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n' || r == '\r':
			return ' '
		case unicode.IsControl(r), r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069:
			return utf8.RuneError
		}
		return r
	}, s)
	// The wide forms too: some spreadsheets take them for the plain ones.
	if first, _ := utf8.DecodeRuneInString(s); strings.ContainsRune("=+-@＝＋－＠", first) && s != "" && !isNumber(s) {
		return "'" + s
	}
	return s
}

// isNumber: a sign, digits, and at most one point or comma among them.
func isNumber(s string) bool {
	digits := strings.TrimLeft(s, "+-")
	whole, part, _ := strings.Cut(strings.Replace(digits, ",", ".", 1), ".")
	all := whole + part
	return len(s)-len(digits) <= 1 && all != "" && strings.Trim(all, "0123456789") == ""
}

// kindsOf knows what a reading is a reading of.
type kindsOf struct{ set *dimension.Set }

// value is a reading's worth in the main unit of its kind, as a decimal number,
// and that unit.
func (k kindsOf) value(b bench.ReadingTaken) (value, unit string) {
	kind, ok := k.kind(b)
	if !ok {
		return "", ""
	}
	if kind == quantity.Pitch { // a note is no number
		cents, _ := quantity.UnitNamed("cents")
		return quantity.Number(quantity.Value{Kind: quantity.Interval, Q: b.Q}, cents, 0), "cents from A4"
	}
	u := quantity.Main(kind)
	return quantity.Number(quantity.Value{Kind: kind, Q: b.Q}, u, 0), u.Name()
}

// kind looks the slot up, which is a dimension's name, or that and a station.
// What the set does not have is known by its unit.
func (k kindsOf) kind(b bench.ReadingTaken) (quantity.Kind, bool) {
	if k.set != nil {
		name, _, _ := strings.Cut(b.Slot, " ")
		if d, ok := k.set.Find(name); ok {
			return d.Kind, true
		}
	}
	u, ok := quantity.UnitNamed(b.Unit)
	return u.Kind(), ok
}
