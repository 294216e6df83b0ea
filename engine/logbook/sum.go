package logbook

import (
	"encoding/binary"
	"hash/crc32"

	"canewright/engine/bench"
)

// SQLite finds a page whose build is damaged, not a digit that was changed in
// one. So every event has a CRC-32C (RFC 3720, appendix B.4) over all it says.
var castagnoli = crc32.MakeTable(crc32.Castagnoli)

func sum(h *bench.Head, kind string, body []byte) int64 {
	b := make([]byte, 0, 512)
	for _, n := range []int64{int64(h.Seq), int64(h.Cause), h.At.UnixMilli(), h.Entered.UnixMilli(), int64(h.Visit)} {
		b = binary.AppendVarint(b, n)
	}
	for _, s := range []string{kind, h.Zone, h.Session, h.Who, h.Subject.Kind, h.Subject.ID, h.Stage} {
		b = binary.AppendUvarint(b, uint64(len(s)))
		b = append(b, s...)
	}
	return int64(crc32.Update(crc32.Checksum(b, castagnoli), castagnoli, body))
}
