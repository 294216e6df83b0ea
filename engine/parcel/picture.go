package parcel

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"slices"
	"strings"
)

// A picture is never drawn here. It is looked at from its first byte to its
// last, so that it is what its name says, holds nothing behind its end, and
// carries no words: what a camera writes beside a picture (place, time, name)
// stays out. Drawings in SVG are left out: they may hold programs and addresses.

// mostPixels: larger than any camera's picture that fits, and small enough for
// a viewer.
const mostPixels = 64 << 20

func checkPicture(f File) error {
	plain, why := Plain(f.Name, f.Data)
	if why != "" {
		return Refuse(NotAPicture, f.Name, "%s", why)
	}
	if !bytes.Equal(plain, f.Data) {
		return Refuse(NotAPicture, f.Name, "it carries more than the picture itself")
	}
	return nil
}

// Plain is a picture without what stands beside or behind it in the file; why
// says that it is none.
func Plain(name string, data []byte) (plain []byte, why string) {
	if strings.HasSuffix(name, ".png") {
		return plainPNG(data)
	}
	return plainJPEG(data)
}

const startPNG = "\x89PNG\r\n\x1a\n"

// plainPNG keeps the chunks that change how the picture looks (W3C, Portable
// Network Graphics, third edition, sections 5 and 11).
func plainPNG(data []byte) ([]byte, string) {
	if !bytes.HasPrefix(data, []byte(startPNG)) {
		return nil, "it is no PNG"
	}
	out := []byte(startPNG)
	pictured := false
	for at := len(startPNG); ; {
		if len(data)-at < 12 {
			return nil, "it is cut off"
		}
		n := int64(binary.BigEndian.Uint32(data[at:]))
		if n > int64(len(data)-at-12) {
			return nil, "it is cut off"
		}
		kind, chunk := string(data[at+4:at+8]), data[at:at+12+int(n)]
		if crc32.ChecksumIEEE(chunk[4:8+n]) != binary.BigEndian.Uint32(chunk[8+n:]) {
			return nil, "a checksum in it does not fit"
		}
		first := at == len(startPNG)
		at += len(chunk)
		switch {
		case first != (kind == "IHDR") || first && n != 13:
			return nil, "it does not begin as a PNG does"
		case first && !fits(uint64(binary.BigEndian.Uint32(chunk[8:])), uint64(binary.BigEndian.Uint32(chunk[12:]))):
			return nil, "it is empty, or larger than 64 million points"
		case kind == "IEND":
			if n != 0 || !pictured {
				return nil, "there is no picture in it"
			}
			return append(out, chunk...), "" // what stands behind is none of it
		case slices.Contains([]string{"IHDR", "PLTE", "IDAT", "tRNS", "gAMA", "cHRM", "sRGB", "sBIT", "bKGD", "pHYs"}, kind):
			out = append(out, chunk...)
			pictured = pictured || kind == "IDAT"
		case kind[0] < 'a':
			return nil, "it holds a part no PNG needs"
		}
	}
}

// plainJPEG keeps the segments that make the picture (ITU-T T.81, annex B) and
// JFIF's and Adobe's, which say how its colours are meant.
func plainJPEG(data []byte) ([]byte, string) {
	if !bytes.HasPrefix(data, []byte{0xff, 0xd8, 0xff}) {
		return nil, "it is no JPEG"
	}
	out := slices.Clone(data[:2])
	framed, scanned := false, false
	for at := 2; ; {
		if len(data)-at < 2 {
			return nil, "it is cut off"
		}
		if data[at] != 0xff {
			return nil, "it is damaged"
		}
		mark := data[at+1]
		if mark == 0xd9 {
			if !framed || !scanned {
				return nil, "there is no picture in it"
			}
			return append(out, data[at:at+2]...), "" // cameras put more pictures behind
		}
		if len(data)-at < 4 {
			return nil, "it is cut off"
		}
		n := int(binary.BigEndian.Uint16(data[at+2:]))
		if n < 2 || n > len(data)-at-2 {
			return nil, "it is cut off"
		}
		part := data[at : at+2+n]
		at += len(part)
		switch {
		case mark == 0xc0 || mark == 0xc1 || mark == 0xc2:
			if framed || n < 8 || !fits(uint64(binary.BigEndian.Uint16(part[5:])), uint64(binary.BigEndian.Uint16(part[7:]))) {
				return nil, "it is empty, or larger than 64 million points"
			}
			framed = true
		case mark == 0xda:
			end := scanEnd(data, at)
			part = data[at-len(part) : end]
			at, scanned = end, true
		case mark == 0xc4 || mark == 0xdb || mark == 0xdd:
		case mark == 0xe0 && bytes.HasPrefix(part[4:], []byte("JFIF\x00")) && n == 16:
		case mark == 0xee && bytes.HasPrefix(part[4:], []byte("Adobe")) && n == 14:
		case mark >= 0xe0 && mark <= 0xef || mark == 0xfe:
			continue // a camera's words
		default:
			return nil, "it holds a part this reader does not know"
		}
		out = append(out, part...)
	}
}

// scanEnd is where the coded picture that begins at at ends: before the next
// marker that is no restart and no stuffed byte.
func scanEnd(data []byte, at int) int {
	for ; at+1 < len(data); at++ {
		if next := data[at+1]; data[at] == 0xff && next != 0 && (next < 0xd0 || next > 0xd7) {
			return at
		}
	}
	return len(data)
}

func fits(w, h uint64) bool {
	return w > 0 && h > 0 && w <= mostPixels && h <= mostPixels && w*h <= mostPixels
}
