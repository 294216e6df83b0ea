package host

import (
	"context"
	"errors"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

func TestWhereAPluginMayListen(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("sockets are told by their mode, which windows does not have")
	}
	base := shortTempDir(t)
	own, other := filepath.Join(base, "own"), filepath.Join(base, "own-not")
	for _, dir := range []string{own, filepath.Join(own, "deep"), other} {
		if err := os.Mkdir(dir, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	for _, at := range []string{filepath.Join(own, "s"), filepath.Join(own, "deep", "s"), filepath.Join(other, "s")} {
		l, err := net.Listen("unix", at)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = l.Close() })
	}
	if err := errors.Join(
		os.WriteFile(filepath.Join(own, "file"), nil, 0o600),
		os.Symlink(filepath.Join(other, "s"), filepath.Join(own, "link")),
		os.Symlink(other, filepath.Join(own, "dir")),
		os.Symlink(own, filepath.Join(base, "way")),
	); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ say, system, network, address, want string }{
		{"its socket", "linux", "unix", own + "/s", ""},
		{"a folder below", "linux", "unix", own + "/deep/s", ""},
		{"by a link on the way, as on darwin", "darwin", "unix", base + "/way/s", ""},
		{"with a detour that ends there", "linux", "unix", own + "/../own/s", ""},
		{"a neighbour whose name begins alike", "linux", "unix", other + "/s", "not in the folder"},
		{"by a detour", "linux", "unix", own + "/../own-not/s", "not in the folder"},
		{"a link to a socket elsewhere", "linux", "unix", own + "/link", "something else"},
		{"a link to a folder elsewhere", "linux", "unix", own + "/dir/s", "not in the folder"},
		{"a file", "linux", "unix", own + "/file", "something else"},
		{"the folder itself", "linux", "unix", own, "not in the folder"},
		{"nothing", "linux", "unix", own + "/nothing", "there is none"},
		{"a path that begins nowhere", "linux", "unix", "s", "no whole path"},
		{"an abstract socket", "linux", "unix", "@s", "no whole path"},
		{"an empty path", "linux", "unix", "", "no whole path"},
		{"this machine's port", "linux", "tcp", "127.0.0.1:4000", "not at a socket"},
		{"this machine's port on windows", "windows", "tcp", "127.0.0.1:4000", ""},
		{"the newer protocol's on windows", "windows", "tcp", "[::1]:4000", ""},
		{"another machine on windows", "windows", "tcp", "192.0.2.1:4000", "not this machine's own"},
		{"a name on windows", "windows", "tcp", "localhost:4000", "not this machine's own"},
		{"every address on windows", "windows", "tcp", "0.0.0.0:4000", "not this machine's own"},
		{"no port on windows", "windows", "tcp", "127.0.0.1", "not this machine's own"},
		{"another network", "windows", "udp", "127.0.0.1:4000", "no network of a plugin"},
		{"escapes", "linux", "\x1b[2J", "x", "no network of a plugin"},
	} {
		err := reachable(c.system, c.network, c.address, own)
		if (c.want == "") != (err == nil) || err != nil && (!strings.Contains(err.Error(), c.want) || strings.Contains(err.Error(), "\x1b")) {
			t.Errorf("%s: got %v, want %q", c.say, err, c.want)
		}
	}
}

// Whoever listens where a plugin points to hears nothing.
func TestTheHostKnocksAtNoOtherDoor(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("there are ports instead of sockets there")
	}
	for _, mode := range []string{"points-elsewhere", "links-elsewhere"} {
		t.Run(mode, func(t *testing.T) {
			t.Parallel()
			h, _ := testHost(t, mode)
			door, err := net.Listen("unix", filepath.Join(h.TempDir, "door"))
			if err != nil {
				t.Fatal(err)
			}
			knocked := make(chan bool, 1)
			go func() {
				c, err := door.Accept()
				if err == nil {
					_ = c.Close()
				}
				knocked <- err == nil
			}()
			_, err = h.Set(context.Background(), mode, 1)
			b, ok := errors.AsType[*BrokenError](err)
			if !ok || b.Name != mode || !strings.Contains(b.What, "printed a handshake that cannot be used: its socket is ") || !strings.Contains(b.What, `it is "1|1|unix|`) {
				t.Errorf("it says %v", err)
			}
			time.Sleep(50 * time.Millisecond) // for a knock that is on its way
			_ = door.Close()
			if <-knocked {
				t.Error("the host has connected to it")
			}
		})
	}
}
