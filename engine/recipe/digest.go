package recipe

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
)

// Digest is the SHA-256 of a recipe's text, in 64 hexadecimal digits. A byte
// order mark and the carriage returns of line ends do not count: a checkout on
// another system has the same digest.
func Digest(data []byte) string {
	sum := sha256.Sum256(Text(data))
	return hex.EncodeToString(sum[:])
}

// Text is what Digest counts: the text without byte order mark and with plain
// line ends.
func Text(data []byte) []byte {
	return bytes.ReplaceAll(bytes.TrimPrefix(data, []byte("\ufeff")), []byte("\r\n"), []byte("\n"))
}
