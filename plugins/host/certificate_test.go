package host

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"net"
	"testing"
	"time"
)

// peerOf is a plugin's end as AutoMTLS sets it up: it asks for the certificate
// it was given as text, and shows one of its own.
func peerOf(t *testing.T, text string, own tls.Certificate) *tls.Config {
	t.Helper()
	pool := x509.NewCertPool()
	if !pool.AppendCertsFromPEM([]byte(text)) {
		t.Fatal("the text is no certificate")
	}
	return &tls.Config{Certificates: []tls.Certificate{own}, ClientAuth: tls.RequireAndVerifyClientCert, ClientCAs: pool, MinVersion: tls.VersionTLS12}
}

// shake lets both ends shake hands and returns what each says of it.
func shake(host, plugin *tls.Config) (hostErr, pluginErr error) {
	a, b := net.Pipe()
	defer a.Close()
	defer b.Close()
	_ = a.SetDeadline(time.Now().Add(10 * time.Second))
	_ = b.SetDeadline(time.Now().Add(10 * time.Second))
	done := make(chan error, 1)
	go func() {
		err := tls.Server(b, plugin).Handshake()
		_ = b.Close()
		done <- err
	}()
	// In TLS 1.3 the client is done before its certificate was looked at.
	hostErr = tls.Client(a, host).Handshake()
	_ = a.Close()
	return hostErr, <-done
}

func TestBothEndsShowTheirCertificates(t *testing.T) {
	t.Parallel()
	mine, text, err := mutualTLS(time.Now())
	if err != nil {
		t.Fatal(err)
	}
	theirs, theirText, err := mutualTLS(time.Now())
	if err != nil {
		t.Fatal(err)
	}
	stranger, strangerText, err := mutualTLS(time.Now())
	if err != nil {
		t.Fatal(err)
	}
	trusting := func(conf *tls.Config, text string) *tls.Config {
		c := conf.Clone()
		c.RootCAs = x509.NewCertPool()
		c.RootCAs.AppendCertsFromPEM([]byte(text))
		return c
	}
	for _, c := range []struct {
		name             string
		host             *tls.Config
		asks             string // the certificate the plugin asks for
		hostOK, pluginOK bool   // each end is content
	}{
		{"each shows what the other knows", trusting(mine, theirText), text, true, true},
		{"before the plugin has answered nobody is trusted", mine, text, false, false},
		{"another plugin at the socket", trusting(mine, strangerText), text, false, false},
		{"another host at the socket", trusting(stranger, theirText), text, true, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			h, p := shake(c.host, peerOf(t, c.asks, theirs.Certificates[0]))
			if (h == nil) != c.hostOK || (p == nil) != c.pluginOK {
				t.Errorf("host: %v, plugin: %v", h, p)
			}
		})
	}
}

func TestEveryStartHasACertificateOfItsOwn(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC)
	seen := map[string]bool{}
	for range 3 {
		_, text, err := mutualTLS(now)
		if err != nil {
			t.Fatal(err)
		}
		block, _ := pem.Decode([]byte(text))
		if block == nil {
			t.Fatal("the text is no PEM")
		}
		c, err := x509.ParseCertificate(block.Bytes)
		if err != nil {
			t.Fatal(err)
		}
		if !now.After(c.NotBefore) || !now.Before(c.NotAfter) || c.NotAfter.Sub(c.NotBefore) > 25*time.Hour {
			t.Errorf("valid from %v to %v", c.NotBefore, c.NotAfter)
		}
		seen[c.SerialNumber.String()] = true
	}
	if len(seen) != 3 {
		t.Errorf("%d serial numbers of 3 starts", len(seen))
	}
}
