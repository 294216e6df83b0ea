package proto

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"fmt"
	"math/big"
	"time"
)

// ClientCertificate names the variable in which go-plugin's AutoMTLS hands the
// host's certificate to the plugin; a test holds the name.
const ClientCertificate = "PLUGIN_CLIENT_CERT"

// BothEnds is what host and plugin call themselves in their certificates.
const BothEnds = "localhost"

// NewCertificate makes one end's certificate for one start. Host and sdk make
// theirs instead of go-plugin because its keys are on P-521, each of which
// costs a fifth of the start, and P-256 guards a socket of one's own as well.
func NewCertificate(now time.Time) (tls.Certificate, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return tls.Certificate{}, fmt.Errorf("make a key: %w", err)
	}
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 128))
	if err != nil {
		return tls.Certificate{}, fmt.Errorf("make a serial number: %w", err)
	}
	template := &x509.Certificate{
		Subject:               pkix.Name{CommonName: BothEnds},
		DNSNames:              []string{BothEnds},
		SerialNumber:          serial,
		NotBefore:             now.Add(-time.Minute),
		NotAfter:              now.Add(24 * time.Hour), // the plugin lives for a moment
		KeyUsage:              x509.KeyUsageDigitalSignature | x509.KeyUsageCertSign,
		ExtKeyUsage:           []x509.ExtKeyUsage{x509.ExtKeyUsageClientAuth, x509.ExtKeyUsageServerAuth},
		BasicConstraintsValid: true,
		IsCA:                  true, // its own issuer
	}
	der, err := x509.CreateCertificate(rand.Reader, template, template, key.Public(), key)
	if err != nil {
		return tls.Certificate{}, fmt.Errorf("make a certificate: %w", err)
	}
	return tls.Certificate{Certificate: [][]byte{der}, PrivateKey: key}, nil
}
