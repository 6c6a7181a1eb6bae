// Package coverage runs the networks that tell how much of each pixel is root or leaf.
//
// In: the light of a patch or a strip in squares of 2 × 2 prepared pixels. Out: maps of as many squares, as logits and logarithms.
// It knows the networks' layers and how to work them out quickly on one core; it must not know cards, trays or plugs.
// The networks are part of the program; how they were trained is in vision/train.
package coverage

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"fmt"
	"sync"
)

//go:embed roots.onnx
var rootsONNX []byte

//go:embed leaves.onnx
var leavesONNX []byte

// Roots is the network for plug bottoms, Leaves the one for canopies.
var (
	Roots  = newNetwork(rootsONNX)
	Leaves = newNetwork(leavesONNX)
)

// Network is a trained network. Several calls may run at once; each works in a space of its own.
type Network struct {
	id     string
	layers func() (*unet, error)

	mu   sync.Mutex
	idle []*space
}

func newNetwork(onnx []byte) *Network {
	sum := sha256.Sum256(onnx)
	return &Network{id: hex.EncodeToString(sum[:]), layers: sync.OnceValues(func() (*unet, error) { return readUNet(onnx) })}
}

// ID is the SHA-256 of the network's file, in hexadecimal.
func (n *Network) ID() string { return n.id }

// Input is h × w squares of 2 × 2 prepared pixels as a network takes them.
type Input struct {
	H, W  int
	Light []float32 // of 2·H × 2·W prepared pixels, row by row: red, green and blue, paper 1
	Also  []float32 // what else there is to each square, square by square, each the same number of values
}

// Sized returns an input of that many squares with so many further values each. It uses in's storage where that is large enough; its values are whatever they were.
func (in Input) Sized(h, w, also int) Input {
	return Input{h, w, sized(in.Light, ofLight*h*w), sized(in.Also, also*h*w)}
}

// Turned returns the input turned upside down, by half a turn, in the storage of to where that is large enough.
func (in Input) Turned(to Input) Input {
	n := in.H * in.W
	also := len(in.Also) / n
	to = to.Sized(in.H, in.W, also)
	for i, j := 0, len(in.Light); i < len(to.Light); i += 3 { // the last pixel becomes the first
		j -= 3
		a, b := to.Light[i:i+3:i+3], in.Light[j:j+3:j+3]
		a[0], a[1], a[2] = b[0], b[1], b[2]
	}
	for i := range n {
		copy(to.Also[also*i:also*(i+1)], in.Also[also*(n-1-i):])
	}
	return to
}

// ofLight is how many values a square's light is: three colours of four pixels.
const ofLight = 12

// channels is how many values a square has in all; 0 where the parts do not fit together.
func (in Input) channels() int {
	n := in.H * in.W
	if in.H < 1 || in.W < 1 || len(in.Light) != ofLight*n || len(in.Also)%n != 0 {
		return 0
	}
	return ofLight + len(in.Also)/n
}

// Maps is what a network makes of an input: Each values of each square, square by square.
type Maps struct {
	H, W, Each int
	V          []float32
}

// At returns the values of one square.
func (m Maps) At(y, x int) []float32 {
	at := (y*m.W + x) * m.Each
	return m.V[at : at+m.Each]
}

// sized returns n values in v's storage, or in new one where that is too small.
func sized(v []float32, n int) []float32 {
	if cap(v) < n {
		return make([]float32, n)
	}
	return v[:n]
}

// Run returns what the network makes of in; it may use the storage of to, which is the result of a run that is done with, or the zero Maps. The result
// does not depend on what else runs.
func (n *Network) Run(in Input, to Maps) (Maps, error) {
	net, err := n.layers()
	if err != nil {
		return Maps{}, fmt.Errorf("the coverage network cannot be read: %w", err)
	}
	if err := net.takes(in); err != nil {
		return Maps{}, err
	}
	s := n.take()
	defer n.giveBack(s)
	s.use(in)
	return net.run(in, to, s), nil
}

func (n *Network) take() *space {
	n.mu.Lock()
	defer n.mu.Unlock()
	k := len(n.idle)
	if k == 0 {
		return &space{}
	}
	s := n.idle[k-1]
	n.idle = n.idle[:k-1]
	return s
}

func (n *Network) giveBack(s *space) {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.idle = append(n.idle, s)
}
