package conform_test

import (
	"encoding/json"
	"os/exec"
	"path/filepath"
	"testing"

	"canewright/plugins/conform"
	"canewright/plugins/proto"
)

// Every instrument canewright brings passes its own kit.
func TestBundledInstrumentsPass(t *testing.T) {
	t.Parallel()
	exe := filepath.Join(t.TempDir(), "canewright")
	if out, err := exec.Command("go", "build", "-o", exe, "canewright/cmd/canewright").CombinedOutput(); err != nil {
		t.Fatalf("build canewright: %v\n%s", err, out)
	}
	cmd := exec.Command(exe, "instruments", "--json")
	cmd.Env = []string{"HOME=" + t.TempDir()}
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("list the instruments: %v\n%s", err, out)
	}
	var all []struct{ Name string }
	if err := json.Unmarshal(out, &all); err != nil {
		t.Fatal(err)
	}
	if len(all) < 2 {
		t.Fatalf("there are %v", all)
	}
	for _, in := range all {
		t.Run(in.Name, func(t *testing.T) {
			t.Parallel()
			conform.Test(t, conform.Program{Path: exe, Args: []string{proto.ServeArg, in.Name}, Folder: t.TempDir()}, conform.Options{Patience: 5}) // other tests run beside it
		})
	}
}
