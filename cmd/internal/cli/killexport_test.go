package cli_test

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// Killed while it writes, export leaves the whole file or none, and an older
// file of the name as it was.
func TestExportKilledAtAnyMoment(t *testing.T) {
	t.Parallel()
	p := newPlace(t)
	lines := []string{"24.5", "24.6", "1"}
	for i := range 400 {
		lines = append(lines, fmt.Sprintf("remark number %d, so that it takes a while", i))
	}
	p.must(lines, "follow", written(t, p.dir, "whole-way.yaml", wholeWay), "--tubes", "2", "--batch", "exported")
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	seed := uint64(time.Now().UnixNano())
	random := rand.New(rand.NewPCG(seed, 2))
	export := func(format, to string, kill time.Duration, more ...string) (killed bool, took time.Duration) {
		t.Helper()
		cmd := exec.Command(exe, append([]string{"as-canewright", "export", "--logbook", p.book, "--format", format, "-o", to}, more...)...)
		cmd.Env = []string{"HOME=" + p.dir, "TZ=UTC"}
		var complaint strings.Builder
		cmd.Stderr = &complaint
		began := time.Now()
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if kill > 0 {
			time.Sleep(kill)
			_ = cmd.Process.Kill()
		}
		err := cmd.Wait()
		if err != nil && kill == 0 {
			t.Fatalf("%v: %s", err, complaint.String())
		}
		return err != nil, time.Since(began)
	}
	absent, whole, untouched := 0, 0, 0
	for _, format := range []string{"jsonl", "csv"} {
		model := filepath.Join(p.dir, "whole."+format)
		_, took := export(format, model, 0)
		want, err := os.ReadFile(model)
		if err != nil || len(want) < 100 {
			t.Fatalf("%d bytes, %v", len(want), err)
		}
		old := []byte("what was there before\n")
		for i := range 12 {
			to := filepath.Join(p.dir, fmt.Sprintf("out-%d.%s", i, format))
			var more []string
			if i%2 == 1 {
				more = []string{"--force"}
				if err := os.WriteFile(to, old, 0o600); err != nil {
					t.Fatal(err)
				}
			}
			kill := took * time.Duration(60+random.IntN(60)) / 100 // about its end
			export(format, to, kill, more...)
			got, err := os.ReadFile(to)
			switch {
			case errors.Is(err, fs.ErrNotExist) && i%2 == 0:
				absent++
			case err == nil && bytes.Equal(got, want):
				whole++
			case err == nil && i%2 == 1 && bytes.Equal(got, old):
				untouched++
			default:
				t.Errorf("seed %d: killed after %v of %v, %s has %d of %d bytes, %v", seed, kill, took, filepath.Base(to), len(got), len(want), err)
			}
		}
	}
	t.Logf("%d files were absent, %d whole, %d as before", absent, whole, untouched)
	left, err := filepath.Glob(filepath.Join(p.dir, ".canewright-export-*"))
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d drafts are left", len(left))
}
