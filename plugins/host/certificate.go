package host

import (
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"time"

	"canewright/plugins/proto"
)

// clientCertificate is where the plugin finds the host's certificate.
const clientCertificate = proto.ClientCertificate

// mutualTLS is the host's half of AutoMTLS: a certificate for this one start,
// which the plugin is given (text) and will ask for. It answers with its own,
// which go-plugin then takes as the only root.
func mutualTLS(now time.Time) (conf *tls.Config, text string, err error) {
	own, err := proto.NewCertificate(now)
	if err != nil {
		return nil, "", err
	}
	conf = &tls.Config{
		Certificates: []tls.Certificate{own},
		ClientAuth:   tls.RequireAndVerifyClientCert,
		MinVersion:   tls.VersionTLS12,
		ServerName:   proto.BothEnds,
		RootCAs:      x509.NewCertPool(), // trusts nobody until the plugin has answered
	}
	return conf, string(pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: own.Certificate[0]})), nil
}
