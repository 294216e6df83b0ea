package cli_test

import (
	"bytes"
	"database/sql"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"

	"canewright/cmd/internal/cli"
)

func written(t *testing.T, dir, name, text string) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// bench is canewright in this process, with a logbook and a clock of its own.
type place struct {
	t    *testing.T
	dir  string
	book string
	now  time.Time
}

func newPlace(t *testing.T) *place {
	t.Helper()
	dir := t.TempDir()
	return &place{t: t, dir: dir, book: filepath.Join(dir, "logbook"), now: time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC)}
}

// runs a command with lines typed at it. A panic is a fault in any case.
func (p *place) runs(lines []string, args ...string) (code int, out, complaint string) {
	p.t.Helper()
	var stdout, stderr bytes.Buffer
	code = cli.Main(append(args, "--logbook", p.book), cli.System{
		In: strings.NewReader(strings.Join(append(lines, ""), "\n")), Out: &stdout, Err: &stderr, Env: func(string) string { return "" },
		Now:  func() time.Time { p.now = p.now.Add(time.Second); return p.now },
		Rand: zeros{}, Width: 60,
	})
	if strings.Contains(stderr.String(), "fault in canewright") {
		p.t.Fatalf("canewright %s panics: %s", strings.Join(args, " "), stderr.String())
	}
	return code, stdout.String(), stderr.String()
}

// must run well.
func (p *place) must(lines []string, args ...string) string {
	p.t.Helper()
	code, out, complaint := p.runs(lines, args...)
	if code != 0 {
		p.t.Fatalf("canewright %s: code %d, %s\n%s", strings.Join(args, " "), code, complaint, out)
	}
	return out
}

func (p *place) alters(query string, args ...any) {
	p.t.Helper()
	db, err := sql.Open("sqlite", "file:"+p.book+"?mode=rw&_pragma=busy_timeout(5000)")
	if err != nil {
		p.t.Fatal(err)
	}
	defer db.Close()
	if _, err := db.Exec(query, args...); err != nil {
		p.t.Fatal(err)
	}
}

func (p *place) number(query string) (n int) {
	p.t.Helper()
	db, err := sql.Open("sqlite", "file:"+p.book+"?mode=ro&_pragma=busy_timeout(5000)")
	if err != nil {
		p.t.Fatal(err)
	}
	defer db.Close()
	if err := db.QueryRow(query).Scan(&n); err != nil {
		p.t.Fatal(err)
	}
	return n
}

// wholeWayLines lead two tubes to pieces and a little further.
var wholeWayLines = []string{
	"24.5", "24.6", "1", "B: 25", "B: 25", "B 1", // choose
	"", "go on", // soak
	"I stand clear of the edge, guard on", "2", "3", // split; the note of its blade
	"all but 5 flat", "5 hollow", "done", "with a brush", "fingers behind the edge, guard on", "1: 1.31 1.31",
}

// A batch that was left and has lost events says so. One that was in work, cut
// off at its end anywhere, also in the middle of an answer, can be read, shown,
// resumed and answered.
func TestALogbookCutAnywhereStillFolds(t *testing.T) {
	t.Parallel()
	p := newPlace(t)
	p.must(wholeWayLines, "follow", written(t, p.dir, "whole-way.yaml", wholeWay), "--tubes", "2", "--batch", "cut")
	n := p.number(`SELECT count(*) FROM event`)
	if n < 40 {
		t.Fatalf("only %d events to cut", n)
	}
	whole, err := os.ReadFile(p.book)
	if err != nil {
		t.Fatal(err)
	}
	stuck := []int{}
	for keep := n - 1; keep >= 1; keep-- {
		p.book = filepath.Join(p.dir, fmt.Sprint("cut-", keep))
		if err := os.WriteFile(p.book, whole, 0o600); err != nil {
			t.Fatal(err)
		}
		p.alters(`DELETE FROM event WHERE seq > ?`, keep)
		if keep%10 == 0 { // a batch that was left knows how many events it has
			for _, args := range [][]string{{"batch", "cut"}, {"follow", "--resume", "cut"}} {
				code, _, complaint := p.runs([]string{"undo"}, args...)
				if want := fmt.Sprintf("%d of its %d events", keep, n); code != 5 || !strings.Contains(complaint, want) || !strings.Contains(complaint, "hint: ") {
					t.Errorf("cut to %d events, canewright %s: code %d, %s", keep, strings.Join(args, " "), code, complaint)
				}
			}
		}
		p.alters(`UPDATE batch SET events = 0`) // as in one whose program was killed
		p.must(nil, "batch", "cut")
		if got := p.number(`SELECT count(*) FROM event`); got != keep {
			t.Fatalf("%d events are left of %d", got, keep)
		}
		if keep < 4 {
			continue // no tube yet
		}
		p.must([]string{"?", "rack", "undo", "A undo", "1.0", "go on", ""}, "follow", "--resume", "cut")
		p.must([]string{"A 24.5 24.6 freely", "1 -"}, "follow", "--resume", "cut", "--later")
		before := p.number(`SELECT count(*) FROM event`)
		p.must([]string{"with a brush", "fingers behind the edge, guard on", "remark still here", "all remark so are we", "A remark and I", "1 remark and this"}, "follow", "--resume", "cut")
		if p.number(`SELECT count(*) FROM event`) <= before+2 {
			stuck = append(stuck, keep)
		}
	}
	if len(stuck) > 0 {
		t.Errorf("cut to these numbers of events it takes no remark any more: %v", stuck)
	}
}

func TestAnEventOfANewerKind(t *testing.T) {
	t.Parallel()
	p := newPlace(t)
	p.must([]string{"24.5"}, "follow", written(t, p.dir, "whole-way.yaml", wholeWay), "--tubes", "2", "--batch", "newer")
	p.must(nil, "follow", filepath.Join(p.dir, "whole-way.yaml"), "--tubes", "1", "--batch", "other")
	p.alters(`INSERT INTO event (batch, seq, cause, kind, at, entered, zone, session, who, subject_kind, subject, stage, visit, body)
		SELECT batch, max(seq) + 1, max(seq) + 1, 'string tied', max(at), max(entered), zone, session, who, 'tube', 'A', 'choose', 1, '{"turns":7}'
		FROM event WHERE batch = (SELECT id FROM batch WHERE name = 'newer')`)
	for _, args := range [][]string{{"batch", "newer"}, {"follow", "--resume", "newer"}, {"follow", "--resume", "newer", "--later"}} {
		code, _, complaint := p.runs([]string{"25"}, args...)
		for _, want := range []string{"newer", "string tied", "update"} {
			if code != 5 || !strings.Contains(complaint, want) {
				t.Errorf("canewright %s: code %d, does not say %q: %s", strings.Join(args, " "), code, want, complaint)
			}
		}
	}
	// The others are none the worse.
	p.must([]string{"25"}, "follow", "--resume", "other")
	if out := p.must(nil, "batches"); !strings.Contains(out, "newer") || !strings.Contains(out, "other") {
		t.Errorf("the list is\n%s", out)
	}
	if n := p.number(`SELECT count(*) FROM event WHERE kind = 'reading taken'`); n != 2 {
		t.Errorf("%d readings", n)
	}
}

// What a cat on the keyboard, a broken cable or a prankster's clipboard sends.
func TestStrangeAnswers(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("x", 4095)
	strange := map[string]string{
		"4095 bytes":           long,
		"4096 bytes":           long + "y",
		"a megabyte":           strings.Repeat("z", 1<<20),
		"4096 bytes of blanks": strings.Repeat(" ", 4096),
		"4095 bytes of marks":  strings.Repeat("7 ", 2047),
		"a long range":         "1-999999999 done",
		"a range of all sizes": "99999999999999999999-99999999999999999999999 1.31",
		"a long number":        strings.Repeat("9", 4000),
		"a long fraction":      "1." + strings.Repeat("3", 4000),
		"many readings":        strings.Repeat("1.3 ", 1000),
		"only combining":       "\u0301\u0301\u0327\u20dd",
		"a mark and combining": "1\u0301 1.31",
		"right-to-left":        "\u202e13.1 remark",
		"isolates":             "\u2066\u2067\u2068 1.31 \u2069",
		"NUL":                  "1.3\x001",
		"only NUL":             "\x00\x00\x00",
		"escapes":              "\x1b]0;title\x07\x1b[2J\x1b[31m1.31",
		"C1":                   "\u009b2J\u0085",
		"broken UTF-8":         "\xff\xfe\xc3\x28 1.31",
		"half a surrogate":     "\xed\xa0\x80",
		"noncharacters":        "\ufffe\uffff\U0010ffff",
		"line separators":      "1.31\u2028remark\u2029x",
		"form feed":            "1.31\f\v\b",
		"other digits":         "١٫٣١",
		"full width":           "１．３１",
		"infinity":             "inf",
		"not a number":         "NaN",
		"hexadecimal":          "0x1p-2",
		"exponent":             "1e308",
		"only signs":           "+-+-±−",
		"colons":               ":::::",
		"semicolons":           ";;;;",
		"at signs":             "@@@@ @",
		"percent":              "%s%n%d%!",
		"correct itself":       "correct correct correct to to to",
		"all but all":          "all but all but all",
		"using nothing":        "using  instead of ",
		"bring back nobody":    "bring back",
		"piece nobody":         "piece \u0301",
		"who is long":          "who " + strings.Repeat("A", 4000),
		"who is a mark":        "who \u0301",
		"strokes without end":  "+99999999999999999999 left",
		"a long remark":        "remark " + strings.Repeat("lang ", 800),
		"a remark of marks":    "remark " + strings.Repeat("\u0301", 1000),
	}
	var names []string
	for name := range strange {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, later := range []bool{false, true} {
		for _, stage := range []string{"choose", "sort", "mark", "gouge"} {
			t.Run(fmt.Sprint(stage, " later ", later), func(t *testing.T) {
				t.Parallel()
				p := newPlace(t)
				way := written(t, p.dir, "whole-way.yaml", wholeWay)
				args := []string{"--pieces", "12", "--from", stage}
				if stage == "choose" {
					args = []string{"--tubes", "2"}
				}
				if later {
					args = append(args, "--later")
				}
				p.must(nil, append([]string{"follow", way, "--batch", "strange"}, args...)...)
				again := []string{"follow", "--resume", "strange"}
				if later {
					again = append(again, "--later")
				}
				var lines []string
				for _, name := range names {
					lines = append(lines, "with a brush", "fingers behind the edge, guard on", strange[name], "1: "+strange[name], "A "+strange[name])
				}
				began := time.Now()
				out := p.must(lines, again...)
				if took := time.Since(began); took > 10*time.Second {
					t.Errorf("it takes %v", took)
				}
				if n := strings.Count(out, "\n> "); n < len(lines) {
					t.Errorf("%d of %d lines were read", n, len(lines))
				}
				if i := strings.IndexFunc(out, func(r rune) bool {
					return r != '\n' && unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r)
				}); i >= 0 {
					t.Errorf("the screen has control characters: %q", out[max(0, i-300):i+20])
				}
				p.must(nil, "batch", "strange")
			})
		}
	}
}

// A mark as it stands on the bark, in whatever script, is typed back before an
// answer.
func TestMarksInAnyScript(t *testing.T) {
	t.Parallel()
	for _, mark := range []string{"Lötte", "葦", "ふし", "نی", "נג", "ไม้", "लकड़ी", "ਕਾ", "τρία", "Три", "한글", "٣", "ß", "İz", "ǆ", "e\u0301", "𝔅7", "a-b_c"} {
		t.Run(mark, func(t *testing.T) {
			t.Parallel()
			p := newPlace(t)
			way := written(t, p.dir, "whole-way.yaml", wholeWay)
			out := p.must([]string{mark + " done", "rack"}, "follow", way, "--marks", "1 "+mark, "--from", "mark", "--batch", "marked")
			if n := p.number(`SELECT count(*) FROM event WHERE kind = 'done'`); n != 1 {
				t.Fatalf("%q is not known for a piece:\n%s", mark, out)
			}
			p.must([]string{"1 done", "with a brush", "fingers behind the edge, guard on", mark + ": 1.31; 1.31", strings.ToUpper(mark) + " aside"},
				"follow", "--resume", "marked")
			if n := p.number(`SELECT count(*) FROM event WHERE kind = 'reading taken' AND subject != '1'`); n != 2 {
				t.Errorf("%d readings", n)
			}
			if out := p.must(nil, "batch", "marked"); !strings.Contains(out, mark) {
				t.Errorf("the record does not name it:\n%s", out)
			}
		})
	}
}
