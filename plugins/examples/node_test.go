package examples_test

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/plugins/conform"
	"canewright/plugins/host"
	"canewright/plugins/proto"
)

// nodeHost starts the example in node/, or skips the test and says what to
// install.
func nodeHost(t *testing.T, name string) *host.Host {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("node is not installed, version 18 or later: the example in JavaScript is not tried")
	}
	dir, err := filepath.Abs("node")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(dir, "node_modules", "@grpc", "grpc-js")); err != nil {
		t.Skip("its packages are not installed, run npm ci in plugins/examples/node: the example in JavaScript is not tried")
	}
	return &host.Host{
		Bundled: []string{name}, Exe: node, Args: func(...string) []string { return []string{filepath.Join(dir, "main.js")} },
		StartTimeout: 30 * time.Second, CallTimeout: 10 * time.Second,
		Random: rand.New(rand.NewPCG(1, 2)), // now and then it sends what no plugin knows
	}
}

func TestTheNodeExampleArrivesWhole(t *testing.T) {
	t.Parallel()
	h := nodeHost(t, "fenpipe")
	set, err := h.Set(context.Background(), "fenpipe", 1)
	if err != nil {
		t.Fatal(err)
	}
	if set.ID != "fenpipe" || set.Major != 1 || set.Minor != 0 || len(set.Dimensions) != 5 {
		t.Fatalf("got %s %d.%d with %d dimensions", set.ID, set.Major, set.Minor, len(set.Dimensions))
	}
	d, ok := set.Find("strip length")
	if !ok || d.Name != "cane.length" || d.Datum != "the butt" || d.Condition != dimension.Dry || d.Unit.Name() != "mm" {
		t.Errorf("the strip length is %+v", d)
	}
	// 0.4 .. 1.2 mm in nanometres.
	d, ok = set.Find("gouge.centre")
	if !ok || !d.Across || d.Plausible.Low != (quantity.Bound{Q: 400_000, Set: true}) || d.Plausible.High != (quantity.Bound{Q: 1_200_000, Set: true}) {
		t.Errorf("the gouge is %+v", d)
	}
	d, ok = set.Find("cane.spare")
	if !ok || d.Formula != "cane.length - 2 * tie.length" || d.Plausible.Low.Set || d.Sources[0].Grade != dimension.Worked {
		t.Errorf("the spare cane is %+v", d)
	}
}

// What the example says its ranges are, and the quanta it sends, are one thing.
func TestTheNodeExamplesTextsAndQuantaAgree(t *testing.T) {
	t.Parallel()
	set, err := nodeHost(t, "fenpipe").Set(context.Background(), "fenpipe", 1)
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for _, d := range set.Dimensions {
		if d.Plausible.Text == "" {
			continue
		}
		tried++
		want, err := quantity.ParseTolerance(d.Plausible.Text, quantity.Style{Want: d.Kind, Bare: d.Unit})
		if err != nil {
			t.Errorf("%s: %v", d.Name, err)
			continue
		}
		if d.Plausible.Low != want.Low || d.Plausible.High != want.High {
			t.Errorf("%s: %q is sent as %v .. %v, and is %v .. %v", d.Name, want.Text, d.Plausible.Low, d.Plausible.High, want.Low, want.High)
		}
	}
	if tried != 4 {
		t.Errorf("%d ranges were compared", tried)
	}
}

// The example keeps a copy of the contract, as a plugin in a folder of its own
// does.
func TestTheNodeExampleKeepsTheContractAsItIs(t *testing.T) {
	t.Parallel()
	want, err := os.ReadFile(filepath.Join("..", "proto", "dimset", "v1", "dimset.proto"))
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join("node", "dimset.proto"))
	if err != nil || !bytes.Equal(got, want) {
		t.Errorf("node/dimset.proto is not plugins/proto/dimset/v1/dimset.proto; run go generate ./plugins/proto; %v", err)
	}
}

func TestTheNodeExamplePassesTheKit(t *testing.T) {
	t.Parallel()
	h := nodeHost(t, "fenpipe")
	main := h.Args("fenpipe")[0]
	conform.Test(t, conform.Program{Path: h.Exe, Args: []string{main}, Folder: filepath.Dir(main)})
}

func TestTheNodeExampleIsListed(t *testing.T) {
	t.Parallel()
	got, err := nodeHost(t, "fenpipe").List(context.Background())
	want := []host.Summary{{Name: "fenpipe", ID: "fenpipe", Title: "fen pipe, invented", Major: 1, Version: "1.0.0", Contact: "nobody: an example"}}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("got  %+v, %v\nwant %+v", got, err, want)
	}
}

func TestTheNodeExampleHasNoOtherVersion(t *testing.T) {
	t.Parallel()
	_, err := nodeHost(t, "fenpipe").Set(context.Background(), "fenpipe", 2)
	v, ok := errors.AsType[*host.VersionError](err)
	if !ok || v.What != "the recipe asks for dimension set fenpipe 2, the plugin has 1" || v.Older != "the plugin" {
		t.Errorf("got %v", err)
	}
}

// A plugin that has to be killed is written of in the log. The host waits a
// fifth of a second, which a busy machine may not give it; so once is enough.
func TestTheNodeExampleStopsWhenAsked(t *testing.T) {
	t.Parallel()
	h := nodeHost(t, "fenpipe")
	var log bytes.Buffer
	for range 5 {
		log.Reset()
		h.Log = &log
		if _, err := h.Set(context.Background(), "fenpipe", 1); err != nil {
			t.Fatal(err)
		}
		if log.Len() == 0 {
			return
		}
	}
	t.Errorf("the log says %s", &log)
}

// The host here is a shell that is killed without a word. The plugin holds the
// writing end of its standard output for as long as it lives.
func TestTheNodeExampleDoesNotOutliveItsParent(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("there is no sh on windows to be the parent")
	}
	h := nodeHost(t, "fenpipe")
	dir, err := os.MkdirTemp("", "cw") // short: a path to a socket is
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	made := exec.Command(h.Exe, "-e", `process.stdout.write(require("./certificate").make().certificate)`)
	made.Dir = "node"
	certificate, err := made.Output()
	if err != nil {
		t.Fatal(err)
	}
	shell := exec.Command("sh", "-c", `"$0" "$1" & echo $! >&2; wait`, h.Exe, h.Args("fenpipe")[0])
	shell.Env = []string{
		proto.CookieKey + "=" + proto.CookieValue, "PLUGIN_PROTOCOL_VERSIONS=1", "PLUGIN_UNIX_SOCKET_DIR=" + dir,
		"PLUGIN_CLIENT_CERT=" + string(certificate),
	}
	var pid bytes.Buffer
	shell.Stderr = &pid
	shell.WaitDelay = time.Second // the plugin may hold its standard error open
	out, err := shell.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := shell.Start(); err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(out)
	line, err := lines.ReadString('\n')
	if err != nil || !strings.HasPrefix(line, "1|1|unix|"+dir) {
		t.Fatalf("the handshake is %q, %v", line, err)
	}
	if err := shell.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	gone := make(chan error, 1)
	go func() {
		_, err := lines.ReadByte()
		gone <- err
	}()
	select {
	case err := <-gone:
		if err != io.EOF {
			t.Errorf("its standard output ends with %v", err)
		}
	case <-time.After(5 * time.Second):
		t.Error("it is still there after 5 s")
	}
	_ = shell.Wait()
	if n, err := strconv.Atoi(strings.TrimSpace(pid.String())); err != nil {
		t.Errorf("its number is %q", &pid)
	} else if p, err := os.FindProcess(n); err == nil && t.Failed() {
		_ = p.Kill()
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("it left %s behind", left[0].Name())
	}
}

func TestTheNodeExampleIsNotUsedByHand(t *testing.T) {
	t.Parallel()
	h := nodeHost(t, "fenpipe")
	out, err := exec.Command(h.Exe, h.Args("fenpipe")...).CombinedOutput()
	if exit, ok := errors.AsType[*exec.ExitError](err); !ok || exit.ExitCode() != 1 {
		t.Errorf("it ended with %v", err)
	}
	if want := "serve an instrument: this program answers canewright and cannot be used by hand\n"; string(out) != want {
		t.Errorf("it says %q", out)
	}
}

// As its README says: made into one file, tried and added. It is the same
// instrument then, and needs nothing beside it.
func TestTheNodeExampleAsOneFile(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("a first line starts nothing there")
	}
	h := nodeHost(t, "fenpipe")
	if _, err := os.Stat(filepath.Join("node", "node_modules", "esbuild")); err != nil {
		t.Skip("its packages are not installed, run npm ci in plugins/examples/node: the example in JavaScript is not made into one file")
	}
	file := filepath.Join(t.TempDir(), "fenpipe")
	cmd := exec.Command(h.Exe, "onefile.js", file)
	cmd.Dir = "node"
	if out, err := cmd.CombinedOutput(); err != nil || !bytes.HasPrefix(out, []byte("wrote ")) {
		t.Fatalf("%v\n%s", err, out)
	}
	conform.Test(t, conform.Program{Path: file}, conform.Options{Patience: 5})
	adding := &host.Host{Store: host.Store{Folder: t.TempDir()}, StartTimeout: 30 * time.Second, CallTimeout: 10 * time.Second}
	o, err := adding.Offer("fenpipe", file)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := o.Approve(context.Background(), time.Now()); err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	want, err := h.Set(context.Background(), "fenpipe", 1)
	if err != nil {
		t.Fatal(err)
	}
	if got, err := adding.Set(context.Background(), "fenpipe", 1); err != nil || got.Digest() != want.Digest() {
		t.Errorf("as one file it is another: %v", err)
	}
	was, err := h.List(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if is, err := adding.List(context.Background()); err != nil || !slices.Equal(is, was) {
		t.Errorf("got  %+v, %v\nwant %+v", is, err, was)
	}
}

// The certificate has a test in its own language.
func TestTheNodeExamplesOwnTests(t *testing.T) {
	t.Parallel()
	h := nodeHost(t, "fenpipe")
	cmd := exec.Command(h.Exe, "--test")
	cmd.Dir = "node"
	if out, err := cmd.CombinedOutput(); err != nil || !bytes.Contains(out, []byte("pass 2")) {
		t.Errorf("%v\n%s", err, out)
	}
}
