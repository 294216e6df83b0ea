package host

import (
	"fmt"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"strings"
)

// Reachable says whether a handshake may name this address: a socket in the
// folder the plugin was given for it, which nobody else can look into, or on
// Windows, where there are none, a port of this machine. Anything else may be
// somebody else's door, and is not knocked at. Where a plugin puts another
// socket into that place afterwards, the certificates keep the host from talking
// to whoever listens there.
func Reachable(network, address, folder string) error {
	return reachable(runtime.GOOS, network, address, folder)
}

func reachable(system, network, address, folder string) error {
	at := clip(printable(address))
	switch {
	case network == "unix":
		return ownSocket(address, folder)
	case network != "tcp":
		return fmt.Errorf("it listens on %q, which is no network of a plugin", clip(printable(network)))
	case system != "windows":
		return fmt.Errorf("it listens at tcp %s, not at a socket in the folder it was given", at)
	}
	host, _, err := net.SplitHostPort(address)
	if ip := net.ParseIP(host); err != nil || ip == nil || !ip.IsLoopback() {
		return fmt.Errorf("it listens at tcp %s, which is not this machine's own", at)
	}
	return nil
}

func ownSocket(address, folder string) error {
	at := clip(printable(address))
	if !filepath.IsAbs(address) {
		return fmt.Errorf("its socket is %s, which is no whole path", at)
	}
	// Folders on the way may be links, as /tmp is on darwin; the socket may not.
	base, err := filepath.EvalSymlinks(folder)
	if err != nil {
		return fmt.Errorf("find the folder for its socket: %w", err)
	}
	dir, err := filepath.EvalSymlinks(filepath.Dir(address))
	if err != nil || !strings.HasPrefix(dir+string(filepath.Separator), base+string(filepath.Separator)) {
		return fmt.Errorf("its socket is %s, which is not in the folder it was given", at)
	}
	if info, err := os.Lstat(address); err != nil {
		return fmt.Errorf("its socket is %s, and there is none", at)
	} else if info.Mode().Type() != os.ModeSocket && runtime.GOOS != "windows" {
		return fmt.Errorf("its socket is %s, which is something else", at)
	}
	return nil
}
