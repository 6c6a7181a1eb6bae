package coverage

// #cgo CXXFLAGS: --std=c++17 -O3
// #include <stdlib.h>
// #include "convolve.h"
import "C"

import (
	"runtime"
	"unsafe"
)

// perBlock is how many channels lie side by side in a map: as many floats as the widest registers hold.
const perBlock = 16

// blocks is a map as convolve.h has it: n blocks of perBlock channels, each h × w pixels within a border of zeros.
type blocks struct {
	shape
	v []float32
}

type shape struct{ n, h, w int }

// blocksFor returns how many blocks hold so many channels.
func blocksFor(channels int) int { return (channels + perBlock - 1) / perBlock }

func (b blocks) ptr() *C.float { return (*C.float)(&b.v[0]) }

// layer is a convolution with its weights in the order in which they are used.
type layer struct {
	in, out       int // channels
	size, stride  int
	weights, bias []float32
	squares       []float32 // see convolve.h; nil where it does not apply
}

// newLayer puts weights of out × in × size × size in the order of convolve.h. Channels that fill up the last block have none.
func newLayer(weights, bias parameter, stride int) layer {
	l := layer{out: weights.dims[0], in: weights.dims[1], size: weights.dims[2], stride: stride}
	in, places := blocksFor(l.in), l.size*l.size
	l.weights = make([]float32, blocksFor(l.out)*in*places*perBlock*perBlock)
	l.bias = make([]float32, blocksFor(l.out)*perBlock)
	copy(l.bias, bias.v)
	for o := range l.out {
		for i := range l.in {
			for k := range places {
				block := (o/perBlock*in+i/perBlock)*places + k
				l.weights[(block*perBlock+i%perBlock)*perBlock+o%perBlock] = weights.v[(o*l.in+i)*places+k]
			}
		}
	}
	if l.size == 3 && stride == 1 {
		l.squares = l.forSquares(weights.v)
	}
	return l
}

// forSquares returns what each of the 16 places of a square is multiplied by: G·g·Gᵀ of Lavin & Gray 2016, where g is 3 × 3 weights.
func (l *layer) forSquares(weights []float32) []float32 {
	const places = 16
	g := [4][3]float64{{1, 0, 0}, {0.5, 0.5, 0.5}, {0.5, -0.5, 0.5}, {0, 0, 1}}
	in := blocksFor(l.in)
	squares := make([]float32, blocksFor(l.out)*places*in*perBlock*perBlock)
	for o := range l.out {
		for i := range l.in {
			w := weights[(o*l.in+i)*9:]
			for k := range places {
				sum := 0.0
				for y, gy := range g[k/4] {
					for x, gx := range g[k%4] {
						sum += gy * gx * float64(w[3*y+x])
					}
				}
				block := (o/perBlock*places+k)*in + i/perBlock
				squares[(block*perBlock+i%perBlock)*perBlock+o%perBlock] = float32(sum)
			}
		}
	}
	return squares
}

// space keeps the maps that runs on inputs of one size need, for the next such run. They lie outside Go's heap, whose limit would otherwise
// grow by as much again.
type space struct {
	of   shape // in channels, not blocks
	idle map[shape][]blocks
}

// use frees what was kept for another size.
func (s *space) use(in Input) {
	if of := (shape{in.channels(), in.H, in.W}); s.of != of {
		for _, list := range s.idle {
			for _, b := range list {
				C.free(unsafe.Pointer(b.ptr()))
			}
		}
		s.of, s.idle = of, map[shape][]blocks{}
	}
}

func (s *space) take(of shape) blocks {
	if list := s.idle[of]; len(list) > 0 {
		s.idle[of] = list[:len(list)-1]
		return list[len(list)-1]
	}
	n := of.n * (of.h + 2) * (of.w + 2) * perBlock
	return blocks{of, unsafe.Slice((*float32)(C.tg_zeros(C.long(n))), n)}
}

func (s *space) giveBack(b blocks) { s.idle[b.shape] = append(s.idle[b.shape], b) }

// pack lays an input out as a map.
func (s *space) pack(in Input) blocks {
	b := s.take(shape{blocksFor(in.channels()), in.H, in.W})
	C.tg_pack((*C.float)(&in.Light[0]), (*C.float)(unsafe.SliceData(in.Also)), C.int(in.channels()-ofLight), C.int(in.H), C.int(in.W), b.ptr())
	return b
}

// convolve returns what a layer makes of a map: with relu nothing of it is negative; plus, where it is not nil, is added afterwards.
func (s *space) convolve(l *layer, in blocks, relu bool, plus *blocks) blocks {
	out := s.take(shape{blocksFor(l.out), in.h / l.stride, in.w / l.stride})
	c := C.tg_convolution{out: out.ptr()}
	if relu {
		c.relu = 1
	}
	if plus != nil {
		c.plus = plus.ptr()
	}
	l.run(in, &c)
	return out
}

// addDoubled adds what a layer of 1 × 1 makes of a map to one that is twice as high and wide, each pixel to four.
func (l *layer) addDoubled(in, to blocks) { l.run(in, &C.tg_convolution{out: to.ptr(), doubled: 1}) }

// plain writes what a layer of 1 × 1 makes of a map into maps of its channels.
func (l *layer) plain(in blocks, out Maps) {
	var pinned runtime.Pinner
	defer pinned.Unpin()
	pinned.Pin(&out.V[0])
	l.run(in, &C.tg_convolution{out: (*C.float)(&out.V[0]), plain: C.int(out.Each)})
}

// run works a layer out; c says what becomes of the result.
func (l *layer) run(in blocks, c *C.tg_convolution) {
	var pinned runtime.Pinner
	defer pinned.Unpin()
	pinned.Pin(&l.weights[0])
	pinned.Pin(&l.bias[0])
	c.in, c.in_blocks, c.height, c.width = in.ptr(), C.int(in.n), C.int(in.h), C.int(in.w)
	c.weights, c.bias, c.size, c.stride = (*C.float)(&l.weights[0]), (*C.float)(&l.bias[0]), C.int(l.size), C.int(l.stride)
	c.last_channels, c.out_blocks = C.int(l.in-perBlock*(in.n-1)), C.int(blocksFor(l.out))
	if l.squares != nil {
		pinned.Pin(&l.squares[0])
		c.squares = (*C.float)(&l.squares[0])
	}
	C.tg_convolve(c)
}

// widestRegisters limits the code that is used to what processors with such registers have, in floats; 0 means no limit.
func widestRegisters(floats int) { C.tg_widest(C.int(floats)) }
