package parcel

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"slices"
)

// The three records of an archive (PKWARE, .ZIP File Format Specification
// 6.3.10, sections 4.3.7, 4.3.12, 4.3.16) and their lengths without names.
const (
	localMark, localLen     = 0x04034b50, 30
	centralMark, centralLen = 0x02014b50, 46
	endMark, endLen         = 0x06054b50, 22
	// needed: version 1.0 of the specification, all that Store asks for.
	needed = 10
	// fixedDate is 1 January 1980, the first day the format can say.
	fixedDate = 0x21
)

type entry struct {
	name   string
	data   []byte
	offset int
}

// archive writes entries in the one form.
func archive(all []entry) []byte {
	var out []byte
	le := binary.LittleEndian
	common := func(e entry) []byte {
		b := le.AppendUint16(nil, needed)
		b = le.AppendUint16(b, 0) // flags
		b = le.AppendUint16(b, 0) // Store
		b = le.AppendUint16(b, 0) // midnight
		b = le.AppendUint16(b, fixedDate)
		b = le.AppendUint32(b, crc32.ChecksumIEEE(e.data))
		b = le.AppendUint32(b, uint32(len(e.data)))
		b = le.AppendUint32(b, uint32(len(e.data)))
		b = le.AppendUint16(b, uint16(len(e.name)))
		return le.AppendUint16(b, 0) // no extra field
	}
	for i, e := range all {
		all[i].offset = len(out)
		out = le.AppendUint32(out, localMark)
		out = append(append(append(out, common(e)...), e.name...), e.data...)
	}
	start := len(out)
	for _, e := range all {
		out = le.AppendUint32(out, centralMark)
		out = le.AppendUint16(out, needed) // made by the oldest of systems
		out = append(out, common(e)...)
		out = append(out, make([]byte, 2+2+2+4)...) // comment, disk, attributes inside and outside
		out = le.AppendUint32(out, uint32(e.offset))
		out = append(out, e.name...)
	}
	size := len(out) - start
	out = le.AppendUint32(out, endMark)
	out = append(out, 0, 0, 0, 0) // disks
	out = le.AppendUint16(out, uint16(len(all)))
	out = le.AppendUint16(out, uint16(len(all)))
	out = le.AppendUint32(out, uint32(size))
	out = le.AppendUint32(out, uint32(start))
	return append(out, 0, 0) // no comment
}

// unarchive reads an archive from its first byte to its last and refuses
// whatever archive would not write. The data of the entries lies in data.
func unarchive(data []byte) ([]entry, error) {
	switch {
	case len(data) == 0:
		return nil, Refuse(Empty, "", "the file is empty")
	case len(data) > MaxBytes:
		return nil, Refuse(TooLarge, "", "it has more than %d MiB", MaxBytes>>20)
	}
	mark := func(at int) uint32 {
		if len(data)-at < 4 {
			return 0
		}
		return binary.LittleEndian.Uint32(data[at:])
	}
	if mark(0) != localMark {
		local := binary.LittleEndian.AppendUint32(nil, localMark)
		end := binary.LittleEndian.AppendUint32(nil, endMark)
		if bytes.Contains(data, local) && bytes.Contains(data, end) {
			return nil, Refuse(InFront, "", "something stands in front of the pack")
		}
		return nil, Refuse(NotAPack, "", "this is not a pack")
	}
	var all []entry
	at := 0
	for mark(at) == localMark {
		if len(all) == maxFiles {
			return nil, Refuse(TooMany, "", "it holds more than %d files", maxFiles)
		}
		e, next, err := readLocal(data, at)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(all, func(o entry) bool { return o.name == e.name }) {
			return nil, Refuse(DoubleName, e.name, "it is in the pack twice")
		}
		all, at = append(all, e), next
	}
	start := at
	for _, e := range all {
		next, err := readCentral(data, at, e)
		if err != nil {
			return nil, err
		}
		at = next
	}
	return all, readEnd(data, at, start, len(all))
}

// fields are those that stand in both lists.
type fields struct {
	needed, flags, method, time, date uint16
	sum, packed, size                 uint32
	name, extra                       uint16
}

func readFields(b []byte) fields {
	le := binary.LittleEndian
	return fields{le.Uint16(b), le.Uint16(b[2:]), le.Uint16(b[4:]), le.Uint16(b[6:]), le.Uint16(b[8:]),
		le.Uint32(b[10:]), le.Uint32(b[14:]), le.Uint32(b[18:]), le.Uint16(b[22:]), le.Uint16(b[24:])}
}

func cut() error { return Refuse(Cut, "", "the pack is cut off, or its sizes are not true") }

// check looks at what every entry has alike.
func (f fields) check(name string) error {
	switch {
	case f.flags&1 != 0:
		return Refuse(Encrypted, name, "it is encrypted")
	case f.method != 0:
		return Refuse(Compressed, name, "it is compressed; in a pack nothing is")
	case f.extra != 0:
		return Refuse(ExtraField, name, "it carries an extra field")
	case f.flags != 0 || f.needed != needed:
		return Refuse(OddField, name, "it is stored in a way no pack is written")
	case f.time != 0 || f.date != fixedDate:
		return Refuse(OddTime, name, "it has a time; in a pack none has")
	case f.packed != f.size:
		return Refuse(OddField, name, "it has two sizes")
	}
	return nil
}

func limitOf(name string) int {
	switch name {
	case manifestName:
		return maxManifest
	case signatureName:
		return maxSignature
	}
	if roleOf(name) == Picture {
		return MaxPicture
	}
	return MaxText
}

func readLocal(data []byte, at int) (entry, int, error) {
	e := entry{offset: at}
	if len(data)-at < localLen {
		return e, 0, cut()
	}
	f := readFields(data[at+4:])
	at += localLen
	if int(f.name)+int(f.extra) > len(data)-at {
		return e, 0, cut()
	}
	e.name = string(data[at : at+int(f.name)])
	if err := checkName(e.name); err != nil {
		return e, 0, err
	}
	if err := f.check(e.name); err != nil {
		return e, 0, err
	}
	if roleOf(e.name) == "" && e.name != manifestName && e.name != signatureName {
		return e, 0, Refuse(ForeignFile, e.name, "a pack holds no such file")
	}
	at += int(f.name)
	if int64(f.size) > int64(limitOf(e.name)) {
		return e, 0, Refuse(FileTooLarge, e.name, "it has more than %d KiB", limitOf(e.name)>>10)
	}
	if int64(f.size) > int64(len(data)-at) {
		return e, 0, cut()
	}
	e.data = data[at : at+int(f.size) : at+int(f.size)]
	if crc32.ChecksumIEEE(e.data) != f.sum {
		return e, 0, Refuse(Damaged, e.name, "its checksum does not fit: it was damaged on the way")
	}
	return e, at + int(f.size), nil
}

func readCentral(data []byte, at int, e entry) (int, error) {
	le := binary.LittleEndian
	differ := func() error { return Refuse(TwoLists, e.name, "the pack lists it in two ways that differ") }
	if len(data)-at < centralLen {
		return 0, cut()
	}
	b := data[at : at+centralLen]
	if le.Uint32(b) != centralMark {
		return 0, differ()
	}
	f := readFields(b[6:])
	comment, outside := le.Uint16(b[32:]), le.Uint32(b[38:])
	name := data[at+centralLen:]
	if int(f.name) > len(name) {
		return 0, cut()
	}
	name = name[:f.name]
	if string(name) != e.name {
		return 0, differ()
	}
	if err := f.check(e.name); err != nil {
		return 0, err
	}
	switch {
	case comment != 0:
		return 0, Refuse(Comment, e.name, "it carries a comment")
	case outside>>16&0xf000 == 0xa000: // S_IFLNK of POSIX, where archives keep it
		return 0, Refuse(Link, e.name, "it is a link")
	case outside>>16&0xf000 == 0x4000 || outside&0x10 != 0:
		return 0, Refuse(Folder, e.name, "it calls itself a folder")
	case le.Uint16(b[4:]) != needed || le.Uint16(b[34:]) != 0 || le.Uint16(b[36:]) != 0 || outside != 0:
		return 0, Refuse(OddField, e.name, "it is stored in a way no pack is written")
	case f.sum != crc32.ChecksumIEEE(e.data) || int(f.size) != len(e.data) || int64(le.Uint32(b[42:])) != int64(e.offset):
		return 0, differ()
	}
	return at + centralLen + len(name), nil
}

func readEnd(data []byte, at, start, n int) error {
	le := binary.LittleEndian
	b := data[at:]
	if len(b) >= 4 && le.Uint32(b) == centralMark {
		return Refuse(TwoLists, "", "it lists more files than it holds")
	}
	if len(b) < endLen {
		return cut()
	}
	switch {
	case le.Uint32(b) != endMark:
		return Refuse(OddField, "", "something stands between its files and its end")
	case le.Uint16(b[4:]) != 0 || le.Uint16(b[6:]) != 0:
		return Refuse(OddField, "", "it is one of several parts")
	case int(le.Uint16(b[8:])) != n || int(le.Uint16(b[10:])) != n || int64(le.Uint32(b[12:])) != int64(at-start) || int64(le.Uint32(b[16:])) != int64(start):
		return Refuse(TwoLists, "", "it says something else of its list than is there")
	case le.Uint16(b[20:]) != 0:
		return Refuse(Comment, "", "it carries a comment")
	case len(b) != endLen:
		return Refuse(Behind, "", "something stands behind its end")
	}
	return nil
}
