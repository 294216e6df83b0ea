package formula

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"canewright/engine/diagnostic"
)

// swapped is the bench where everything wet is dry and the other way round, and
// where the butt and the tip have changed names.
type swapped struct{ placed }

func (s swapped) Lookup(name string) (Symbol, bool) {
	y, ok := s.placed.Lookup(name)
	y.Condition = strings.NewReplacer("wet", "dry", "dry", "wet").Replace(y.Condition)
	y.Datum = strings.NewReplacer("the butt", "the tip", "the tip", "the butt").Replace(y.Datum)
	return y, ok
}

func (s swapped) Between(near, far string) (Symbol, bool, bool) {
	r := strings.NewReplacer("the butt", "the tip", "the tip", "the butt")
	return s.placed.Between(r.Replace(near), r.Replace(far))
}

// bareOrigins is the bench where nothing has a condition or a datum.
type bareOrigins struct{ bench }

func (b bareOrigins) Lookup(name string) (Symbol, bool) {
	y, ok := b.bench.Lookup(name)
	y.Condition, y.Datum = "", ""
	return y, ok
}

func originCode(code string) bool { return code == ConditionMismatch || code == DatumMismatch }

// What must hold of every text: conditions and datums only ever refuse more,
// their names do not matter, and all ways to work a formula out agree.
func FuzzKinds(f *testing.F) {
	for _, c := range refusals {
		text, _, _ := marked(c.text)
		f.Add(text)
	}
	files, err := filepath.Glob("../../testdata/golden/formula/*.txtar")
	if err != nil || len(files) == 0 {
		f.Fatal("no golden files", err)
	}
	for _, name := range files {
		a, err := txtar.ParseFile(name)
		if err != nil {
			f.Fatal(err)
		}
		for _, line := range strings.Split(strings.TrimSpace(string(a.Files[0].Data)), "\n") {
			f.Add(line)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		compileIn := func(s Scope) (*Formula, []diagnostic.Diagnostic) {
			fm, list := Compile(diagnostic.Plain("fuzz", text), s)
			if (fm == nil) != (list.Len() > 0) {
				t.Fatalf("%q: formula %v with %d findings", text, fm != nil, list.Len())
			}
			return fm, list.Sorted()
		}
		fm, found := compileIn(placed{})
		plain, plainFound := compileIn(bareOrigins{})
		if fm != nil && plain == nil {
			t.Fatalf("%q: accepted, but not without conditions and datums: %v", text, plainFound)
		}
		if fm == nil && plain != nil {
			for _, d := range found {
				if !originCode(d.Code) {
					t.Fatalf("%q: %s only with conditions and datums", text, d.Code)
				}
			}
		}
		if !strings.Contains(text, "wet(") && !strings.Contains(text, "dry(") {
			other, otherFound := compileIn(swapped{})
			if (fm == nil) != (other == nil) || len(found) != len(otherFound) {
				t.Fatalf("%q: other names, other findings:\n%v\n%v", text, found, otherFound)
			}
			for i := range found {
				if found[i].Code != otherFound[i].Code || found[i].Span != otherFound[i].Span && originCode(found[i].Code) && found[i].Span.From != otherFound[i].Span.From {
					t.Fatalf("%q: other names, other findings:\n%v\n%v", text, found[i], otherFound[i])
				}
			}
		}
		if fm == nil {
			return
		}
		if fm.Condition() != "" && !strings.Contains(text, "wet") && !strings.Contains(text, "dry") {
			t.Fatalf("%q is %s of nothing", text, fm.Condition())
		}
		if got := fm.Shown(func(int) string { return "" }); got != text {
			t.Fatalf("%q is shown as %q", text, got)
		}
		agree(t, fm)
	})
}

// agree: the dense functions give what the ones over slots give.
func agree(t *testing.T, f *Formula) {
	t.Helper()
	have := make([]float64, len(dimensions)+len(cells))
	for i := range have {
		have[i] = float64(1 + i*1000)
	}
	var dense []float64
	for _, n := range f.Needs() {
		dense = append(dense, have[n])
	}
	if !f.Truth() {
		a, errA := f.Number(have)
		b, errB := f.NumberFunc()(dense)
		if fmt.Sprint(a, errA) != fmt.Sprint(b, errB) {
			t.Fatalf("%q: %v %v and %v %v", f.Text(), a, errA, b, errB)
		}
		return
	}
	a, errA := f.Holds(have)
	b, errB := f.TruthFunc()(dense)
	if (errA == nil) != (errB == nil) || errA == nil && a != (b > 0) {
		t.Fatalf("%q: %v %v and %v %v", f.Text(), a, errA, b, errB)
	}
	if f.MarginFunc() == nil {
		return
	}
	m, ok := f.Margin(have)
	n, err := f.MarginFunc()(dense)
	if ok != (err == nil) || ok && m != n {
		t.Fatalf("%q: margin %v %v and %v %v", f.Text(), m, ok, n, err)
	}
	// A margin clearly above or below nought is the truth.
	if errA == nil && ok && (m > 1 && !a || m < -1 && a) && slackless(f) {
		t.Fatalf("%q: holds %v with margin %v", f.Text(), a, m)
	}
}

// slackless: no comparison counts what lies near a limit as on it.
func slackless(f *Formula) bool {
	for _, s := range f.value.steps {
		if s.do >= below && s.do <= atLeast && s.y > 0 {
			return false
		}
	}
	return true
}
