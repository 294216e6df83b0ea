package cli_test

import (
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"canewright/cmd/internal/cli"
	"canewright/plugins/sdk"
)

// The test binary is canewright in scripts, and serves the bundled instruments
// as canewright does.
func TestMain(m *testing.M) {
	if len(os.Args) > 1 && (os.Args[1] == "serve-instrument" || os.Args[1] == "serve-folder" || os.Args[1] == "as-canewright") {
		args := os.Args[1:]
		if args[0] == "as-canewright" {
			args = args[1:]
		}
		os.Exit(cli.Main(args, cli.Here()))
	}
	testscript.Main(m, map[string]func(){
		"canewright": func() { os.Exit(cli.Main(os.Args[1:], cli.Here())) },
		"bombard":    func() { sdk.Serve(built()) },
	})
}

// built is bombard, or what its author made of it when the program's file ends
// in "later".
func built() sdk.Instrument {
	in := bombard()
	exe, err := os.Executable()
	if err != nil {
		return in
	}
	f, err := os.Open(exe)
	if err != nil {
		return in
	}
	defer f.Close()
	end := make([]byte, len("later"))
	if size, err := f.Seek(-int64(len(end)), io.SeekEnd); err != nil || size < 0 {
		return in
	}
	if _, err := io.ReadFull(f, end); err != nil || string(end) != "later" {
		return in
	}
	d := &in.Dimensions[0]
	in.Version, in.Minor = "1.1", 1
	d.Unit, d.Datum, d.Condition, d.Tool, d.More, d.Plausible = "cm", "the tip", "wet", "ruler", "far", "2 .. 5 cm"
	width := *d
	width.Name, width.Title, width.Was, width.Datum, width.Across = "reed.width", "width", nil, "", true
	in.Dimensions = append(in.Dimensions, width)
	return in
}

// bombard is a program somebody wrote, for scripts that add one.
func bombard() sdk.Instrument {
	return sdk.Instrument{
		ID: "bombard", Title: "bombard, invented", Major: 1, Version: "1.0",
		Dimensions: []sdk.Dimension{{
			Name: "reed.length", Title: "length", Was: []string{"reed.size"}, Kind: "length", Unit: "mm", Datum: "the butt",
			How: "from the butt", More: "long", Less: "short", Plausible: "20 .. 40 mm",
			Sources: []sdk.Source{{Says: "invented", Grade: sdk.FromMemory}},
		}},
	}
}

// Every script in testdata/script runs, by glob: there is no list to forget one
// in. UPDATE=1 rewrites what they compare with.
func TestScripts(t *testing.T) {
	t.Parallel()
	dir := filepath.Join("..", "..", "..", "testdata", "script")
	found, err := filepath.Glob(filepath.Join(dir, "*.txtar"))
	if err != nil || len(found) < 10 {
		t.Fatalf("scripts: %d found, %v", len(found), err)
	}
	update, _ := strconv.ParseBool(os.Getenv("UPDATE"))
	testscript.Run(t, testscript.Params{
		Dir:                 dir,
		UpdateScripts:       update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(e *testscript.Env) error {
			home := filepath.Join(e.WorkDir, "home")
			if err := os.Mkdir(home, 0o700); err != nil {
				return err
			}
			e.Setenv("HOME", home)
			e.Setenv("LOCALAPPDATA", home)
			e.Setenv("XDG_DATA_HOME", filepath.Join(home, "data"))
			e.Setenv("TZ", "UTC")
			program, err := exec.LookPath("bombard")
			if err != nil {
				return err
			}
			e.Setenv("BOMBARD", program)
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			// unchanged FILE COPY: the two have the same bytes.
			"unchanged": func(ts *testscript.TestScript, neg bool, args []string) {
				if len(args) != 2 {
					ts.Fatalf("usage: unchanged file copy")
				}
				if same := ts.ReadFile(args[0]) == ts.ReadFile(args[1]); same == neg {
					ts.Fatalf("%s and %s: same is %v", args[0], args[1], same)
				}
			},
			// narrow COLUMNS: no line of the last output is longer.
			"narrow": func(ts *testscript.TestScript, neg bool, args []string) {
				most, err := strconv.Atoi(args[0])
				ts.Check(err)
				for _, l := range strings.Split(ts.ReadFile("stdout"), "\n") {
					if len([]rune(l)) > most && len(strings.Fields(l)) > 1 {
						ts.Fatalf("%d columns: %s", len([]rune(l)), l)
					}
				}
			},
		},
	})
}
