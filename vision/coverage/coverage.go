// Package coverage runs the networks that tell how much of each pixel is root or leaf.
//
// In: the light of a patch or a strip as channels of squares of 2 × 2 prepared pixels. Out: maps of the same size, as logits and logarithms.
// It knows the networks' layers and how to work them out quickly on one core; it must not know cards, trays or plugs.
// The networks are part of the program; how they were trained is in vision/train.
package coverage

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"fmt"
	"math"
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

// Tensor is channels of h × w values, channel by channel, row by row.
type Tensor struct {
	Channels, H, W int
	V              []float32
}

// NewTensor returns zeros.
func NewTensor(channels, h, w int) Tensor {
	return Tensor{channels, h, w, make([]float32, channels*h*w)}
}

// Channel returns one channel's values.
func (t Tensor) Channel(i int) []float32 { return t.V[i*t.H*t.W : (i+1)*t.H*t.W] }

// Fill puts one value into all of a channel.
func (t Tensor) Fill(channel int, with float32) {
	v := t.Channel(channel)
	for i := range v {
		v[i] = with
	}
}

// Sized returns t with its values' storage, or with new one where that is too small. Its values are whatever they were.
func (t Tensor) Sized(channels, h, w int) Tensor {
	if cap(t.V) < channels*h*w {
		return NewTensor(channels, h, w)
	}
	return Tensor{channels, h, w, t.V[:channels*h*w]}
}

// Encoded is light as the networks take it, paper 1: its root, because that is how a camera's noise goes, less 0.4.
func Encoded(light float32) float32 { return float32(math.Sqrt(float64(light))) - 0.4 }

// Light is the light that Encoded was given.
func Light(encoded float32) float32 { return (encoded + 0.4) * (encoded + 0.4) }

// Run returns what the network makes of in; it may use the storage of to, which is the result of a run that is done with, or the zero Tensor. The result
// does not depend on what else runs.
func (n *Network) Run(in, to Tensor) (Tensor, error) {
	if len(in.V) != in.Channels*in.H*in.W || len(in.V) == 0 {
		return Tensor{}, fmt.Errorf("a tensor of %d × %d × %d with %d values", in.Channels, in.H, in.W, len(in.V))
	}
	net, err := n.layers()
	if err != nil {
		return Tensor{}, fmt.Errorf("the coverage network cannot be read: %w", err)
	}
	if err := net.takes(in); err != nil {
		return Tensor{}, err
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
