package conform

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

func self(t testing.TB, mode string) Program {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	// Not copied: the test binary is large.
	return Program{Path: exe, Args: []string{bePlugin, mode}, Folder: t.TempDir()}
}

func failed(r *Report) []string {
	var out []string
	for _, c := range r.Checks {
		if c.Result == Failed {
			out = append(out, c.Name)
		}
	}
	return out
}

func TestAPluginWithoutAnySDKPasses(t *testing.T) {
	t.Parallel()
	for _, mode := range []string{"sound", "knows-no-shutdown"} {
		t.Run(mode, func(t *testing.T) {
			t.Parallel()
			r, err := Run(t.Context(), self(t, mode), Options{Patience: patience})
			if err != nil {
				t.Fatal(err)
			}
			if !r.OK || r.Instrument != "shawm" || r.Version != "0.9" || len(r.SHA256) != 64 || len(r.Checks) != len(asks) {
				t.Errorf("%+v\n%s", r, r)
			}
			if runtime.GOOS == "linux" && r.Count(Skipped) != 0 {
				t.Errorf("something was skipped on Linux:\n%s", r)
			}
		})
	}
}

// A tool nobody knows may be the author's own; it is told, and nothing fails.
func TestAToolOfItsOwnIsTold(t *testing.T) {
	t.Parallel()
	r, err := Run(t.Context(), self(t, "tool-of-its-own"), Options{Patience: patience})
	if err != nil || !r.OK {
		t.Fatalf("%v\n%s", err, r)
	}
	if want := `worth a look: the tool of gouge.centre, "my grandfather's gauge", is not in the tool list`; !strings.Contains(r.String(), want) {
		t.Errorf("it does not say %q:\n%s", want, r)
	}
}

func TestWhatTheKitFinds(t *testing.T) {
	t.Parallel()
	cases := []struct{ mode, check, seen string }{
		{"prints-early", handshake, `the first line is "good�[2J morning"`},
		{"ends-at-once", handshake, `it ended (exit status 7) before the handshake; it wrote "cannot find my tables�[31m"`},
		{"hangs-at-start", handshake, "no line within"},
		{"wire-7", handshake, `it speaks wire "7", the host wire 1`},
		{"framing-2", handshake, `begins with "2"`},
		{"speaks-json", handshake, `it speaks "json"`},
		{"no-certificate", handshake, "no certificate"},
		{"padded-certificate", handshake, "certificate cannot be read"},
		{"listens-elsewhere", handshake, "its socket is "},
		{"listens-to-everybody", handshake, "it listens at tcp [::]:"},
		{"shows-another-certificate", connection, "certificate"},
		{"odd-name", describe, "../shawm"},
		{"wire-0", describe, "it says it answers in wire 0"},
		{"needy", describe, "it needs music"},
		{"escapes-in-its-version", describe, "control characters"},
		{"hangs-in-a-call", inTime, "Get shawm 1 was not answered within"},
		{"dies-mid-call", inTime, "it ended in the middle of Get shawm 1 (exit status 3)"},
		{"panics", inTime, `it wrote "panic: my own fault`},
		{"answers-with-an-error", inTime, "not today"},
		{"huge", answerSize, "larger than max"},
		{"lists-nothing", versions, "List names 0 sets"},
		{"lies-about-its-version", versions, "List says shawm 1.9, Get sends shawm 1.2"},
		{"lies-about-its-name", versions, `Describe says "shawm", List says "bombard"`},
		{"unknown-kind", readable, `its kind "colour" is unknown`},
		{"odd-dimension-name", names, "Gouge Centre"},
		{"repeated-names", names, "two dimensions are called gouge.centre"},
		{"no-source", sources, "gouge.centre has no source"},
		{"published-by-nobody", sources, "gouge.centre has no source"},
		{"low-above-high", ranges, "begins above its end"},
		{"usual-outside", ranges, "the usual value of gouge.centre"},
		{"no-datum", words, "line has no datum"},
		{"misspelt-tool", words, `the tool of gouge.centre, "calipper", is not in the tool list; did you mean caliper?`},
		{"no-words", words, "gouge.centre has no word for too much"},
		{"formula-of-nothing", formulas, "formula of gap, column 1: "},
		{"formula-of-another-kind", formulas, "yields a area, not a length"},
		{"escapes-in-a-title", usable, "control characters"},
		{"unit-of-another-kind", usable, "cannot be read in \"g\""},
		{"has-everything", notFound, "Get nobody-has-this 1 is answered with a set"},
		{"minds-capabilities", unknown, "what is that?"},
		{"echoes-what-it-does-not-know", unknown, "Describe is answered differently"},
		{"changes-its-answer", stable, "asked again, Get shawm 1 gives other bytes"},
		{"changes-with-the-start", stable, "started again, Get shawm 1 gives other bytes"},
		{"ignores-cancel", cancel, "with nothing asked of it, it worked"},
		{"listens-twice", ownSocket, "it listens at tcp 127.0.0.1:"},
		{"floods-memory", handshake, "it took more than 128 MiB of memory and was ended"},
		{"floods-in-a-call", memory, "it took more than 128 MiB of memory and was ended"},
		{"stays-for-ever", stops, "later it still runs"},
		{"leaves-a-child", stops, "a program it had started runs on"},
		{"prints-later", quiet, `after the handshake it printed "serving now`},
		{"knows-shutdown-alone", hostGone, "it still runs"},
		{"writes-files", ownFolder, "it wrote notes.txt"},
	}
	// A run is waiting most of the time: more of them go beside each other than
	// there are processors.
	reports, faults := make([]*Report, len(cases)), make([]error, len(cases))
	turn := make(chan bool, 8)
	var all sync.WaitGroup
	for i, c := range cases {
		p := self(t, c.mode)
		all.Go(func() {
			turn <- true
			reports[i], faults[i] = Run(t.Context(), p, Options{Patience: patience, MostMemory: 128 << 20})
			<-turn
		})
	}
	all.Wait()
	for i, c := range cases {
		t.Run(c.mode, func(t *testing.T) {
			if runtime.GOOS != "linux" && slices.Contains([]string{ownSocket, memory, cancel}, c.check) {
				t.Skip("only Linux tells")
			}
			r := reports[i]
			if faults[i] != nil {
				t.Fatal(faults[i])
			}
			for _, one := range r.Checks {
				if one.Name != c.check {
					continue
				}
				if all := strings.Join(one.Seen, "\n"); one.Result != Failed || !strings.Contains(all, c.seen) || one.Do == "" {
					t.Errorf("%s: %s; want %q\n%s", one.Name, one.Result, c.seen, r)
				}
				t.Logf("%s: %v; do: %s", one.Name, one.Seen, one.Do)
			}
			// Nothing else is found, but for what follows from it.
			follows := map[string]string{answerSize: inTime, memory: inTime, describe: versions, versions: notFound, stops: hostGone}
			for _, also := range failed(r) {
				if also != c.check && also != follows[c.check] && also != throughHost {
					t.Errorf("%s failed as well:\n%s", also, r)
				}
			}
			if strings.ContainsAny(r.String(), "\x1b\x07") {
				t.Errorf("%q would act on a terminal", r)
			}
		})
	}
}

// Nothing of a plugin may be left, whatever it did.
func TestNothingIsLeft(t *testing.T) {
	t.Parallel()
	if runtime.GOOS != "linux" {
		t.Skip("only Linux tells")
	}
	p := self(t, "leaves-a-child")
	marker := fmt.Sprintf("marker-%d", time.Now().UnixNano())
	p.Args = append(p.Args, marker)
	if _, err := Run(t.Context(), p, Options{Patience: patience}); err != nil {
		t.Fatal(err)
	}
	found, err := filepath.Glob("/proc/[0-9]*/cmdline")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		if args, err := os.ReadFile(f); err == nil && strings.Contains(string(args), marker) {
			t.Errorf("%s is left: %q", f, args)
		}
	}
	if entries, err := os.ReadDir(p.Folder); err != nil || len(entries) != 0 {
		t.Errorf("the folder that was copied holds %v: %v", entries, err)
	}
}

func TestNothingRunsBeforeItIsAgreedTo(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	ran := filepath.Join(t.TempDir(), "ran")
	script := filepath.Join(dir, "shawm")
	if err := os.WriteFile(script, []byte("#!/bin/sh\necho > "+ran+"\n"), 0o755); err != nil {
		t.Fatal(err)
	}
	no := errors.New("no, thank you")
	var shown Copied
	_, err := Run(t.Context(), Program{Path: script}, Options{Agree: func(c Copied) error { shown = c; return no }})
	if !errors.Is(err, no) {
		t.Errorf("got %v", err)
	}
	want, size, err := sum(script)
	if err != nil || shown.SHA256 != want || shown.Size != size || shown.Path != script {
		t.Errorf("shown was %+v, want %s of %d bytes (%v)", shown, want, size, err)
	}
	if _, err := os.Stat(ran); err == nil {
		t.Error("it ran")
	}
}

// What was hashed is what runs, also where the file is changed meanwhile.
func TestTheCopyThatWasShownIsRun(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("the plugin is a shell script")
	}
	script := filepath.Join(t.TempDir(), "shawm")
	write := func(word string) {
		if err := os.WriteFile(script, []byte("#!/bin/sh\necho "+word+"\n"), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	write("first")
	r, err := Run(t.Context(), Program{Path: script}, Options{Patience: patience, Agree: func(Copied) error {
		write("second")
		return nil
	}})
	if err != nil {
		t.Fatal(err)
	}
	if seen := r.Checks[0].Seen; !strings.Contains(strings.Join(seen, " "), `"first"`) {
		t.Errorf("saw %v", seen)
	}
}

func TestAReportIsReadByScripts(t *testing.T) {
	t.Parallel()
	r, err := Run(t.Context(), self(t, "ends-at-once"), Options{Patience: patience})
	if err != nil {
		t.Fatal(err)
	}
	b, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var back struct {
		OK     bool `json:"ok"`
		Checks []struct {
			Check, Asks, Result, Do string
			Seen                    []string
		} `json:"checks"`
	}
	if err := json.Unmarshal(b, &back); err != nil {
		t.Fatal(err)
	}
	if back.OK || len(back.Checks) != len(asks) || back.Checks[0].Check != handshake || back.Checks[0].Result != "failed" || back.Checks[0].Do == "" {
		t.Errorf("%s", b)
	}
	if c := back.Checks[3]; c.Result != "skipped" || c.Seen[0] != "not reached: see handshake" {
		t.Errorf("%+v", c)
	}
	if want := "1 of 24 checks failed, 22 skipped"; !strings.HasSuffix(r.Summary(), want) {
		t.Errorf("%q", r.Summary())
	}
}

func TestCancelledRun(t *testing.T) {
	t.Parallel()
	ctx, stop := context.WithTimeout(t.Context(), 300*time.Millisecond)
	defer stop()
	begun := time.Now()
	_, err := Run(ctx, self(t, "hangs-at-start"), Options{})
	if !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("got %v", err)
	}
	if took := time.Since(begun); took > 4*time.Second {
		t.Errorf("it took %s", took)
	}
}

func TestWhatCannotBeTried(t *testing.T) {
	t.Parallel()
	for _, p := range []Program{{Path: filepath.Join(t.TempDir(), "nothing")}, {Path: t.TempDir()}, {Path: "x", Folder: filepath.Join(t.TempDir(), "nothing")}} {
		if r, err := Run(t.Context(), p, Options{}); err == nil || !strings.HasPrefix(err.Error(), "try ") {
			t.Errorf("%+v gives %v, %v", p, r, err)
		}
	}
}

func TestChangesOfAFolder(t *testing.T) {
	t.Parallel()
	before := []string{"a\x001", "b\x002", "c\x003"}
	after := []string{"a\x001", "b\x009", "d\x004"}
	if got := changes(before, after); !slices.Equal(got, []string{"it changed b", "it removed c", "it wrote d"}) {
		t.Errorf("got %q", got)
	}
}

// recorder is a test that is not this one.
type recorder struct {
	testing.TB
	said []string
}

func (r *recorder) Errorf(format string, a ...any) {
	r.said = append(r.said, fmt.Sprintf(format, a...))
}

func TestTestFailsWhatFails(t *testing.T) {
	t.Parallel()
	r := &recorder{TB: t}
	Test(r, self(t, "prints-later"), Options{Patience: patience})
	if len(r.said) != 1 || !strings.Contains(r.said[0], "serving now") || !strings.Contains(r.said[0], "do: print to the standard error") {
		t.Errorf("it said %q", r.said)
	}
}
