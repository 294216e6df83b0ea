package cli_test

import (
	"bytes"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"
	_ "time/tzdata" // the evenings name zones; no machine need have them

	"github.com/charmbracelet/x/ansi"

	"canewright/cmd/internal/cli"
)

var evenings = filepath.Join("..", "..", "..", "testdata", "evenings")

// A transcript is alike on every machine, also where a command writes times in
// the machine's own zone. Scripts run in UTC too.
func init() { time.Local = time.UTC }

// betweenLines passes between two typed lines, where nothing else is said.
const betweenLines = 15 * time.Second

// evening plays a script. Its lines:
//
//	# a remark of the script's own
//	mistakes 3                  so many lines are refused on purpose
//	# mistake: why              the next typed line is one of them
//	asks TEXT                   TEXT stands in what the program has said last
//	after 1-tubes-to-shaped.evening   played first, off the screen
//	clock 2026-03-28 19:02 Europe/Vienna
//	zone America/New_York       the player travels
//	clock-back 5h               the clock is set back
//	+20m                        time goes by
//	from-here                   key presses are counted from here on
//	~ what happens at the bench; stands in the transcript
//	$ follow … --batch "two words"
//	$ export … --output ~/x.csv ~ is the player's home
//	file x.csv                  how many lines it has, and its first two
//	> a line typed to the running command; its words are key presses
//	>> a line that holds readings: they are no key presses
//
// A typed line is handed out only when the program has written its prompt and
// reads, so the clock stands still while the program works.
type evening struct {
	t       *testing.T
	home    string
	screen  bytes.Buffer
	file    string
	lines   []string
	at      int // the next line of the script
	failed  string
	presses int            // keys, besides readings
	byStage map[string]int // the same, by the stage on the screen: "5 of 39"
	order   []string       // the keys of byStage, in order
	begun   int            // bytes of the screen before the counting began

	typed    string // the line typed last to the running command
	typedAt  int    // its number in the script; 0: none, or it was looked at
	heard    int    // bytes of the screen when it was handed out
	onWrong  bool   // the next typed line is a mistake on purpose
	isWrong  bool   // typed is one
	wrong    int    // mistakes on purpose so far
	mistakes int    // as the script has it

	mu  sync.Mutex // the program may read the clock from another goroutine
	now time.Time
	own *rand.ChaCha8
}

func newEvening(t *testing.T) *evening {
	t.Helper()
	return &evening{t: t, home: t.TempDir(), own: rand.NewChaCha8([32]byte{1}), byStage: map[string]int{}}
}

// clock is what the program is given as the time.
func (e *evening) clock() time.Time {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.now
}

func (e *evening) pass(d time.Duration) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.now = e.now.Add(d)
}

// play plays a script from a file to its end.
func (e *evening) play(file string) {
	e.t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		e.t.Fatal(err)
	}
	if wrong := e.perform(file, string(data)); wrong != "" {
		e.t.Fatalf("%s\n%s", wrong, e.tail())
	}
}

// perform plays a script and says what is wrong with it; "" for nothing.
func (e *evening) perform(file, script string) string {
	e.file, e.lines, e.at = file, strings.Split(strings.TrimRight(script, "\n"), "\n"), 0
	e.wrong, e.mistakes = 0, 0
	for e.at < len(e.lines) && e.failed == "" {
		line := e.lines[e.at]
		e.at++
		switch {
		case e.beside(line):
		case strings.HasPrefix(line, "$ "):
			e.run(line[2:])
		default:
			e.must(fmt.Errorf("no command reads this line: %s", line))
		}
	}
	if e.failed == "" && e.wrong != e.mistakes {
		e.failed = fmt.Sprintf("%s: %d lines are mistakes on purpose, the script says %d", e.file, e.wrong, e.mistakes)
	}
	return e.failed
}

// before plays another script of the same folder first, off the screen.
func (e *evening) before(name string) {
	file, lines, at, wrong, mistakes := e.file, e.lines, e.at, e.wrong, e.mistakes
	e.play(filepath.Join(filepath.Dir(file), name))
	e.file, e.lines, e.at, e.wrong, e.mistakes = file, lines, at, wrong, mistakes
	e.screen.Reset()
	e.heard = 0
	e.presses, e.byStage, e.order, e.begun = 0, map[string]int{}, nil, 0
}

// beside does what a line says beside the program: the clock and the telling.
func (e *evening) beside(line string) bool {
	word, rest, _ := strings.Cut(line, " ")
	switch {
	case strings.HasPrefix(line, "# mistake:"):
		e.onWrong = true
	case strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#"):
	case word == "mistakes":
		n, err := strconv.Atoi(rest)
		e.must(err)
		e.mistakes = n
	case word == "asks":
		if said := e.screen.String()[e.heard:]; !strings.Contains(oneLine(said), oneLine(rest)) {
			e.must(fmt.Errorf("%q is not asked", rest))
		}
	case word == "~":
		e.tell(rest)
	case word == "from-here":
		e.presses, e.byStage, e.order, e.begun = 0, map[string]int{}, nil, e.screen.Len()
	case word == "file":
		e.tellFile(rest)
	case word == "after":
		e.before(rest)
	case word == "clock":
		i := strings.LastIndex(rest, " ")
		zone, err := time.LoadLocation(rest[i+1:])
		e.must(err)
		at, err := time.ParseInLocation("2006-01-02 15:04", rest[:i], zone)
		e.must(err)
		e.mu.Lock()
		e.now = at
		e.mu.Unlock()
	case word == "zone":
		zone, err := time.LoadLocation(rest)
		e.must(err)
		e.mu.Lock()
		e.now = e.now.In(zone)
		e.mu.Unlock()
		e.tell("the clock is in " + rest + " now: " + e.wall())
	case word == "clock-back":
		d, err := time.ParseDuration(rest)
		e.must(err)
		e.pass(-d)
		e.tell("the clock is set back by " + rest + ": " + e.wall())
	case strings.HasPrefix(line, "+"):
		d, err := time.ParseDuration(line[1:])
		e.must(err)
		e.pass(d)
		e.tell(line[1:] + " later: " + e.wall())
	default:
		return false
	}
	return true
}

func (e *evening) must(err error) {
	if err != nil && e.failed == "" {
		e.failed = fmt.Sprintf("%s:%d: %v", e.file, e.at, err)
	}
}

func (e *evening) wall() string { return e.clock().Format("Mon 2006-01-02 15:04 MST") }

// tell writes into the transcript what is no output of the program's; a prompt
// that waits is moved behind it.
func (e *evening) tell(text string) {
	waits := bytes.HasSuffix(e.screen.Bytes(), []byte("\n> "))
	if waits {
		e.screen.Truncate(e.screen.Len() - 2)
	}
	fmt.Fprintf(&e.screen, "    ~ %s\n", text)
	if waits {
		e.screen.WriteString("> ")
	}
}

// run runs one command as the program does.
func (e *evening) run(command string) {
	if e.screen.Len() > 0 {
		e.screen.WriteString("\n")
	}
	e.heard = e.screen.Len()
	fmt.Fprintf(&e.screen, "[%s] $ canewright %s\n", e.wall(), command)
	env := map[string]string{"XDG_DATA_HOME": e.home, "HOME": e.home, "LOCALAPPDATA": e.home}
	out := homely{&e.screen, e.home}
	code := cli.Main(e.words(command), cli.System{
		In: e, Out: out, Err: out, Env: func(k string) string { return env[k] },
		Now: e.clock, Rand: e.own, Width: 60,
	})
	e.typedAt = 0 // a line that ends the program was taken
	if code != 0 {
		fmt.Fprintf(&e.screen, "(exit %d)\n", code)
	}
	if e.at < len(e.lines) && strings.HasPrefix(e.lines[e.at], ">") {
		e.must(fmt.Errorf("the program has ended before this line: %s", e.lines[e.at]))
	}
}

// words splits a command at blanks outside quotes.
func (e *evening) words(command string) []string {
	var out []string
	for i, part := range strings.Split(command, `"`) {
		if i%2 == 1 {
			out = append(out, part)
			continue
		}
		for _, w := range strings.Fields(part) {
			if name, ok := strings.CutPrefix(w, "~/"); ok {
				w = filepath.Join(e.home, name)
			}
			out = append(out, w)
		}
	}
	return out
}

// homely writes the player's home as ~, as it is another on each machine.
type homely struct {
	to   io.Writer
	home string
}

func (h homely) Write(p []byte) (int, error) {
	text := strings.ReplaceAll(string(p), h.home+string(filepath.Separator), "~/")
	if _, err := io.WriteString(h.to, text); err != nil {
		return 0, err
	}
	return len(p), nil
}

// tellFile tells of a file in the player's home.
func (e *evening) tellFile(name string) {
	data, err := os.ReadFile(filepath.Join(e.home, name))
	e.must(err)
	lines := strings.Split(strings.TrimRight(string(data), "\r\n"), "\n")
	e.tell(fmt.Sprintf("%s has %d lines:", name, len(lines)))
	for _, l := range lines[:min(2, len(lines))] {
		e.tell(strings.TrimRight(l, "\r"))
	}
}

// Read hands out the next typed line. The program calls it behind its prompt.
func (e *evening) Read(p []byte) (int, error) {
	e.judgeLine()
	if e.failed == "" && !bytes.HasSuffix(e.screen.Bytes(), []byte("\n> ")) {
		e.must(fmt.Errorf("the program reads without its prompt"))
	}
	for e.failed == "" && e.at < len(e.lines) {
		line := e.lines[e.at]
		if strings.HasPrefix(line, "$ ") {
			break
		}
		e.at++
		if e.beside(line) {
			continue
		}
		typed, reading := strings.CutPrefix(line, ">>")
		if !reading {
			typed = strings.TrimPrefix(typed, ">")
		}
		typed = strings.TrimPrefix(typed, " ")
		e.count(typed, reading)
		e.typed, e.typedAt, e.heard, e.isWrong, e.onWrong = typed, e.at, e.screen.Len(), e.onWrong, false
		e.pass(betweenLines)
		return copy(p, typed+"\n"), nil
	}
	e.must(fmt.Errorf("the program asks for more than is scripted"))
	return 0, io.EOF
}

// judgeLine fails the script where the line before was refused and is no
// mistake on purpose, or is one and was taken: a script that is out of step with
// the questions proves nothing.
func (e *evening) judgeLine() {
	if e.typedAt == 0 {
		return
	}
	_, said, _ := strings.Cut(e.screen.String()[e.heard:], "\n") // behind what was typed
	refused := !aside(e.typed) && !strings.Contains(said, "\n\n") && !strings.HasPrefix(said, "\n")
	if strings.HasPrefix(said, "The lines from here on") || strings.HasPrefix(said, "What was doubted") {
		refused = false
	}
	at := e.typedAt
	e.typedAt = 0
	switch {
	case e.isWrong && refused:
		e.wrong++
	case e.isWrong:
		e.must(fmt.Errorf("line %d was to be refused and was taken: %q", at, e.typed))
	case refused:
		e.must(fmt.Errorf("line %d was refused: %q", at, e.typed))
	}
}

// aside reports whether a line is no answer: it asks to be shown something, or
// says who is there. Behind any other line a question that is put afresh has an
// empty line before it, and one that is only put again has none.
func aside(typed string) bool {
	word, rest, _ := strings.Cut(strings.TrimSpace(typed), " ")
	switch word {
	case "?", "rack", "more", "advise", "quit":
		return rest == ""
	case "who":
		return rest != ""
	}
	return false
}

// oneLine is a text without the program's line ends and capitals.
func oneLine(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), " ")) }

// count counts the keys of a line and its Enter; of a line with readings only
// those that name pieces, up to a colon.
func (e *evening) count(typed string, reading bool) {
	n := len([]rune(typed)) + 1
	if reading {
		n = 0
		if who, _, ok := strings.Cut(typed, ": "); ok {
			n = len([]rune(who)) + 2
		}
	}
	e.presses += n
	if n == 0 {
		return
	}
	stage := e.stage()
	if _, known := e.byStage[stage]; !known {
		e.order = append(e.order, stage)
	}
	e.byStage[stage] += n
}

// stage is the number of the stage last named on the screen.
func (e *evening) stage() string {
	s := e.screen.String()
	i := strings.LastIndex(s, ", stage ")
	if i < 0 {
		return ""
	}
	number, _, _ := strings.Cut(s[i+len(", stage "):], ":")
	return number
}

func (e *evening) tail() string {
	s := e.screen.String()
	return s[max(0, len(s)-2500):]
}

// holdsColumns: no line of more than one word is wider.
func (e *evening) holdsColumns(most int) {
	e.t.Helper()
	for i, l := range strings.Split(e.screen.String(), "\n") {
		own := strings.HasPrefix(l, "    ~ ") || strings.HasPrefix(l, "[") || strings.HasPrefix(l, "> ")
		if !own && ansi.StringWidth(l) > most && len(strings.Fields(l)) > 1 {
			e.t.Errorf("line %d has %d columns: %s", i+1, ansi.StringWidth(l), l)
		}
	}
}
