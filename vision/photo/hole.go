package photo

import (
	"bytes"
	"encoding/binary"
)

// A copy that failed half-way leaves zeros where bytes should be. The decoders of HEIC and WebP do not mind: they make up a
// picture from there on. Coded pictures, though, never hold what such a hole holds.

// holeInHEIC reports whether the coded pictures of a HEIC file are damaged where that shows: their NAL units must fill them
// exactly (ISO/IEC 14496-15, 4.3.2), and no unit holds 00 00 00, 00 00 01 or 00 00 02 (ITU-T H.265, 7.4.2.1). What cannot be
// found in the file is left to the decoder.
func holeInHEIC(raw []byte) bool {
	meta := boxIn(raw, "meta")
	if len(meta) < 4 {
		return false
	}
	meta = meta[4:] // version and flags
	if config := boxIn(boxIn(boxIn(meta, "iprp"), "ipco"), "hvcC"); len(config) < 23 || config[21]&3 != 3 {
		return false // lengths of other than four bytes, which no camera writes
	}
	coded := codedItems(boxIn(meta, "iinf"))
	for id, extents := range itemExtents(boxIn(meta, "iloc"), len(raw)) {
		if !coded[id] || len(extents) != 1 { // one piece each, as all cameras write them
			continue
		}
		if damagedUnits(raw[extents[0][0]:extents[0][1]]) {
			return true
		}
	}
	return false
}

// damagedUnits walks NAL units, each behind its length in four bytes.
func damagedUnits(b []byte) bool {
	for len(b) > 0 {
		if len(b) < 4 {
			return true
		}
		size := uint64(binary.BigEndian.Uint32(b))
		if size < 2 || size > uint64(len(b)-4) {
			return true
		}
		unit := b[4 : 4+size]
		for _, forbidden := range []string{"\x00\x00\x00", "\x00\x00\x01", "\x00\x00\x02"} {
			if bytes.Contains(unit, []byte(forbidden)) {
				return true
			}
		}
		b = b[4+size:]
	}
	return false
}

// boxIn returns the content of the first box of a kind (ISO/IEC 14496-12, 4.2), or nil.
func boxIn(b []byte, kind string) []byte {
	for len(b) >= 8 {
		size, head := uint64(binary.BigEndian.Uint32(b)), uint64(8)
		switch size {
		case 0:
			size = uint64(len(b))
		case 1:
			if len(b) < 16 {
				return nil
			}
			size, head = binary.BigEndian.Uint64(b[8:]), 16
		}
		if size < head || size > uint64(len(b)) {
			return nil
		}
		if string(b[4:8]) == kind {
			return b[head:size]
		}
		b = b[size:]
	}
	return nil
}

// codedItems returns the items of an iinf box that are pictures coded by HEVC (ISO/IEC 14496-12, 8.11.6).
func codedItems(iinf []byte) map[uint32]bool {
	coded := map[uint32]bool{}
	if len(iinf) < 6 {
		return coded
	}
	rest := iinf[6:]
	if iinf[0] > 0 {
		rest = iinf[min(8, len(iinf)):]
	}
	for len(rest) >= 8 {
		size := uint64(binary.BigEndian.Uint32(rest))
		if size < 8 || size > uint64(len(rest)) {
			break
		}
		entry := rest[8:size]
		if string(rest[4:8]) == "infe" && len(entry) >= 12 {
			switch entry[0] {
			case 2:
				coded[uint32(binary.BigEndian.Uint16(entry[4:]))] = string(entry[8:12]) == "hvc1"
			case 3:
				coded[binary.BigEndian.Uint32(entry[4:])] = len(entry) >= 14 && string(entry[10:14]) == "hvc1"
			}
		}
		rest = rest[size:]
	}
	return coded
}

// itemExtents returns where in a file of the given size the items of an iloc box lie, from and to (ISO/IEC 14496-12, 8.11.3). Items
// that lie elsewhere, or nowhere, are left out.
func itemExtents(iloc []byte, fileSize int) map[uint32][][2]int {
	found := map[uint32][][2]int{}
	r := numbers{b: iloc}
	version := r.next(1)
	r.next(3)
	sizes := r.next(1)
	more := r.next(1)
	offsetSize, lengthSize, baseSize, indexSize := int(sizes>>4), int(sizes&15), int(more>>4), 0
	idSize := 2
	if version > 0 {
		indexSize = int(more & 15)
	}
	if version > 1 {
		idSize = 4
	}
	for n := r.next(idSize); n > 0 && !r.short; n-- {
		id := uint32(r.next(idSize))
		inFile := true
		if version > 0 {
			inFile = r.next(2)&15 == 0
		}
		inFile = r.next(2) == 0 && inFile // data reference 0 is this file
		base := r.next(baseSize)
		var extents [][2]int
		for k := r.next(2); k > 0 && !r.short; k-- {
			r.next(indexSize)
			from := base + r.next(offsetSize)
			length := r.next(lengthSize)
			if from > uint64(fileSize) || length == 0 || length > uint64(fileSize)-from {
				inFile = false
				continue
			}
			extents = append(extents, [2]int{int(from), int(from + length)})
		}
		if inFile && !r.short {
			found[id] = extents
		}
	}
	return found
}

// numbers reads big-endian numbers of 0 to 8 bytes one after the other.
type numbers struct {
	b     []byte
	short bool
}

func (r *numbers) next(size int) (n uint64) {
	if size > 8 || size > len(r.b) {
		r.short = true
		return 0
	}
	for _, v := range r.b[:size] {
		n = n<<8 | uint64(v)
	}
	r.b = r.b[size:]
	return n
}

// leastHole is how many zeros in a row make a hole: half a disk's sector. Coded noise, which every photo has, holds that many zeros
// once in 2^2048.
const leastHole = 256

// holeInWebP reports whether a WebP's coded picture, lossy or lossless, holds a hole.
func (c *container) holeInWebP() bool {
	if c.format != "WebP" {
		return false
	}
	for _, p := range c.parts {
		if p.kind == "VP8 " || p.kind == "VP8L" {
			return bytes.Contains(p.body, make([]byte, leastHole))
		}
	}
	return false
}
