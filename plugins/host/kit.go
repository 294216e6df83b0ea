package host

import (
	"crypto/tls"
	"os"
	"time"

	"canewright/engine/dimension"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// What plugins/conform needs of the host: it starts plugins by itself, to see
// what the host does not look at, and must read answers as the host does.

// Read turns an answer into a set without judging it. The error says which
// word of the answer is unknown.
func Read(w *dimsetv1.Set) (*dimension.Set, error) { return fromWire(w) }

// MutualTLS is the host's half of the certificates of one start, and the text
// the plugin is given in ClientCertificate.
func MutualTLS(now time.Time) (conf *tls.Config, text string, err error) { return mutualTLS(now) }

// ClientCertificate is the variable that text is given in.
const ClientCertificate = clientCertificate

// TempDir is the system's folder for temporary files, or one whose name is
// short enough for a socket.
func TempDir() string { return socketBase(os.TempDir(), "/tmp") }

// Printable makes a stranger's text safe for a terminal.
func Printable(s string) string { return printable(s) }
