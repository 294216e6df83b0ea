package recipe_test

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// Nobody waits longer for a file to be refused, and it costs no more memory.
const (
	longest  = 2 * time.Second
	heaviest = 512 << 20 // bytes allocated in all, not at one time
)

// A stranger's recipe can exhaust neither time nor memory: it is refused, or
// read, in short time. Not parallel: it measures.
func TestHostileFiles(t *testing.T) {
	rep := strings.Repeat
	nest := func(depth int) string {
		var b strings.Builder
		b.WriteString("stages:\n")
		for i := range depth {
			in := rep("  ", 2*i+1)
			fmt.Fprintf(&b, "%s- stage: s%d\n%s  times: 20\n%s  stages:\n", in, i, in, in)
		}
		in := rep("  ", 2*depth+1)
		fmt.Fprintf(&b, "%s- {stage: a, do: wind}\n%s- {stage: b, do: wind}\n", in, in)
		return b.String()
	}
	lines := func(n int, line func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(line(i))
		}
		return b.String()
	}
	grids := lines(380, func(i int) string {
		return fmt.Sprintf("  - stage: s%d\n    targets:\n      blade.thickness: {from: collar, at: %s mm, spine: %s mm, within: ± 0.01 mm}\n    measure: blade.thickness\n",
			i, lines(40, func(k int) string { return fmt.Sprintf("%d.%d ", i, k+10) }), rep("0.5 ", 40))
	})
	for name, c := range map[string]struct {
		data string
		want string // a code; "": the file is read
	}{
		"lists in lists":            {rep("- ", 500_000), "yaml/"},
		"brackets in brackets":      {"stages: " + rep("[", 100_000), "yaml/"},
		"maps in maps":              {"stages: " + rep("{a: ", 100_000), "yaml/"},
		"indentation":               {lines(1000, func(i int) string { return rep(" ", i) + "a:\n" }), "yaml/"},
		"dashes to the limit":       {rep("-", yamldoc.MaxBytes), "yaml/"},
		"dashes over the limit":     {rep("-", yamldoc.MaxBytes+1), "yaml/too-large"},
		"line of dashes and blanks": {head + "stages:\n" + rep("- \n", 300_000), "yaml/too-many-nodes"},
		"one long line":             {head + "about: " + rep("x ", 500_000) + "\nstages: [{stage: a}]\n", ""},
		"one long name":             {head + "stages: [{stage: " + rep("x", 900_000) + "}]\n", "recipe/name"},
		"long wrong name":           {head + "targets: {" + rep("x", 900_000) + ": 3 mm}\nstages: [{stage: a}]\n", "yaml/syntax"},
		"long tolerance":            {head + "targets: {wire.first: " + rep("9", 900_000) + " mm}\nstages: [{stage: a}]\n", "recipe/bad-tolerance"},
		"long exponent":             {head + "targets: {wire.first: 1e" + rep("9", 900_000) + " mm}\nstages: [{stage: a}]\n", "recipe/bad-tolerance"},
		"fractions":                 {head + "targets: {wire.first: 1/" + rep("9", 900_000) + " mm}\nstages: [{stage: a}]\n", "recipe/bad-tolerance"},
		"huge repeat":               {head + "stages: [{stage: a, measure: [{take: wire.first, repeat: " + rep("9", 900_000) + "}]}]\n", "recipe/number"},
		"huge times":                {head + "stages: [{stage: a, times: " + rep("9", 100_000) + ", stages: [{stage: b}]}]\n", "recipe/times"},
		"times in times in times":   {head + nest(3), "recipe/too-long"},
		"times too deep":            {head + nest(5), "recipe/too-deep"},
		"repeated rules": {head + "stages:\n  - stage: a\n    times: 20\n    stages:\n      - stage: b\n        times: 20\n        stages:\n          - stage: c\n            expect:\n" +
			rep("              - abs(wire.first - wire.second) >= 7 mm\n", 9_000), "recipe/too-long"},
		"rules":                {head + "stages:\n  - stage: c\n    expect:\n" + rep("      - abs(wire.first - wire.second) >= 7 mm\n", 5_000), ""},
		"long rules":           {head + "stages:\n  - stage: c\n    expect:\n" + rep("      - "+rep("wire.first + ", 30)+"wire.first >= 7 mm\n", 2_000), ""},
		"unknown names":        {head + "stages:\n  - stage: c\n    measure:\n" + lines(9_000, func(i int) string { return fmt.Sprintf("      - wire.frist%d\n", i) }), "recipe/unknown-dimension"},
		"names in a text":      {head + "stages:\n  - stage: c\n    do:\n" + rep("      - '"+rep("{wire.frist} ", 80)+"'\n", 900), "recipe/unknown-dimension"},
		"words in a text":      {head + "stages:\n  - stage: c\n    do: '" + rep("knife scrape cement ", 45_000) + "'\n", ""},
		"ten thousand targets": {head + "targets:\n" + lines(9_900, func(i int) string { return fmt.Sprintf("  d%d: 3 mm\n", i) }) + "stages: [{stage: a}]\n", "recipe/unknown-dimension"},
		"settings and rules": {head + "settings:\n" + lines(8_000, func(i int) string { return fmt.Sprintf("  s%d: 3 mm\n", i) }) +
			"stages:\n  - stage: c\n    expect:\n" + lines(900, func(i int) string { return fmt.Sprintf("      - s1 + s%d + s7999 >= 7 mm\n", i) }), ""},
		"grids": {head + "stages:\n" + grids, "recipe/too-long"},
		"repeated grids": {head + "stages:\n  - stage: a\n    times: 20\n    stages:\n      - stage: b\n        times: 20\n        stages:\n          - {stage: c, targets: {blade.thickness: {from: collar, at: " +
			lines(40, func(k int) string { return fmt.Sprint(k, " ") }) + "mm, spine: " + rep("0.5 ", 40) + "mm, within: ± 0.01 mm}}, measure: blade.thickness}\n", "recipe/too-long"},
		"ways back": {head + "stages:\n" + lines(390, func(i int) string {
			return fmt.Sprintf("  - stage: %s%d\n    look: {question: q, answers: {%s}}\n", rep("n", 50), i,
				lines(8, func(k int) string {
					return fmt.Sprintf("a%d: {go back to: %sx%d, at most: 2 times, then: set aside}, ", k, rep("n", 50), k)
				}))
		}), "recipe/unknown-stage"},
		"escapes":       {head + "about: '" + rep("\x1b[31m", 100_000) + "'\nstages: [{stage: a}]\n", "yaml/unsafe-character"},
		"alias bomb":    {"a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b,*b,*b,*b]\nd: &d [*c,*c,*c,*c,*c,*c,*c,*c,*c]\n", "yaml/anchor"},
		"cut by commas": {head + "stages:\n  - {stage: a, because: b" + lines(8_000, func(i int) string { return fmt.Sprintf(", c%d", i) }) + "}\n", "yaml/"},
	} {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			b, list := check(t, "recipe.yaml", []byte(c.data))
			said := text(t, list)
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			if took > longest {
				t.Errorf("took %v", took)
			}
			if used := after.TotalAlloc - before.TotalAlloc; used > heaviest {
				t.Errorf("allocated %d MiB", used>>20)
			}
			t.Logf("%v, %d MiB, %d findings", took.Round(time.Millisecond), (after.TotalAlloc-before.TotalAlloc)>>20, list.Len())
			if bad := misplaced(list); bad != "" {
				t.Error(bad)
			}
			if c.want == "" && (b == nil || list.Failed()) || c.want != "" && !strings.Contains(said, "["+c.want) {
				t.Errorf("want %q:\n%s", c.want, said[:min(len(said), 2000)])
			}
			if len(said) > 40_000 {
				t.Errorf("%d bytes are shown", len(said))
			}
			if strings.ContainsAny(said, "\x1b\x07\u202e") {
				t.Error("what is shown can move the terminal")
			}
		})
	}
}

// Files a stranger may send, as they are.
func TestHostileFolder(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("../../testdata/hostile/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("hostile files: %d, %v", len(files), err)
	}
	for _, f := range files {
		a, err := txtar.ParseFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range a.Files {
			b, list := check(t, x.Name, x.Data)
			if b != nil || !list.Failed() {
				t.Errorf("%s: %s is read", f, x.Name)
			}
			if bad := misplaced(list); bad != "" {
				t.Errorf("%s: %s: %s", f, x.Name, bad)
			}
			said := text(t, list)
			if strings.ContainsFunc(said, func(r rune) bool { return r != '\n' && r != '\t' && diagnostic.Unsafe(r) }) {
				t.Errorf("%s: %s: what is shown can move the terminal: %q", f, x.Name, said)
			}
		}
	}
}

func FuzzLoad(f *testing.F) {
	for _, glob := range []string{golden + "/*.txtar", "../../testdata/hostile/*.txtar"} {
		files, err := filepath.Glob(glob)
		if err != nil {
			f.Fatal(err)
		}
		for _, name := range files {
			a, err := txtar.ParseFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(a.Files[0].Data)
		}
	}
	shipped, err := filepath.Glob("../../recipes/*/*/recipe.yaml")
	if err != nil || len(shipped) == 0 {
		f.Fatalf("shipped recipes: %v, %v", shipped, err)
	}
	for _, name := range shipped {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 64<<10 {
			return
		}
		start := time.Now()
		b, list := check(t, "recipe.yaml", data)
		said := text(t, list)
		if took := time.Since(start); took > time.Second {
			t.Errorf("took %v", took)
		}
		if bad := misplaced(list); bad != "" {
			t.Error(bad)
		}
		if (b == nil) != list.Failed() {
			t.Errorf("bound %v, errors %v:\n%s", b != nil, list.Failed(), said)
		}
		if strings.ContainsFunc(said, func(r rune) bool { return r != '\n' && r != '\t' && diagnostic.Unsafe(r) }) {
			t.Errorf("what is shown can move the terminal: %q", said)
		}
		if b == nil {
			return
		}
		papers := b.CheckPaper()
		if bad := misplaced(papers); bad != "" || papers.Failed() {
			t.Errorf("%s %v", bad, papers.Sorted())
		}
		seen := map[string]bool{}
		for _, s := range b.Stages {
			if seen[s.Key] {
				t.Errorf("two stages have the key %q", s.Key)
			}
			seen[s.Key] = true
			for _, o := range append([]string{s.Name, s.Because, s.MarkAgain}, s.Do...) {
				if strings.ContainsFunc(o, func(r rune) bool { return r != '\n' && diagnostic.Unsafe(r) }) {
					t.Errorf("%q reaches the terminal", o)
				}
			}
		}
	})
}
