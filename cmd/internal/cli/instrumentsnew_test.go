package cli_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// begun writes an instrument to begin with and returns its folder.
func begun(t *testing.T, args ...string) string {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	cmd := exec.Command(exe, append([]string{"as-canewright", "instruments", "new", "shawm"}, args...)...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "XDG_DATA_HOME="+dir)
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return filepath.Join(dir, "shawm")
}

// compiled is the test of a program to begin with, which need not be as it was
// written. It is laid over a folder of this module: its own module would have to
// be fetched for.
func compiled(t *testing.T, dir string) string {
	t.Helper()
	top, err := filepath.Abs(filepath.Join("..", "..", ".."))
	if err != nil {
		t.Fatal(err)
	}
	over := map[string]map[string]string{"Replace": {}}
	for _, f := range []string{"main.go", "main_test.go"} {
		over["Replace"][filepath.Join(top, "plugins", "laid-over", f)] = filepath.Join(dir, f)
	}
	data, err := json.Marshal(over)
	if err != nil {
		t.Fatal(err)
	}
	overlay := filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(overlay, data, 0o600); err != nil {
		t.Fatal(err)
	}
	exe := filepath.Join(dir, "compiled.test")
	cmd := exec.Command("go", "test", "-c", "-vet=off", "-overlay", overlay, "-o", exe, "./plugins/laid-over")
	cmd.Dir = top
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return exe
}

// The program to begin with compiles against the sdk, passes its own test, and
// is formatted.
func TestTheProgramToBeginWithPassesItsOwnTest(t *testing.T) {
	t.Parallel()
	dir := begun(t, "--code")
	if out, err := exec.Command("gofmt", "-l", dir).CombinedOutput(); err != nil || len(out) != 0 {
		t.Errorf("gofmt: %v %s", err, out)
	}
	exe := compiled(t, dir)
	// Other tests run beside it, and the kit has limits of time.
	var out []byte
	for range 3 {
		var err error
		if out, err = exec.Command(exe, "-test.v").CombinedOutput(); err == nil {
			break
		}
	}
	for _, want := range []string{"--- PASS: TestInstrument", "--- PASS: TestConform", "checks passed"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("%s is not in\n%s", want, out)
		}
	}
}

// What canewright would refuse to add fails the author's own test, and says why.
func TestTheTestToBeginWithFindsWhatAddRefuses(t *testing.T) {
	t.Parallel()
	dir := begun(t, "--code")
	path := filepath.Join(dir, "main.go")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	spoilt := strings.NewReplacer(`More: "long", `, "", `Tool: "ruler"`, `Tool: "rular"`).Replace(string(text))
	if err := os.WriteFile(path, []byte(spoilt), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(compiled(t, dir), "-test.v").CombinedOutput()
	if err == nil {
		t.Errorf("it passes:\n%s", out)
	}
	for _, want := range []string{"--- PASS: TestInstrument", "--- FAIL: TestConform", "reed.length has no word for too much", "did you mean ruler?"} {
		if !strings.Contains(string(out), want) {
			t.Errorf("%s is not in\n%s", want, out)
		}
	}
}

// Its go.mod is one Go reads, and says what is missing.
func TestTheModuleToBeginWith(t *testing.T) {
	t.Parallel()
	dir := begun(t, "--code")
	out, err := exec.Command("go", "mod", "edit", "-json", filepath.Join(dir, "go.mod")).Output()
	if err != nil {
		t.Fatal(err)
	}
	var mod struct {
		Module  struct{ Path string }
		Replace []struct{ Old, New struct{ Path string } }
	}
	if err := json.Unmarshal(out, &mod); err != nil {
		t.Fatal(err)
	}
	if mod.Module.Path != "shawm" || len(mod.Replace) != 1 || mod.Replace[0].Old.Path != "canewright" || !strings.HasPrefix(mod.Replace[0].New.Path, "/path/to/") {
		t.Errorf("it reads %+v", mod)
	}
}

// Nothing in the files still has the name they were written with.
func TestWhatIsBegunHasItsOwnName(t *testing.T) {
	t.Parallel()
	for _, args := range [][]string{nil, {"--code"}} {
		dir := begun(t, args...)
		entries, err := os.ReadDir(dir)
		if err != nil || len(entries) == 0 {
			t.Fatalf("%d files, %v", len(entries), err)
		}
		for _, e := range entries {
			data, err := os.ReadFile(filepath.Join(dir, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(string(data), "shawm") || strings.Contains(string(data), "yourinstrument") {
				t.Errorf("%s names another instrument", e.Name())
			}
		}
	}
}
