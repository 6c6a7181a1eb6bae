package photo

import "encoding/binary"

// A JPEG has no checksum, and a changed byte shifts or tints all of the picture behind it. What gives it away are the codes themselves, which
// no decoder looks at beyond what it needs: they must all be codes of the file's tables, fill each block and the whole picture exactly, end on
// padding, and mean nothing darker than black or brighter than white.

// codesDamaged reports whether the coded picture of a sequential JPEG (ITU-T T.81, SOF0 and SOF1 by Huffman codes, one scan of all components,
// 8 bits) breaks one of these. Of other kinds it says nothing.
func (c *container) codesDamaged() bool {
	f, ok := c.readFrame()
	return ok && f.damaged()
}

// coded is a sequential JPEG's frame and its one scan.
type coded struct {
	width, height int
	parts         []codedPart
	restart       int // minimum coded units between two restart markers; 0: none
	scan          []byte
}

// codedPart is one component.
type codedPart struct {
	id, h, v, quant, dc, ac byte
	steps                   *[64]int
	dcCodes, acCodes        *codeTable
}

// codeTable gives for the next 16 bits a code's length, above 8 bits, and its symbol; 0: no code. Most codes are short, and a table of these is small
// enough to stay in the nearest cache.
type codeTable struct {
	short [1 << shortBits]uint16 // by the first bits; 0: no code, or a longer one
	whole [1 << 16]uint16
}

const shortBits = 9

// readFrame reads all segments up to the scan (B.2). ok is false for what is not one scan of a sequential frame.
func (c *container) readFrame() (f coded, ok bool) {
	if c.format != "JPEG" || !c.whole {
		return f, false
	}
	var steps [4]*[64]int
	var codes [2][4]*codeTable
	for _, p := range c.parts {
		switch m := p.marker(); {
		case m == markDQT:
			ok = readSteps(p.body, &steps)
		case m == markDHT:
			ok = readCodes(p.body, &codes)
		case m == markDRI && len(p.body) == 2:
			f.restart, ok = int(binary.BigEndian.Uint16(p.body)), true
		case m == markSOF0 || m == markSOF1:
			ok = f.readParts(p.body)
		case m == markSOS:
			f.scan = c.raw[p.end:]
			return f, f.readScan(p.body, &steps, &codes)
		default:
			ok = m >= markAPP0 && m <= markAPPF || m == markCOM
		}
		if !ok {
			return f, false
		}
	}
	return f, false
}

func readSteps(b []byte, steps *[4]*[64]int) bool {
	for len(b) > 0 {
		wide, to := int(b[0]>>4), b[0]&15
		if wide > 1 || to > 3 || len(b) < 1+64*(1+wide) {
			return false
		}
		var table [64]int
		for k := range table {
			if wide == 0 {
				table[k] = int(b[1+k])
			} else {
				table[k] = int(binary.BigEndian.Uint16(b[1+2*k:]))
			}
		}
		steps[to] = &table
		b = b[1+64*(1+wide):]
	}
	return true
}

// readCodes makes tables of the lists of code lengths (annex C).
func readCodes(b []byte, codes *[2][4]*codeTable) bool {
	for len(b) > 0 {
		if len(b) < 17 || b[0]>>4 > 1 || b[0]&15 > 3 {
			return false
		}
		class, to := b[0]>>4, b[0]&15
		var t codeTable
		code, used := 0, 17
		for length := 1; length <= 16; length++ {
			for range b[length] {
				if used >= len(b) || code >= 1<<length {
					return false
				}
				from, n := code<<(16-length), 1<<(16-length)
				for k := range n {
					t.whole[from+k] = uint16(length)<<8 | uint16(b[used])
				}
				for k := from; k < from+n && length <= shortBits; k += 1 << (16 - shortBits) {
					t.short[k>>(16-shortBits)] = t.whole[k]
				}
				code, used = code+1, used+1
			}
			code <<= 1
		}
		codes[class][to] = &t
		b = b[used:]
	}
	return true
}

func (f *coded) readParts(b []byte) bool {
	if len(b) < 6 || b[0] != 8 || len(b) != 6+3*int(b[5]) {
		return false
	}
	f.height, f.width = int(binary.BigEndian.Uint16(b[1:])), int(binary.BigEndian.Uint16(b[3:]))
	for p := b[6:]; len(p) > 0; p = p[3:] {
		part := codedPart{id: p[0], h: p[1] >> 4, v: p[1] & 15, quant: p[2]}
		if part.h < 1 || part.h > 4 || part.v < 1 || part.v > 4 || part.quant > 3 {
			return false
		}
		f.parts = append(f.parts, part)
	}
	return f.height > 0 && f.width > 0 && len(f.parts) > 0
}

func (f *coded) readScan(b []byte, steps *[4]*[64]int, codes *[2][4]*codeTable) bool {
	n := len(f.parts)
	if n == 0 || len(b) != 4+2*n || int(b[0]) != n || n == 1 && (f.parts[0].h > 1 || f.parts[0].v > 1) {
		return false
	}
	for i := range f.parts {
		p := &f.parts[i]
		p.dc, p.ac = b[2+2*i]>>4, b[2+2*i]&15
		if b[1+2*i] != p.id || p.dc > 3 || p.ac > 3 {
			return false
		}
		p.steps, p.dcCodes, p.acCodes = steps[p.quant], codes[0][p.dc], codes[1][p.ac]
		if p.steps == nil || p.dcCodes == nil || p.acCodes == nil {
			return false
		}
	}
	return true
}

// A block's mean is eight times a light of −128 to 127, give or take a step of its table; a wave's is no more than 928, give or take a step (A.3.3).
const (
	mostMean = 1024
	mostWave = 1024
)

// damaged goes through the whole scan.
func (f *coded) damaged() bool {
	most := [2]int{1, 1}
	for _, p := range f.parts {
		most[0], most[1] = max(most[0], int(p.h)), max(most[1], int(p.v))
	}
	across, down := (f.width+8*most[0]-1)/(8*most[0]), (f.height+8*most[1]-1)/(8*most[1])
	r := codeReader{b: f.scan}
	means := make([]int, len(f.parts))
	for unit := range across * down {
		if f.restart > 0 && unit > 0 && unit%f.restart == 0 {
			if !r.restart() {
				return true
			}
			clear(means)
		}
		for i := range f.parts {
			p := &f.parts[i]
			for range int(p.h) * int(p.v) {
				if !r.block(p, &means[i]) {
					return true
				}
			}
		}
	}
	return !r.padded()
}

// codeReader reads bits, the highest first, past stuffed zeros (F.2.2.5).
type codeReader struct {
	b    []byte
	at   int    // next byte
	bits uint64 // the lowest n are still to be read
	n    int
	over int // bits made up behind the end
}

// mostBits is at least what one code of up to 16 bits and its value of up to 11 take.
const mostBits = 32

// fill makes at least mostBits ready. It takes four bytes at once where none of them can be a marker's, else one after the other.
func (r *codeReader) fill() {
	if r.n <= 32 && r.at+4 <= len(r.b) {
		if four := binary.BigEndian.Uint32(r.b[r.at:]); (^four-0x01010101)&four&0x80808080 == 0 { // no byte is 0xff
			r.bits, r.n, r.at = r.bits<<32|uint64(four), r.n+32, r.at+4
			return
		}
	}
	for r.n <= 48 {
		if r.at < len(r.b) && r.b[r.at] != 0xff {
			r.bits, r.n, r.at = r.bits<<8|uint64(r.b[r.at]), r.n+8, r.at+1
			continue
		}
		if r.at+1 < len(r.b) && r.b[r.at+1] == 0 {
			r.bits, r.n, r.at = r.bits<<8|0xff, r.n+8, r.at+2
			continue
		}
		r.bits, r.n, r.over = r.bits<<8, r.n+8, r.over+8
	}
}

// next returns what the table has for the next code of n bits that are ready.
func (t *codeTable) next(bits uint64, n int) uint16 {
	ahead := bits >> (uint(n-16) & 63)
	if c := t.short[ahead>>(16-shortBits)&(1<<shortBits-1)]; c != 0 {
		return c
	}
	return t.whole[ahead&0xffff]
}

// extended returns the number that the last s bits stand for (F.2.2.1, EXTEND).
func extended(bits uint64, s int) int {
	v := int(bits & (1<<(uint(s)&15) - 1))
	if v<<1 < 1<<(uint(s)&15) {
		v -= 1<<(uint(s)&15) - 1
	}
	return v
}

// block reads one block of 64 values; it reports whether that can be one.
func (r *codeReader) block(p *codedPart, mean *int) bool {
	if r.n < mostBits {
		r.fill()
	}
	c := p.dcCodes.next(r.bits, r.n)
	s := int(c & 0xff)
	if c == 0 || s > 11 {
		return false
	}
	r.n -= int(c>>8) + s
	*mean += extended(r.bits>>(uint(r.n)&63), s)
	if light := *mean * p.steps[0]; light > mostMean+p.steps[0] || light < -mostMean-p.steps[0] {
		return false
	}
	bits, n := r.bits, r.n // kept at hand: this is the loop that takes the time
	for k := 1; k < 64; k++ {
		if n < mostBits {
			r.bits, r.n = bits, n
			r.fill()
			bits, n = r.bits, r.n
		}
		c := p.acCodes.next(bits, n)
		if c == 0 {
			return false
		}
		n -= int(c >> 8)
		run, s := int(c>>4&15), int(c&15)
		if s == 0 {
			if run == 0 {
				break // the rest is 0
			}
			if run != 15 {
				return false
			}
			k += 15
			continue
		}
		if k += run; k > 63 || s > 10 {
			return false
		}
		n -= s
		if step := p.steps[k]; (1<<s-1)*step > mostWave+step { // a number of s bits can be too much
			if wave := extended(bits>>(uint(n)&63), s) * step; wave > mostWave+step || wave < -mostWave-step {
				return false
			}
		}
	}
	r.bits, r.n = bits, n
	return r.n >= r.over // none of it was made up
}

// padded reports whether what is left before the next marker is the padding of a byte, and zeros.
func (r *codeReader) padded() bool {
	left := r.n - r.over
	if left < 0 {
		return false
	}
	rest := r.bits >> r.over & (1<<left - 1)
	pad := left % 8
	if p := rest >> (left - pad); p != 0 && p != 1<<pad-1 {
		return false
	}
	if rest&(1<<(left-pad)-1) != 0 {
		return false
	}
	for r.at < len(r.b) && r.b[r.at] == 0 {
		r.at++
	}
	return r.at < len(r.b) && r.b[r.at] == 0xff
}

// restart goes past a restart marker.
func (r *codeReader) restart() bool {
	if !r.padded() {
		return false
	}
	for r.at+1 < len(r.b) && r.b[r.at+1] == 0xff {
		r.at++
	}
	if r.at+1 >= len(r.b) || r.b[r.at+1]&0xf8 != markRST0 {
		return false
	}
	r.at += 2
	r.bits, r.n, r.over = 0, 0, 0
	return true
}
