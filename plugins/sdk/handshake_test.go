package sdk

import "testing"

func TestTheCertificateHasItsPlaceInTheHandshake(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ say, line, want string }{
		{"alone", "1|1|unix|/tmp/x|grpc|\n", "1|1|unix|/tmp/x|grpc|YWJj\n"},
		{"with more behind it", "1|1|unix|/tmp/x|grpc||true\n", "1|1|unix|/tmp/x|grpc|YWJj|true\n"},
		{"no handshake", "good morning\n", "good morning\n"},
	} {
		// "abc" in base64 without padding: RFC 4648, section 4.
		if got := withCertificate(c.line, []byte("abc")); got != c.want {
			t.Errorf("%s: %q, want %q", c.say, got, c.want)
		}
	}
}
