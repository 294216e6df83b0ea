package host

import (
	"bufio"
	"context"
	"errors"
	"io"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"strings"
	"testing"

	"canewright/plugins/proto"
	"canewright/plugins/sdk"
)

func TestAttachToAPluginInADebugger(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("its debugger listens on a unix socket")
	}
	h := addingHost(t)
	cmd := exec.Command(program(t, "bombard"), sdk.DebugArg)
	cmd.Env = append(os.Environ(), "TMPDIR="+shortTempDir(t))
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	ended := false
	defer func() {
		if !ended {
			_ = cmd.Process.Kill()
			_ = cmd.Wait()
		}
	}()
	var text string
	for in := bufio.NewScanner(out); text == "" && in.Scan(); {
		if rest, ok := strings.CutPrefix(in.Text(), "export CANEWRIGHT_REATTACH='"); ok {
			text = strings.TrimSuffix(rest, "'")
		}
	}
	go func() { _, _ = io.Copy(io.Discard, out) }()
	if h.Attach, err = ParseAttach(text); err != nil || h.Attach["bombard"].Pid != cmd.Process.Pid {
		t.Fatalf("%q: %+v, %v", text, h.Attach, err)
	}
	for range 2 { // it survives being asked
		if set, err := h.Set(context.Background(), "bombard", 1); err != nil || set.ID != "bombard" {
			t.Fatalf("%v, %v", set, err)
		}
	}
	if _, err := h.Set(context.Background(), "bombard", 7); err == nil {
		t.Error("it has a version it has not")
	}
	if _, ok := errors.AsType[*NotFoundError](errOf(h.Set(context.Background(), "shawm", 1))); !ok {
		t.Error("it stands for another instrument")
	}
	if names := h.Names(); !slices.Equal(names, []string{"bassoon", "bombard"}) {
		t.Errorf("there are %v", names)
	}
	if err := cmd.Process.Signal(os.Interrupt); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); err != nil {
		t.Errorf("the interrupt key ends it with %v", err)
	}
	ended = true
	_, err = h.Set(context.Background(), "bombard", 1)
	if b, ok := errors.AsType[*BrokenError](err); !ok || !strings.Contains(b.What, "it was attached to, not started") {
		t.Errorf("a debugger that is gone: %v", err)
	}
}

func errOf(_ any, err error) error { return err }

func TestWhatCannotBeAttachedTo(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ say, text string }{
		{"no JSON", `bombard`},
		{"a path for a name", `{"../x": {"Protocol": "grpc", "ProtocolVersion": 1, "Addr": {"Network": "unix", "String": "/tmp/s"}}}`},
		{"another protocol", `{"bombard": {"Protocol": "netrpc", "ProtocolVersion": 1, "Addr": {"Network": "unix", "String": "/tmp/s"}}}`},
		{"another machine", `{"bombard": {"Protocol": "grpc", "ProtocolVersion": 1, "Addr": {"Network": "tcp", "String": "192.0.2.1:80"}}}`},
		{"a name of a machine", `{"bombard": {"Protocol": "grpc", "ProtocolVersion": 1, "Addr": {"Network": "tcp", "String": "localhost:80"}}}`},
		{"half a path", `{"bombard": {"Protocol": "grpc", "ProtocolVersion": 1, "Addr": {"Network": "unix", "String": "s"}}}`},
		{"no address", `{"bombard": {"Protocol": "grpc", "ProtocolVersion": 1}}`},
	} {
		if all, err := ParseAttach(c.text); err == nil {
			t.Errorf("%s: %+v", c.say, all)
		}
	}
	if all, err := ParseAttach(`{"bombard": {"Protocol": "grpc", "ProtocolVersion": 1, "Addr": {"Network": "tcp", "String": "127.0.0.1:1"}}}`); err != nil || len(all) != 1 {
		t.Errorf("a port of this machine: %v", err)
	}
	h := &Host{Attach: map[string]Attach{"bombard": {Protocol: "grpc", ProtocolVersion: proto.Wire + 1}}}
	if _, ok := errors.AsType[*VersionError](errOf(h.Set(context.Background(), "bombard", 1))); !ok {
		t.Error("a wire of another number is attached to")
	}
}
