package conform

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/base64"
	"fmt"
	"net"
	"strconv"
	"strings"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials"
	gproto "google.golang.org/protobuf/proto"

	"canewright/plugins/host"
	"canewright/plugins/proto"
)

// place is where a handshake says the plugin listens.
type place struct {
	network, at string
	certificate *x509.Certificate
}

func (p place) String() string { return p.network + " " + p.at }

// fault is what is wrong and what to do about it.
type fault struct{ seen, do string }

const form = "the line is 1|WIRE|NETWORK|ADDRESS|grpc|CERTIFICATE; plugins/proto says what each is"

// readHandshake reads the line as package proto describes it.
func readHandshake(line, sockets string) (place, *fault) {
	shown := clip(host.Printable(line))
	f := strings.Split(line, "|")
	if len(f) < 5 {
		return place{}, &fault{fmt.Sprintf("the first line is %q", shown), "print nothing before it: " + form}
	}
	if f[0] != "1" {
		return place{}, &fault{fmt.Sprintf("the line begins with %q: %s", clip(host.Printable(f[0])), shown), "begin it with 1: " + form}
	}
	if f[1] != strconv.Itoa(proto.Wire) {
		return place{}, &fault{fmt.Sprintf("it speaks wire %q, the host wire %d", clip(host.Printable(f[1])), proto.Wire), "name a wire of PLUGIN_PROTOCOL_VERSIONS, the highest you speak"}
	}
	if f[4] != "grpc" {
		return place{}, &fault{fmt.Sprintf("it speaks %q", clip(host.Printable(f[4]))), "serve gRPC, and say grpc: " + form}
	}
	p := place{network: f[2], at: f[3]}
	if err := host.Reachable(p.network, p.at, sockets); err != nil {
		return p, &fault{err.Error(), "make the socket in the folder named in PLUGIN_UNIX_SOCKET_DIR, which is guarded and is removed; on Windows listen at 127.0.0.1"}
	}
	if len(f) < 6 || f[5] == "" {
		return p, &fault{"there is no certificate in the line", "make a certificate, show it on every connection, and write it at the end of the line (DER, base64 without padding)"}
	}
	der, err := base64.RawStdEncoding.DecodeString(f[5])
	if err != nil {
		do := "write its DER in base64, the standard alphabet"
		if strings.HasSuffix(f[5], "=") {
			do = "leave out the padding, the = at the end"
		}
		return p, &fault{"its certificate cannot be read: " + err.Error(), do}
	}
	if p.certificate, err = x509.ParseCertificate(der); err != nil {
		return p, &fault{"its certificate cannot be read: " + err.Error(), "write its DER, not its PEM, in base64 without padding"}
	}
	return p, nil
}

// dial is a connection on which answers arrive as bytes.
func (k *kit) dial(p place) (*grpc.ClientConn, error) {
	conf := k.tls.Clone()
	conf.RootCAs = x509.NewCertPool()
	conf.RootCAs.AddCert(p.certificate)
	conf.MinVersion = tls.VersionTLS12
	return grpc.NewClient("passthrough:///plugin",
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) {
			return (&net.Dialer{}).DialContext(ctx, p.network, p.at)
		}),
		grpc.WithTransportCredentials(credentials.NewTLS(conf)),
		grpc.WithDefaultCallOptions(grpc.MaxCallRecvMsgSize(proto.LargestAnswer), grpc.ForceCodec(asBytes{})))
}

// asBytes sends messages and leaves answers as they came.
type asBytes struct{}

func (asBytes) Marshal(v any) ([]byte, error) { return gproto.Marshal(v.(gproto.Message)) }

func (asBytes) Unmarshal(data []byte, v any) error {
	*v.(*[]byte) = append([]byte{}, data...)
	return nil
}

func (asBytes) Name() string { return "proto" }

// ask makes one call.
func (k *kit) ask(conn *grpc.ClientConn, method string, request gproto.Message, limit time.Duration) ([]byte, error) {
	ctx, cancel := context.WithTimeout(k.ctx, limit)
	defer cancel()
	var answer []byte
	err := conn.Invoke(ctx, method, request, &answer)
	return answer, err
}
