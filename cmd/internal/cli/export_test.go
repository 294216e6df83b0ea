package cli

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
	"canewright/engine/dimension"
	"canewright/engine/logbook"
	"canewright/engine/quantity"
)

func TestCellsThatASpreadsheetWouldRun(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"", ""}, {"dark bark", "dark bark"}, {"-0.05", "-0.05"}, {"+1,5", "+1,5"}, {"-.5", "-.5"}, {"-10 cents", "'-10 cents"},
		{"=1+1", "'=1+1"}, {"@SUM(A1)", "'@SUM(A1)"}, {"+cmd", "'+cmd"}, {"-", "'-"}, {"--1", "'--1"}, {"+", "'+"}, {"-1.2.3", "'-1.2.3"},
		{"＝1", "'＝1"}, {"\t=1", " =1"}, {"a\nb\x1b[2J", "a b\ufffd[2J"}, {"\u202eevil", "\ufffdevil"},
		{"👩🏽\u200d🔧", "👩🏽\u200d🔧"}, {"می\u200cخواهم", "می\u200cخواهم"}, {"ลิ้น", "ลิ้น"}, {"'quoted", "'quoted"}, {"a=b", "a=b"}, {"−5", "−5"},
	} {
		if got := cell(c.text); got != c.want {
			t.Errorf("%q becomes %q, want %q", c.text, got, c.want)
		}
	}
}

func TestStampsCarryThePlacesOwnOffset(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, 3, 29, 0, 59, 59, 7e6, time.UTC)
	for zone, want := range map[string]string{
		"":             "2026-03-29T00:59:59.007Z",
		"+00:00 UTC":   "2026-03-29T00:59:59.007Z",
		"+01:00 CET":   "2026-03-29T01:59:59.007+01:00",
		"-03:30 NST":   "2026-03-28T21:29:59.007-03:30",
		"+05:45":       "2026-03-29T06:44:59.007+05:45",
		"CET":          "2026-03-29T00:59:59.007Z",
		"+99:00 x":     "2026-03-29T00:59:59.007Z",
		"+0a:00 x":     "2026-03-29T00:59:59.007Z",
		"Europe/Vienn": "2026-03-29T00:59:59.007Z",
	} {
		got := stamp(at, zone)
		if got != want {
			t.Errorf("%q: %s, want %s", zone, got, want)
		}
		if back, err := time.Parse(time.RFC3339Nano, got); err != nil || !back.Equal(at) {
			t.Errorf("%q: %s reads back as %v, %v", zone, got, back, err)
		}
	}
}

func TestValuesAreInTheMainUnit(t *testing.T) {
	t.Parallel()
	set := &dimension.Set{Dimensions: []dimension.Dimension{
		{Name: "gouge.centre", Kind: quantity.Length}, {Name: "blade", Kind: quantity.Length}, {Name: "crow.pitch", Kind: quantity.Pitch},
		{Name: "room.temperature", Kind: quantity.Temperature}, {Name: "crow.score", Kind: quantity.Score}, {Name: "room.humidity", Kind: quantity.Humidity},
		{Name: "cane.mass", Kind: quantity.Mass}, {Name: "soak.time", Kind: quantity.Time},
	}}
	for _, c := range []struct {
		slot        string
		q           int64
		unit        string
		value, main string
	}{
		{"gouge.centre", 1_310_000, "mm", "1.31", "mm"},
		{"gouge.centre", 1_295_400, "thou", "1.2954", "mm"},
		{"gouge.centre", 9_007_199_254_740_993, "mm", "9007199254.740993", "mm"}, // more digits than a float64 has
		{"gouge.centre", -1, "mm", "-0.000001", "mm"},
		{"blade 3 mm spine A", 900_000, "mm", "0.9", "mm"},
		{"crow.pitch", -410_000_000, "", "-410", "cents from A4"},
		{"room.temperature", 180_000, "°F", "20", "°C"},
		{"crow.score", 7500, "", "7.5", ""},
		{"room.humidity", 450_000_000, "%", "45", "%"},
		{"cane.mass", 3_210_000_000, "g", "3.21", "g"},
		{"soak.time", 5_400_000, "h", "5400", "s"},
		{"unknown.length", 2_540_000, "in", "2.54", "mm"},
		{"unknown.number", 3, "", "", ""},
	} {
		value, main := kindsOf{set}.value(bench.ReadingTaken{Slot: c.slot, Q: c.q, Unit: c.unit})
		if value != c.value || main != c.main {
			t.Errorf("%s %d: %q %q, want %q %q", c.slot, c.q, value, main, c.value, c.main)
		}
	}
}

// A corrected reading is in the table as it is now, with what it was first.
func TestACorrectedReadingIsOneRow(t *testing.T) {
	t.Parallel()
	body := func(b bench.Body) []byte {
		data, err := json.Marshal(b)
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	r := logbook.Row{
		Head:       bench.Head{Seq: 9, At: time.UnixMilli(0), Entered: time.UnixMilli(0), Subject: bench.Subject{Kind: "tube", ID: "A"}, Stage: "=gouge", Visit: 2, Who: "@me"},
		Kind:       "reading taken",
		Body:       body(bench.ReadingTaken{Slot: "gouge.centre", Text: "1.13", Unit: "mm", Q: 1_130_000, Repeat: 3, Tool: "dial indicator", Said: &bench.Said{Side: "below", Probability: 0.01}}),
		Correction: body(bench.ValueCorrected{Slot: "gouge.centre", Text: "1,31", Unit: "mm", Q: 1_310_000, Repeat: 3, Said: &bench.Said{Side: "inside", Sure: true, Probability: 0.975}}),
	}
	row, err := csvRow("=2+3, ลิ้น", r, kindsOf{})
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	x := newCSVExport(bufio.NewWriter(&out))
	x.to = csv.NewWriter(&out)
	x.to.UseCRLF = true
	if err := x.to.Write(row); err != nil {
		t.Fatal(err)
	}
	x.to.Flush()
	want := `"'=2+3, ลิ้น",tube,A,'=gouge,2,gouge.centre,3,"1,31",mm,1.31,mm,dial indicator,,inside,yes,0.975,1970-01-01T00:00:00.000Z,1970-01-01T00:00:00.000Z,'@me,no,1.13` + "\r\n"
	if out.String() != want {
		t.Errorf("got\n%swant\n%s", out.String(), want)
	}
	if len(row) != len(csvColumns) {
		t.Errorf("%d cells under %d columns", len(row), len(csvColumns))
	}
}

// A line never holds what must not reach a terminal, and nothing is lost.
func TestJSONLinesAreWholeAndHarmless(t *testing.T) {
	t.Parallel()
	text := "a\x1b[2J\x7f\u0085\u202e\u2028\u200d👩🏽\u200d🔧\U000e0041<&> ลิ้น\n"
	var out bytes.Buffer
	w := bufio.NewWriter(&out)
	x := &jsonExport{to: w}
	raw, err := json.Marshal(map[string]string{"text": text})
	if err != nil {
		t.Fatal(err)
	}
	if err := x.write(exportEvent{Is: "event", Batch: text, Who: text, Body: json.RawMessage("{ \"text\" :\n" + string(raw[8:]))}); err != nil {
		t.Fatal(err)
	}
	w.Flush()
	line := out.String()
	if strings.Count(line, "\n") != 1 || strings.ContainsAny(line, "\x1b\x7f\u0085\u202e\u2028") || !strings.Contains(line, "ลิ้น") {
		t.Errorf("%q", line)
	}
	var back struct {
		Batch, Who string
		Body       struct{ Text string }
	}
	if err := json.Unmarshal([]byte(line), &back); err != nil || back.Batch != text || back.Who != text || back.Body.Text != text {
		t.Errorf("%+v, %v", back, err)
	}
	if err := x.write(exportEvent{Body: json.RawMessage(`{"text": `)}); err == nil {
		t.Error("a body that is no JSON is written")
	}
}
