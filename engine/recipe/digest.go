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
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	sum := sha256.Sum256(bytes.ReplaceAll(data, []byte("\r\n"), []byte("\n")))
	return hex.EncodeToString(sum[:])
}
