package sdk

import (
	"bufio"
	"crypto/tls"
	"crypto/x509"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"canewright/plugins/proto"
)

// shakeHands gives the plugin's standard output to go-plugin, which prints the
// handshake, and makes the certificate that belongs into it; see
// proto.NewCertificate. go-plugin leaves the place for it empty where it is
// handed one, so the line passes through here. Nil: the host has sent none, and
// go-plugin does all.
func shakeHands(stdout *os.File) (func() (*tls.Config, error), error) {
	text := os.Getenv(proto.ClientCertificate)
	if text == "" {
		os.Stdout = stdout
		return nil, nil
	}
	host := x509.NewCertPool()
	if !host.AppendCertsFromPEM([]byte(text)) {
		return nil, errors.New("the host's certificate cannot be read")
	}
	own, err := proto.NewCertificate(time.Now())
	if err != nil {
		return nil, err
	}
	r, w, err := os.Pipe()
	if err != nil {
		return nil, fmt.Errorf("make a pipe for the handshake: %w", err)
	}
	os.Stdout = w // go-plugin puts another in its place after the handshake
	go func() {
		in := bufio.NewReader(r)
		line, err := in.ReadString('\n')
		if err == nil {
			_, err = stdout.WriteString(withCertificate(line, own.Certificate[0]))
		}
		if err == nil {
			_, _ = io.Copy(stdout, in)
		}
	}()
	return func() (*tls.Config, error) {
		return &tls.Config{
			Certificates: []tls.Certificate{own},
			ClientAuth:   tls.RequireAndVerifyClientCert, ClientCAs: host, RootCAs: host,
			MinVersion: tls.VersionTLS12, ServerName: proto.BothEnds,
		}, nil
	}, nil
}

// withCertificate puts a certificate (DER) into a handshake, CORE|WIRE|NETWORK|
// ADDRESS|grpc|CERTIFICATE, behind which go-plugin may have written more.
func withCertificate(line string, der []byte) string {
	parts := strings.Split(line, "|")
	const place = 5
	if len(parts) <= place {
		return line
	}
	end := ""
	if len(parts) == place+1 {
		end = "\n"
	}
	parts[place] = base64.RawStdEncoding.EncodeToString(der) + end
	return strings.Join(parts, "|")
}
