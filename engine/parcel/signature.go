package parcel

import (
	"crypto/ed25519"
	"crypto/sha256"
	"encoding/hex"
	"strings"

	"canewright/engine/diagnostic"
)

// Signature says that the holder of a key has signed a manifest, and so all the
// manifest lists. It says nothing of who that is: As is their own word.
type Signature struct {
	Key ed25519.PublicKey
	As  string
	Sum []byte // Ed25519 (RFC 8032)
}

const signatureFormat = "signature 1"

// LongestAs is the most letters of a signer's own words.
const LongestAs = 80

// signed is what is signed. The words in front belong to this use alone, so
// that nothing signed elsewhere can be passed off as a pack.
func signed(as string, manifest []byte) []byte {
	return append([]byte("canewright: this pack is signed by\n"+as+"\n"), manifest...)
}

// Sign signs the contents as they are; as may be "". Like all of Ed25519 it
// needs no randomness: the same contents give the same signature.
func (c *Contents) Sign(key ed25519.PrivateKey, as string) error {
	if why := words(as, LongestAs); why != "" {
		return Refuse(BadSignature, "", "the signer's own words %s", why)
	}
	c.Signature = &Signature{Key: key.Public().(ed25519.PublicKey), As: as, Sum: ed25519.Sign(key, signed(as, c.manifest()))}
	return nil
}

func (s *Signature) check(manifest []byte) error {
	if len(s.Key) != ed25519.PublicKeySize || len(s.Sum) != ed25519.SignatureSize {
		return Refuse(BadSignature, signatureName, "its key or its sum has a wrong length")
	}
	if why := words(s.As, LongestAs); why != "" {
		return Refuse(BadSignature, signatureName, "the signer's own words %s", why)
	}
	if !ed25519.Verify(s.Key, signed(s.As, manifest), s.Sum) {
		return Refuse(WrongSignature, signatureName, "the signature does not belong to what is in the pack: something was changed after signing")
	}
	return nil
}

// Fingerprint is a key in a form that can be read aloud: 128 bits of its
// SHA-256, in eight groups of four.
func Fingerprint(key ed25519.PublicKey) string {
	sum := sha256.Sum256(key)
	text := hex.EncodeToString(sum[:16])
	var groups []string
	for i := 0; i < len(text); i += 4 {
		groups = append(groups, text[i:i+4])
	}
	return strings.Join(groups, " ")
}

// words says what is wrong with a line of somebody's words; "" is none.
func words(s string, most int) string {
	switch {
	case len([]rune(s)) > most:
		return "are too long"
	case strings.ContainsFunc(s, diagnostic.Unsafe) || strings.ContainsAny(s, "\n\r\t\u2028\u2029\ufffd"):
		return "hold what cannot be printed"
	case strings.TrimSpace(s) != s:
		return "begin or end with a blank"
	}
	return ""
}

func (s *Signature) encode() []byte {
	var w writer
	w.open("{")
	w.text("canewright", signatureFormat)
	w.text("key", hex.EncodeToString(s.Key))
	w.text("as", s.As)
	w.text("signature", hex.EncodeToString(s.Sum))
	w.close("}")
	return w.done()
}

func decodeSignature(data []byte) (*Signature, error) {
	var in struct {
		Canewright, Key, As, Signature *string
	}
	if err := decode(data, &in); err != nil || in.Canewright == nil || in.Key == nil || in.As == nil || in.Signature == nil || *in.Canewright != signatureFormat {
		return nil, Refuse(BadSignature, signatureName, "this is not a signature this version reads")
	}
	s := &Signature{As: *in.As}
	var err error
	if s.Key, err = hex.DecodeString(*in.Key); err == nil {
		s.Sum, err = hex.DecodeString(*in.Signature)
	}
	if err != nil {
		return nil, Refuse(BadSignature, signatureName, "its key or its sum is no hexadecimal number")
	}
	return s, nil
}
