package cli_test

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
	"unicode/utf16"

	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
)

// What a refusal may cost.
const (
	longestRefusal  = time.Second
	heaviestRefusal = 100 << 20 // bytes of memory, at one time
)

// hostile is a file of a stranger and where its first finding must be.
type hostile struct {
	path string
	line int // 0: the file as a whole
	code string
}

// Each file in testdata/hostile says in its first line, a comment, where its
// first finding is. Files that are large, or hold what an editor or git would
// change, are made by the test.
func TestHostileFilesAreRefused(t *testing.T) {
	t.Parallel()
	exe := filepath.Join(t.TempDir(), "canewright")
	if out, err := exec.Command("go", "build", "-o", exe, "canewright/cmd/canewright").CombinedOutput(); err != nil {
		t.Fatalf("build canewright: %v\n%s", err, out)
	}
	all := append(hostileFolder(t), hostileMade(t)...)
	if len(all) < 100 {
		t.Errorf("only %d hostile files", len(all))
	}
	for _, h := range all {
		t.Run(filepath.Base(h.path), func(t *testing.T) {
			var m measured
			for try := range 3 { // a busy machine is no fault of the program
				one := measure(t, exe, "show", h.path)
				if try == 0 || one.Took < m.Took {
					m = one
				}
				if m.Took <= longestRefusal/2 {
					break
				}
			}
			if m.Took > longestRefusal && m.Busy > longestRefusal*9/10 { // with others at work a second of the wall is less than one of work
				t.Errorf("took %v, of which %v working", m.Took, m.Busy)
			}
			if m.Memory > heaviestRefusal {
				t.Errorf("took %d MB of memory", m.Memory>>20)
			}
			if m.Code != 3 {
				t.Errorf("exit code %d, want 3", m.Code)
			}
			if m.Out != "" {
				t.Errorf("on standard output: %.300q", m.Out)
			}
			if strings.ContainsFunc(m.Err, func(r rune) bool {
				return r != '\n' && r != '\t' && (diagnostic.Unsafe(r) || r == '\ufffe' || r == '\uffff')
			}) {
				t.Errorf("more than text reaches the terminal: %.300q", m.Err)
			}
			if len(m.Err) > 40_000 {
				t.Errorf("%d bytes reach the terminal", len(m.Err))
			}
			place := regexp.QuoteMeta(h.path)
			if h.line > 0 {
				place += ":" + strconv.Itoa(h.line) + ":[0-9]+"
			}
			want := regexp.MustCompile(`\A` + place + `: error: .*\[` + regexp.QuoteMeta(h.code) + `\]\n`)
			if !want.MatchString(m.Err) {
				t.Errorf("want %s in line %d first, got\n%.600s", h.code, h.line, m.Err)
			}
		})
	}
}

var firstLine = regexp.MustCompile(`\A# ([0-9]+) ([a-z]+/[a-z-]+)\r?\n`)

func hostileFolder(t *testing.T) []hostile {
	t.Helper()
	files, err := filepath.Glob("../../../testdata/hostile/*.yaml")
	if err != nil || len(files) < 60 {
		t.Fatalf("hostile files: %d, %v", len(files), err)
	}
	known := diagnostic.Codes()
	var out []hostile
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		m := firstLine.FindSubmatch(data)
		if m == nil || known[string(m[2])] == "" {
			t.Fatalf("%s does not begin with # LINE CODE", f)
		}
		line, _ := strconv.Atoi(string(m[1]))
		out = append(out, hostile{f, line, string(m[2])})
	}
	return out
}

const hostileHead = "canewright: recipe 1\ntitle: a\nid: a\nversion: 1\ninstrument: bassoon 1\n"

func hostileMade(t *testing.T) []hostile {
	t.Helper()
	rep := strings.Repeat
	lines := func(n int, line string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, line, i)
		}
		return b.String()
	}
	wide := func(s string, little bool) string {
		var b bytes.Buffer
		for _, u := range utf16.Encode([]rune("\ufeff" + s)) {
			if little {
				b.Write([]byte{byte(u), byte(u >> 8)})
			} else {
				b.Write([]byte{byte(u >> 8), byte(u)})
			}
		}
		return b.String()
	}
	const stage = "stages: [{stage: a}]\n"
	made := []struct {
		name, data string
		line       int
		code       string
	}{
		{"empty", "", 1, "yaml/wrong-shape"},
		{"nul", "canewright: recipe\x00 1\n", 1, "yaml/unsafe-character"},
		{"only-nul", rep("\x00", 100_000), 1, "yaml/unsafe-character"},
		{"escape-sequence", hostileHead + "about: \x1b[2J\x1b]0;owned\x07\n" + stage, 6, "yaml/unsafe-character"},
		{"escape-sequence-of-eight-bits", hostileHead + "about: \u009b2J\n" + stage, 6, "yaml/unsafe-character"},
		{"invalid-utf8", hostileHead + "about: caf\xe9\n" + stage, 6, "yaml/not-utf8"},
		{"overlong-utf8", "title: \xc0\xaf\n", 1, "yaml/not-utf8"},
		{"surrogate-in-utf8", "title: \xed\xa0\x80\n", 1, "yaml/not-utf8"},
		{"utf16-little", wide(hostileHead, true), 1, "yaml/not-utf8"},
		{"utf16-big", wide(hostileHead, false), 1, "yaml/not-utf8"},
		{"utf32", "\xff\xfe\x00\x00c\x00\x00\x00", 1, "yaml/not-utf8"},
		{"two-byte-order-marks", "\ufeff\ufeff" + hostileHead + stage, 1, "yaml/unsafe-character"},
		{"lone-carriage-returns", strings.ReplaceAll(hostileHead+stage, "\n", "\r"), 1, "yaml/unsafe-character"},
		{"crlf", strings.ReplaceAll(hostileHead+"stages:\n  - stage: a\n    nothing: b\n", "\n", "\r\n"), 8, "yaml/unknown-key"},
		{"form-feed", hostileHead + "\f" + stage, 6, "yaml/unsafe-character"},
		{"program", "\x7fELF\x02\x01\x01" + rep("\x00", 64), 1, "yaml/unsafe-character"},
		{"one-blank-line", rep(" ", 1<<20), 1, "yaml/wrong-shape"},
		{"blanks-behind-values", hostileHead + "stages: [" + rep("a,", 60_000) + "]" + rep(" ", 900_000) + "\n", 6, "recipe/wrong-shape"},
		{"blanks-behind-a-text", hostileHead + "about: " + rep("x", 900_000) + rep(" ", 900_000) + "\nstage: a\n", 7, "yaml/unknown-key"},
		{"empty-lines", rep("\n", 2_000_000), 1, "yaml/wrong-shape"},
		{"comments", rep("#\n", 1_000_000), 1, "yaml/wrong-shape"},
		{"too-large", rep("# long\n", 400_000), 0, "yaml/too-large"},
		{"formula-of-ten-megabytes", hostileHead + "stages:\n  - stage: a\n    expect:\n      - wire.first" + rep(" + wire.first", 800_000) + " > 1 mm\n", 0, "yaml/too-large"},
		{"formula-of-a-megabyte", hostileHead + "stages:\n  - stage: a\n    expect:\n      - wire.first" + rep(" + wire.first", 80_000) + " > 1 mm\n", 9, "formula/too-long"},
		{"brackets", "stages: " + rep("[", 2_000_000), 1, "yaml/too-many-nodes"},
		{"braces", "stages: " + rep("{a: ", 500_000), 1, "yaml/too-many-nodes"},
		{"brackets-to-the-limit", "stages: " + rep("[", 90_000), 1, "yaml/too-deep"},
		{"dashes", rep("- ", 1_000_000), 1, "yaml/too-many-nodes"},
		{"dashes-to-the-limit", rep("- ", 90_000) + "a", 1, "yaml/too-deep"},
		{"parentheses", hostileHead + "stages:\n  - stage: a\n    expect:\n      - " + rep("(", 900_000) + "\n", 9, "formula/too-long"},
		{"many-items", hostileHead + "stages:\n" + rep("-\n", 500_000), 189_995, "yaml/too-many-nodes"},
		{"many-keys", lines(150_000, "k%d: 1\n"), 95_001, "yaml/too-many-nodes"},
		{"ten-thousand-and-one-stages", hostileHead + "stages:\n" + rep("  - stage: a\n", 10_001), 10_007, "recipe/too-long"},
		{"open-quote", "title: \"" + rep("a\n", 900_000), 1, "yaml/unclosed-quote"},
		{"long-key", hostileHead + "? " + rep("k", 1_500_000) + "\n: a\n" + stage, 6, "yaml/unknown-key"},
		{"long-keys-twice", hostileHead + "? " + rep("k", 900_000) + "\n: a\n? " + rep("k", 900_000) + "\n: a\n" + stage, 8, "yaml/duplicate-key"},
		{"long-name", hostileHead + "stages: [{stage: " + rep("x", 1_500_000) + "}]\n", 6, "recipe/name"},
		{"long-number", hostileHead + "targets:\n  wire.first: " + rep("9", 1_500_000) + " mm\n" + stage, 7, "recipe/bad-tolerance"},
		{"long-exponent", hostileHead + "targets:\n  wire.first: 1e" + rep("9", 1_500_000) + " mm\n" + stage, 7, "recipe/bad-tolerance"},
		{"look-with-ten-thousand-wrong-answers", hostileHead + "stages:\n  - stage: a\n    look:\n      question: q\n      answers:\n" + lines(10_000, "        a%d: going nowhere\n"), 11, "recipe/outcome"},
		{"unknown-names", hostileHead + "stages:\n  - stage: a\n    measure:\n" + lines(60_000, "      - wire.frist%d\n"), 10_009, "recipe/too-long"},
		{"unknown-names-to-the-limit", hostileHead + "stages:\n  - stage: a\n    measure:\n" + lines(10_000, "      - wire.frist%d\n"), 9, "recipe/unknown-dimension"},
		{"unknown-ways-back", hostileHead + "stages:\n" + lines(8_000, "  - {stage: a%d, look: {question: q, answers: {x: {go back to: nowhere, at most: 2 times, then: set aside}}}}\n"), 7, "recipe/unknown-stage"},
		{"unknown-agains", hostileHead + "stages:\n" + lines(9_000, "  - {stage: step %d, again: stpe}\n"), 7, "recipe/unknown-stage"},
		{"blank-names-repeated", hostileHead + "stages:\n  - stage: a\n    times: 20\n    stages:\n      - stage: b\n        times: 20\n        stages:\n" + rep("          - {stage: ' '}\n", 9_000), 13, "recipe/name"},
		{"again-of-again", hostileHead + "stages:\n  - {stage: a, do: " + rep("wind ", 10_000) + "}\n" + rep("  - {stage: a, again: a}\n", 5_000), 87, "recipe/too-long"},
		{"braces-to-the-limit", hostileHead + "stages:\n  - stage: a\n    do: '" + rep("{wire.frist} ", 100_000) + "'\n", 8, "recipe/unknown-dimension"},
		{"long-setting-shown-often", hostileHead + "settings:\n  long: 14.6" + rep(" ", 500_000) + "mm\nstages:\n  - stage: a\n    do: '" + rep("{long}", 100_000) + "'\n", 10, "recipe/too-long"},
		{"grids-measured-often", hostileHead + "targets:\n  blade.thickness: {from: collar, at: " + lines(40, "%d ") + "mm, spine: " + rep("0.5 ", 40) + "mm, within: ± 0.1 mm}\nstages:\n" + rep("  - {stage: a, measure: blade.thickness}\n", 9_000), 634, "recipe/too-long"},
		{"many-tools", hostileHead + "stages:\n  - stage: a\n    tools:\n" + lines(60_000, "      - knief%d\n"), 9, "recipe/misspelt-tool"},
	}
	dir := t.TempDir()
	var out []hostile
	for _, m := range made {
		path := filepath.Join(dir, m.name+".yaml")
		if err := os.WriteFile(path, []byte(m.data), 0o600); err != nil {
			t.Fatal(err)
		}
		out = append(out, hostile{path, m.line, m.code})
	}
	return out
}

// measured is one run of the program.
type measured struct {
	Out, Err   string
	Code       int
	Took, Busy time.Duration // by the clock, and working
	Memory     int64         // most at one time, bytes
}

// measuring asks the test binary to run a program and say what it took. A
// process begins with the memory of the one that starts it in its account, and
// a test binary full of tests is no fair start.
const measuring = "CANEWRIGHT_TEST_MEASURE"

func init() {
	if os.Getenv(measuring) == "" {
		return
	}
	var out, errs bytes.Buffer
	ctx, stop := context.WithTimeout(context.Background(), 20*time.Second)
	defer stop()
	cmd := exec.CommandContext(ctx, os.Args[1], os.Args[2:]...)
	cmd.Env = slices.DeleteFunc(os.Environ(), func(v string) bool { return strings.HasPrefix(v, measuring) || strings.HasPrefix(v, "GO") })
	cmd.Stdout, cmd.Stderr = &out, &errs
	start := time.Now()
	if err := cmd.Run(); cmd.ProcessState == nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	m := measured{Out: out.String(), Err: errs.String(), Code: cmd.ProcessState.ExitCode(), Took: time.Since(start),
		Busy: cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()}
	if u, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		m.Memory = u.Maxrss << 10 // Linux counts in KiB
	}
	if err := json.NewEncoder(os.Stdout).Encode(m); err != nil {
		os.Exit(1)
	}
	os.Exit(0)
}

func measure(t *testing.T, exe string, args ...string) measured {
	t.Helper()
	cmd := exec.Command(os.Args[0], append([]string{exe}, args...)...)
	home := t.TempDir()
	cmd.Env = []string{measuring + "=1", "HOME=" + home, "TMPDIR=" + home, "PATH=" + os.Getenv("PATH")}
	data, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var m measured
	if err := json.Unmarshal(data, &m); err != nil {
		t.Fatalf("%v: %.300s", err, data)
	}
	if m.Memory < 5<<20 || m.Took <= 0 {
		t.Fatalf("what the program took was not measured: %d bytes, %v", m.Memory, m.Took)
	}
	return m
}

// Cases beside a recipe are a stranger's too.
func TestHostileCasesAreRefused(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ data, want string }{
		"empty":           {"", "c:1:1: error: a file of cases must be a map, not nothing [yaml/wrong-shape]"},
		"another format":  {"canewright: recipe 1\ncases:\n  - {case: a, stage: b, readings: {}, verdicts: {}}\n", "c:1:13: error: \"recipe 1\" is not a format"},
		"no list":         {"canewright: cases 1\ncases: all\n", "c:2:8: error: there are no cases here"},
		"an alias":        {"canewright: cases 1\ncases: [&a {case: a}, *a]\n", "c:2:9: error:"},
		"a text for one":  {"canewright: cases 1\ncases: [a]\n", "c:2:9: error: a case must be a map"},
		"readings a list": {"canewright: cases 1\ncases: [{case: a, stage: b, readings: [1, 2], verdicts: {}}]\n", "c:2:39: error: readings is not a list of names"},
		"a control":       {"canewright: cases 1\ncases:\n  - {case: \"\\e[2J\"}\n", "c:3:13: error: the character U+001B"},
		"many":            {"canewright: cases 1\ncases:\n" + strings.Repeat("- {case: a}\n", 100_000), "c:63335:1: error: the file holds more than 150000 values"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			_, list := recipe.LoadCases("c", []byte(c.data))
			var b bytes.Buffer
			if err := list.Text(&b); err != nil {
				t.Fatal(err)
			}
			if !strings.HasPrefix(b.String(), c.want) {
				t.Errorf("got %.300s\nwant %s", b.String(), c.want)
			}
		})
	}
}
