package cli_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// The key for an interruption ends a command that waits for an answer.
func TestAQuestionCanBeInterrupted(t *testing.T) {
	t.Parallel()
	for name, at := range map[string]struct {
		asks string
		args []string
	}{
		"my-tools ask": {"shaper.fold", []string{"my-tools", "ask"}},
		"adapt":        {"yours:", []string{"adapt", "bassoon/from-tube", "-o", "mine.yaml"}},
		"open":         {"Type yes to keep it", []string{"open", "reed.canewright"}},
		"new":          {"Which instrument", []string{"new", "-o", "mine.yaml"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			for i, a := range at.args {
				switch filepath.Ext(a) {
				case ".yaml", ".canewright":
					at.args[i] = filepath.Join(dir, a)
				}
			}
			if name == "open" {
				exe, err := os.Executable()
				if err != nil {
					t.Fatal(err)
				}
				pack := exec.Command(exe, "as-canewright", "pack", "checklists/before-the-concert", "-o", at.args[1])
				pack.Env = []string{"HOME=" + dir, "XDG_DATA_HOME=" + dir, "PATH=" + os.Getenv("PATH")}
				if said, err := pack.CombinedOutput(); err != nil {
					t.Fatalf("%v: %s", err, said)
				}
			}
			w := openWindow(t, dir, nil, at.args...)
			w.sees(at.asks)
			w.types("\x03")
			w.sees("interrupted")
			w.ends(130)
			if _, err := os.Stat(filepath.Join(dir, "mine.yaml")); err == nil {
				t.Error("a file was written")
			}
		})
	}
}
