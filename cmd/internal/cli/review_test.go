package cli_test

import (
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
