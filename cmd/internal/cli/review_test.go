package cli_test

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"canewright/engine/bench"
	"canewright/engine/review"
)

// The typed evenings, exported and read by a teacher who has no logbook: the
// same counts as in the record itself, and nothing of the teacher's is written.
func TestAnExportedEveningIsReviewedWithoutItsLogbook(t *testing.T) {
	t.Parallel()
	e := newEvening(t)
	e.play(filepath.Join(evenings, "2-blanks-to-reeds.evening"))
	e.screen.Reset()
	e.heard = 0
	if wrong := e.perform("", "$ export spring --output ~/spring.jsonl\n$ export gift --output ~/gift.jsonl\n$ export --output ~/all.jsonl"); wrong != "" {
		t.Fatal(wrong)
	}
	teacher := newEvening(t)
	teacher.now = e.now
	for _, name := range []string{"spring", "gift", "all"} {
		data, err := os.ReadFile(filepath.Join(e.home, name+".jsonl"))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(teacher.home, name+".jsonl"), data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if wrong := teacher.perform("", "$ review ~/spring.jsonl\n$ review ~/gift.jsonl -o ~/gift.txt\n$ review ~/all.jsonl --json --output ~/all.json --limit 1000"); wrong != "" {
		t.Fatal(wrong)
	}
	teacher.holdsColumns(60)
	screen := teacher.screen.String()
	for _, want := range []string{"It is the bundled bassoon/from-tube, word for word.", "LARGEST DEVIATIONS", "SAFETY NOTES ANSWERED"} {
		if !strings.Contains(screen, want) {
			t.Errorf("%q is not said:\n%s", want, screen)
		}
	}
	printed, err := os.ReadFile(filepath.Join(teacher.home, "gift.txt"))
	if err != nil || strings.Count(string(printed), "\nRemark: ____") < 8 {
		t.Errorf("%v\n%s", err, printed)
	}
	if there, _ := filepath.Glob(filepath.Join(teacher.home, "canewright", "*")); len(there) > 0 {
		t.Errorf("the teacher has %v now", there)
	}
	var all []review.Review
	data, err := os.ReadFile(filepath.Join(teacher.home, "all.json"))
	if err == nil {
		err = json.Unmarshal(data, &all)
	}
	if err != nil || len(all) < 3 {
		t.Fatalf("%d batches, %v", len(all), err)
	}
	for _, r := range all {
		counted(t, r, filepath.Join(e.home, "all.jsonl"))
	}
}

// What a stranger put into the snapshot of an export is checked before it is
// used; nothing of it reaches the terminal but text.
func TestAStrangersSnapshotIsChecked(t *testing.T) {
	t.Parallel()
	e := newEvening(t)
	e.play(filepath.Join(evenings, "1-tubes-to-shaped.evening"))
	if wrong := e.perform("", "$ export spring --output ~/spring.jsonl"); wrong != "" {
		t.Fatal(wrong)
	}
	whole, err := os.ReadFile(filepath.Join(e.home, "spring.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, kept, from, to, want string }{
		{"nothing changed", "dimensions", "", "", "WHAT BECAME OF THE PIECES"},
		{"another instrument's set", "dimensions", `{"ID":"bassoon"`, `{"ID":"oboe"`, "its dimensions are not those of its recipe's instrument"},
		{"a formula that cannot be", "dimensions", `"Formula":"wire.first - wire.second"`, `"Formula":"wire.first - - system(1)"`, "its dimensions cannot be used"},
		{"no set", "dimensions", `{"ID":"bassoon"`, `["ID"`, "read a stored dimension set"},
		{"a recipe that cannot be read", "recipe", "title: ", "titel: ", "the recipe of batch spring:2:1"},
		{"a recipe without a stage", "recipe", "- stage: gouge\n", "- stage: gourge\n", "it is at a stage"},
		{"a title that writes to the terminal", "recipe", "stage: shape\n", "stage: \"sh\\x1b[31mape\"\n", ""},
	} {
		data := forged(t, whole, c.kept, c.from, c.to)
		file := filepath.Join(e.home, "forged.jsonl")
		if err := os.WriteFile(file, data, 0o600); err != nil {
			t.Fatal(err)
		}
		e.screen.Reset()
		e.heard = 0
		if wrong := e.perform("", "$ review ~/forged.jsonl"); wrong != "" {
			t.Fatal(wrong)
		}
		said := e.screen.String()
		if !strings.Contains(said, c.want) {
			t.Errorf("%s: %q is not said:\n%.600s", c.name, c.want, said)
		}
		if strings.Contains(said, "\x1b") {
			t.Errorf("%s: an escape reaches the terminal:\n%.600q", c.name, said)
		}
		if failed := strings.Contains(said, "(exit 3)"); failed == (c.name == "nothing changed") {
			t.Errorf("%s: %.600s", c.name, said)
		}
	}
}

// forged changes a kept file of an export, with its checksum.
func forged(t *testing.T, whole []byte, kept, from, to string) []byte {
	t.Helper()
	if from == "" {
		return whole
	}
	var was, now string
	var out []string
	for l := range strings.Lines(string(whole)) {
		var x map[string]any
		if err := json.Unmarshal([]byte(l), &x); err != nil {
			t.Fatal(err)
		}
		if x["is"] == "batch" {
			was, _ = x[kept+"_sha256"].(string)
		}
		if text, ok := x["text"].(string); ok && x["sha256"] == was {
			after := strings.Replace(text, from, to, 1)
			if after == text {
				t.Fatalf("%q is not in the %s", from, kept)
			}
			sum := sha256.Sum256([]byte(after))
			now = hex.EncodeToString(sum[:])
			x["text"] = after
			line, err := json.Marshal(x)
			if err != nil {
				t.Fatal(err)
			}
			l = string(line) + "\n"
		}
		out = append(out, l)
	}
	return []byte(strings.ReplaceAll(strings.Join(out, ""), was, now))
}

// counted holds a review against the lines of the export, counted without it.
func counted(t *testing.T, r review.Review, file string) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	back, corrections, skipped, acks, remarks := 0, 0, 0, 0, 0
	said, outside := 0, 0
	corrected := map[string]bool{}
	var pieces []string
	for l := range strings.Lines(string(data)) {
		var x struct {
			Is, Batch, Kind string
			TakenBack       bool `json:"taken_back"`
			Subject         bench.Subject
			Body            struct {
				Slot, Mark string
				Said       json.RawMessage // of a reading: a verdict; of a rule: words
			}
		}
		if err := json.Unmarshal([]byte(l), &x); err != nil {
			t.Fatal(err)
		}
		if x.Is != "event" || x.Batch != r.Batch {
			continue
		}
		if x.Kind == "answer taken back" {
			back++
		}
		if x.TakenBack {
			continue
		}
		switch x.Kind {
		case "value corrected":
			corrections++
			corrected[x.Subject.ID+x.Body.Slot] = true
		case "skipped":
			skipped++
		case "note acknowledged":
			acks++
		case "remark":
			remarks++
		case "piece added":
			pieces = append(pieces, x.Body.Mark)
		case "reading taken":
			var v *bench.Said
			if len(x.Body.Said) > 0 {
				if err := json.Unmarshal(x.Body.Said, &v); err != nil {
					t.Fatal(err)
				}
			}
			if v != nil {
				said++
				if v.Side != "inside" {
					outside++
				}
			}
		}
	}
	answered, left := 0, 0
	for _, n := range r.Notes {
		answered += n.Times
	}
	for _, l := range r.LeftOut {
		left += len(l.Marks)
	}
	var told []string
	for _, p := range r.Pieces {
		told = append(told, p.Mark)
	}
	if r.TakenBack != back || len(r.Corrected) != corrections || answered != acks || len(r.Remarks) != remarks || !slices.Equal(told, pieces) {
		t.Errorf("%s: %d/%d back, %d/%d corrections, %d/%d answers, %d/%d remarks, %v/%v", r.Batch, r.TakenBack, back, len(r.Corrected), corrections, answered, acks, len(r.Remarks), remarks, told, pieces)
	}
	if left > skipped || (left == 0) != (skipped == 0) {
		t.Errorf("%s: %d pieces left out %d times", r.Batch, left, skipped)
	}
	// A verdict is said again with each repeat, so there are at least as many.
	if r.Judged > said+len(corrected) || r.Outside > outside+len(corrected) {
		t.Errorf("%s: %d judged of %d said, %d of %d outside", r.Batch, r.Judged, said, r.Outside, outside)
	}
	for i, d := range r.Deviations {
		if (d.Side != "inside") != (d.Halves > 1) {
			t.Errorf("%s: %+v", r.Batch, d)
		}
		if i > 0 && d.Halves > r.Deviations[i-1].Halves {
			t.Errorf("%s: deviation %d is larger than the one before", r.Batch, i+1)
		}
	}
}
