package cli

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"
	"time"

	"golang.org/x/term"

	"canewright/cmd/internal/wire"
	"canewright/engine/logbook"
	"canewright/plugins/folder"
	"canewright/plugins/host"
	"canewright/plugins/proto"
	"canewright/plugins/sdk"
)

// Exit codes. They are few, and README.md lists them.
const (
	exitDone        = 0
	exitFailed      = 1 // a check failed, or something unforeseen
	exitUsage       = 2 // wrong use
	exitInvalid     = 3 // a recipe or other data cannot be used
	exitInstrument  = 4 // trouble with an instrument's plugin
	exitLogbook     = 5 // trouble with the logbook
	exitInterrupted = 130
)

// System is the world around a command; all passed in, so that tests have
// their own.
type System struct {
	In    io.Reader
	Out   io.Writer
	Err   io.Writer
	Env   func(string) string
	Now   func() time.Time
	Rand  io.Reader
	Width int  // columns of the window
	Typed bool // the answers are typed by a hand: nothing needs to be echoed
	// Screen: Out is a terminal that knows more than to write line after line.
	Screen bool
	Colour bool // verdicts may be coloured
	Plain  bool // words only: no pictures, signs and rules
}

// Here is the real world.
func Here() System {
	if os.Getenv("GOGC") == "" && os.Getenv("GOMEMLIMIT") == "" {
		// A few MB live at a time: collecting at every 4 MB would take an eighth
		// of the start. The limit is soft; above it collecting is eager again.
		debug.SetGCPercent(400)
		debug.SetMemoryLimit(256 << 20)
	}
	s := System{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Env: os.Getenv, Now: time.Now, Rand: rand.Reader, Width: 60}
	s.Typed = term.IsTerminal(int(os.Stdin.Fd()))
	if w, _, err := term.GetSize(int(os.Stdout.Fd())); err == nil && w >= 40 {
		s.Width = min(w, 72)
	}
	kind := os.Getenv("TERM")
	s.Screen = term.IsTerminal(int(os.Stdout.Fd())) && kind != "dumb"
	// NO_COLOR counts when it is there and not empty, whatever it says.
	s.Colour = s.Screen && kind != "" && os.Getenv("NO_COLOR") == ""
	plain := os.Getenv("CANEWRIGHT_PLAIN")
	s.Plain = plain != "" && plain != "0"
	return s
}

// Main runs a command and returns its exit code.
func Main(args []string, sys System) (code int) {
	defer func() {
		if r := recover(); r != nil {
			fmt.Fprintf(sys.Err, "canewright: this is a fault in canewright: %v\nEverything answered before is in the logbook.\n%s", r, debug.Stack())
			code = exitFailed
		}
	}()
	if len(args) > 1 && args[0] == proto.ServeArg {
		return serve(args[1:], sys)
	}
	if len(args) > 1 && args[0] == proto.ServeFolderArg {
		return serveFolders(args[1:], sys)
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	c := newCommander(sys)
	if err := c.warnAttached(); err != nil {
		return c.report(err)
	}
	root := newRootCmd(c)
	root.SetArgs(negatives(args))
	root.SetIn(sys.In)
	root.SetOut(sys.Out)
	root.SetErr(sys.Err)
	err := root.ExecuteContext(ctx)
	if ctx.Err() != nil && errors.Is(err, errAtQuestion) {
		fmt.Fprintln(sys.Err, "canewright:", err)
		return exitInterrupted
	}
	if ctx.Err() != nil && err != nil {
		fmt.Fprintln(sys.Err, "canewright: interrupted; everything answered before is kept")
		return exitInterrupted
	}
	return c.report(err)
}

// serve is how the one binary answers when it is started as the plugin of
// bundled instruments.
func serve(names []string, sys System) int {
	all := wire.Bundled()
	var served []sdk.Instrument
	for _, name := range names {
		instrument, ok := all[name]
		if !ok {
			fmt.Fprintf(sys.Err, "canewright: there is no bundled instrument %q\n", name)
			return exitInstrument
		}
		served = append(served, instrument())
	}
	sdk.Serve(served...)
	return exitDone
}

// serveFolders is the same for instruments without code.
func serveFolders(dirs []string, sys System) int {
	var served []sdk.Instrument
	for _, dir := range dirs {
		data, err := folder.Read(dir)
		if err != nil {
			fmt.Fprintf(sys.Err, "canewright: %v\n", err)
			return exitInstrument
		}
		in, list := folder.Load(folder.File, data)
		if in == nil {
			_ = list.Text(sys.Err)
			return exitInstrument
		}
		served = append(served, in.Served)
	}
	sdk.Serve(served...)
	return exitDone
}

// negatives keeps a negative reading from being taken for a flag: a hyphen
// before a digit becomes a minus sign, which reads the same.
func negatives(args []string) []string {
	out := make([]string, len(args))
	for i, a := range args {
		if len(a) > 1 && a[0] == '-' && (a[1] >= '0' && a[1] <= '9' || a[1] == '.' && len(a) > 2) {
			a = "−" + a[1:]
		}
		out[i] = a
	}
	return out
}

// commander is shared by all commands.
type commander struct {
	sys  System
	book string
	json bool
}

func newCommander(sys System) *commander { return &commander{sys: sys} }

func (c *commander) works() *wire.Works {
	return &wire.Works{Env: c.sys.Env, Now: c.sys.Now, Rand: c.sys.Rand, Book: c.book, Who: ""}
}

// usageError: the words of the command were wrong.
type usageError struct{ error }

func usagef(format string, a ...any) error { return usageError{fmt.Errorf(format, a...)} }

// hinted adds what to do to an error.
type hinted struct {
	error
	hint string
}

func (h hinted) Unwrap() error { return h.error }

// errShown: the findings are printed already; only the exit code is left.
type errShown struct{ code int }

func (errShown) Error() string { return "shown already" }

// report prints an error once and gives its exit code.
func (c *commander) report(err error) int {
	if err == nil {
		return exitDone
	}
	if shown, ok := errors.AsType[errShown](err); ok {
		return shown.code
	}
	code, hint := exitFailed, ""
	if h, ok := errors.AsType[hinted](err); ok {
		hint = h.hint
	}
	if e, ok := errors.AsType[*wire.InvalidError](err); ok {
		e.List.Text(c.sys.Err)
		code = exitInvalid
	} else if e, ok := errors.AsType[*wire.RecipeNotFoundError](err); ok {
		code, hint = exitUsage, "canewright recipes lists the bundled ones, and your library's"
		if e.Near != "" {
			hint = "did you mean " + e.Near + "?"
		}
	} else if _, ok := errors.AsType[*wire.OriginNotFoundError](err); ok {
		code, hint = exitInvalid, "ask whoever sent it for a pack, which carries that text; or put the text into a folder origins beside it"
	} else if e, ok := errors.AsType[*wire.AmbiguousError](err); ok {
		code, hint = exitUsage, "name one by its file, or by the place canewright library shows for it: "+e.Places[0]
	} else if sent, why := c.parcelTrouble(err); sent != exitDone {
		code = sent
		if hint == "" {
			hint = why
		}
	} else if e, ok := errors.AsType[*host.NotFoundError](err); ok {
		code, hint = exitInstrument, "there are: "+strings.Join(e.Known, ", ")
	} else if _, ok := errors.AsType[*host.VersionError](err); ok {
		code = exitInstrument
	} else if e, ok := errors.AsType[*host.BrokenError](err); ok {
		code = exitInstrument
		if hint == "" {
			hint = c.brokenHint(e.Name)
		}
	} else if e, ok := errors.AsType[*host.TrustError](err); ok {
		code = exitInstrument
		if hint == "" {
			hint = "canewright instruments add FILE shows you the program and asks again; canewright instruments remove " + e.Name + " takes it away"
		}
	} else if e, ok := errors.AsType[*host.ApprovalError](err); ok {
		code = exitInstrument
		if hint == "" {
			hint = "canewright instruments add FILE shows you the program and asks again; canewright instruments remove " + e.Name + " takes it away"
		}
	} else if e, ok := errors.AsType[*host.NameError](err); ok {
		code, hint = exitUsage, e.Hint
	} else if e, ok := errors.AsType[*logbook.FileError](err); ok {
		code, hint = exitLogbook, e.Hint
	} else if _, ok := errors.AsType[*logbook.NameTakenError](err); ok {
		code, hint = exitUsage, "go on with it: canewright follow --resume NAME; or choose another name with --batch"
	} else if e, ok := errors.AsType[*logbook.NotFoundError](err); ok {
		code = exitUsage
		if len(e.All) > 0 {
			hint = "there are: " + strings.Join(e.All[:min(len(e.All), 10)], ", ")
		} else {
			hint = "there is no batch yet; begin one with: canewright follow RECIPE"
		}
	} else if _, ok := errors.AsType[usageError](err); ok || isCobraUsage(err) {
		code = exitUsage
		if hint == "" {
			hint = "canewright --help, or canewright COMMAND --help"
		}
	} else if _, ok := errors.AsType[dataError](err); ok {
		code = exitInvalid
	} else if isLogbookTrouble(err) {
		code = exitLogbook
	}
	fmt.Fprintf(c.sys.Err, "canewright: %v\n", err)
	if hint != "" {
		fmt.Fprintf(c.sys.Err, "hint: %s\n", hint)
	}
	return code
}

// isLogbookTrouble tells errors of the logbook that have no type of their own; its
// package begins them so.
func isLogbookTrouble(err error) bool {
	for _, p := range []string{"write to logbook", "read logbook", "open logbook", "start batch in", "find the logbook's place"} {
		if strings.Contains(err.Error(), p) {
			return true
		}
	}
	return false
}

// isCobraUsage tells the errors cobra makes of wrong words; it has no type for
// them. A test pins their texts.
func isCobraUsage(err error) bool {
	for _, p := range []string{"unknown command", "unknown flag", "unknown shorthand", "accepts ", "requires at least", "flag needs an argument", "invalid argument", "bad flag syntax"} {
		if strings.HasPrefix(err.Error(), p) {
			return true
		}
	}
	return false
}

func (c *commander) printf(format string, a ...any) { fmt.Fprintf(c.sys.Out, format, a...) }
