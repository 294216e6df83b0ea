package parcel

import (
	"bytes"
	"unicode/utf8"
)

// programs are the first bytes of what some system would run or unpack. A line
// that begins with #! is a comment in YAML and a program for a shell.
var programs = [][]byte{
	[]byte("#!"), []byte("\x7fELF"), []byte("MZ"), []byte("PK\x03\x04"), []byte("PK\x05\x06"), []byte("\xfe\xed\xfa\xce"), []byte("\xfe\xed\xfa\xcf"),
	[]byte("\xce\xfa\xed\xfe"), []byte("\xcf\xfa\xed\xfe"), []byte("\xca\xfe\xba\xbe"), []byte("\x1f\x8b"), []byte("\x00asm"), []byte("<?php"),
}

// checkText: text alone, as YAML is: UTF-8 without control characters.
func checkText(f File) error {
	data := bytes.TrimPrefix(f.Data, []byte("\ufeff"))
	for _, p := range programs {
		if bytes.HasPrefix(data, p) {
			return Refuse(Program, f.Name, "it begins like a program or an archive")
		}
	}
	if len(bytes.TrimSpace(data)) == 0 {
		return Refuse(NotText, f.Name, "it is empty")
	}
	if !utf8.Valid(data) {
		return Refuse(NotText, f.Name, "it is not text in UTF-8")
	}
	for _, b := range data {
		if b < 0x20 && b != '\n' && b != '\t' && b != '\r' || b == 0x7f {
			return Refuse(NotText, f.Name, "it holds control characters")
		}
	}
	return nil
}
