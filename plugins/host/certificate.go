package host

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"fmt"
	"math/big"
	"time"
)

// clientCertificate names the variable in which go-plugin's AutoMTLS hands the
// host's certificate to the plugin; a test holds the name.
const clientCertificate = "PLUGIN_CLIENT_CERT"

// mutualTLS is the host's half of AutoMTLS: a certificate for this one start,
// which the plugin is given (text) and will ask for. It answers with its own,
// which go-plugin then takes as the only root. We make ours instead of
// go-plugin because its key is on P-521, which costs a fifth of the start, and
// P-256 guards a socket of one's own as well.
func mutualTLS(now time.Time) (conf *tls.Config, text string, err error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, "", fmt.Errorf("make a key: %w", err)
	}
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 128))
	if err != nil {
		return nil, "", fmt.Errorf("make a serial number: %w", err)
	}
	const name = "localhost" // what both ends of AutoMTLS call themselves
	template := &x509.Certificate{
		Subject:               pkix.Name{CommonName: name},
		DNSNames:              []string{name},
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
		return nil, "", fmt.Errorf("make a certificate: %w", err)
	}
	conf = &tls.Config{
		Certificates: []tls.Certificate{{Certificate: [][]byte{der}, PrivateKey: key}},
		ClientAuth:   tls.RequireAndVerifyClientCert,
		MinVersion:   tls.VersionTLS12,
		ServerName:   name,
		RootCAs:      x509.NewCertPool(), // trusts nobody until the plugin has answered
	}
	return conf, string(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: der})), nil
}
