package cli_test

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Every evening in testdata/evenings is played again, by glob, and its screens
// are held against the file beside it. UPDATE=1 rewrites those.
func TestEvenings(t *testing.T) {
	t.Parallel()
	scripts, err := filepath.Glob(filepath.Join(evenings, "*.evening"))
	if err != nil || len(scripts) < 2 {
		t.Fatalf("evenings: %d found, %v", len(scripts), err)
	}
	for _, script := range scripts {
		name := strings.TrimSuffix(filepath.Base(script), ".evening")
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			e := newEvening(t)
			e.play(script)
			screens := e.screen.String()
			for _, machine := range []string{e.home, os.TempDir()} {
				if strings.Contains(screens, machine) {
					t.Errorf("the screens show %s, which is of this machine", machine)
				}
			}
			e.holdsColumns(60)
			golden := filepath.Join(evenings, name+".screens")
			if update, _ := strconv.ParseBool(os.Getenv("UPDATE")); update {
				if err := os.WriteFile(golden, []byte(screens), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if line, got, wanted := firstDifference(screens, string(want)); line > 0 {
				t.Errorf("%s:%d\ngot   %s\nwant  %s\nUPDATE=1 rewrites it; read the difference", golden, line, got, wanted)
			}
		})
	}
}

// The same evening gives the same screens, whatever ran before.
func TestAnEveningPlayedTwiceIsAlike(t *testing.T) {
	t.Parallel()
	script := filepath.Join(evenings, "1-tubes-to-shaped.evening")
	first, second := newEvening(t), newEvening(t)
	first.play(script)
	second.play(script)
	if line, a, b := firstDifference(first.screen.String(), second.screen.String()); line > 0 {
		t.Errorf("line %d\nfirst  %s\nsecond %s", line, a, b)
	}
}

// A script that is out of step with the questions is no evidence of anything.
func TestAnEveningOutOfStepFails(t *testing.T) {
	t.Parallel()
	const begin = "clock 2026-03-28 19:02 Europe/Vienna\n$ follow bassoon/from-tube --tubes 1 --batch spring\n"
	const note = "> it goes into a bag and out\n"
	for name, c := range map[string]struct{ script, want string }{
		"in step":                           {"mistakes 1\n" + begin + "# mistake: not yet\n> ok\n" + note + ">> 25.1\nasks Marked end, widest\n> rack\n> who Mira\n> ?\n> quit\n", ""},
		"an answer too few":                 {begin + ">> 25.1\n> quit\n", `line 3 was refused: "25.1"`},
		"an answer too many":                {begin + note + ">> 25.1\n>> 25.4\n>> 24.9\n>> 25.2\n>> 25.3\n> quit\n", `line 8 was refused: "25.3"`},
		"a reading that is doubted":         {begin + note + ">> 42.3\n>> 24.3\n> quit\n", `line 4 was refused: "42.3"`},
		"a piece that is not there":         {begin + note + "> piece 9\n> quit\n", `line 4 was refused: "piece 9"`},
		"a mistake that is none":            {"mistakes 1\n" + begin + "# mistake: of the author's\n" + note + "> quit\n", `line 5 was to be refused and was taken: "it goes into a bag and out"`},
		"more mistakes than the script has": {begin + "# mistake: not yet\n> ok\n> quit\n", "1 lines are mistakes on purpose, the script says 0"},
		"another question":                  {begin + note + "asks Other end, narrowest\n> quit\n", `"Other end, narrowest" is not asked`},
		"a line behind the end":             {begin + note + "> quit\n> done\n", "the program has ended before this line: > done"},
		"a line missing at the end":         {begin + note + ">> 25.1\n", "the program asks for more than is scripted"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if got := newEvening(t).perform("script", c.script); !strings.HasSuffix(got, c.want) || (got == "") != (c.want == "") {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// firstDifference is the number of the first line that differs; 0 for none.
func firstDifference(got, want string) (line int, a, b string) {
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := 0; i < max(len(g), len(w)); i++ {
		a, b = "(nothing)", "(nothing)"
		if i < len(g) {
			a = g[i]
		}
		if i < len(w) {
			b = w[i]
		}
		if a != b {
			return i + 1, a, b
		}
	}
	return 0, "", ""
}
