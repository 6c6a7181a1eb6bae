// Package coverage runs the networks that tell how much of each pixel is root or leaf. They are part of the program; how they were
// trained is in vision/train.
package coverage

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"errors"
	"fmt"
	"sync"

	"gocv.io/x/gocv"
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

// Network is a trained network. Several calls may run at once; each has a copy of its own to work on.
type Network struct {
	onnx []byte
	id   string

	mu   sync.Mutex
	idle []gocv.Net
}

func newNetwork(onnx []byte) *Network {
	sum := sha256.Sum256(onnx)
	return &Network{onnx: onnx, id: hex.EncodeToString(sum[:])}
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

// Run returns what the network makes of in. The result does not depend on what else runs.
func (n *Network) Run(in Tensor) (Tensor, error) {
	if len(in.V) != in.Channels*in.H*in.W || len(in.V) == 0 {
		return Tensor{}, fmt.Errorf("a tensor of %d × %d × %d with %d values", in.Channels, in.H, in.W, len(in.V))
	}
	net, err := n.take()
	if err != nil {
		return Tensor{}, err
	}
	blob := gocv.NewMatWithSizes([]int{1, in.Channels, in.H, in.W}, gocv.MatTypeCV32F)
	defer blob.Close()
	to, err := blob.DataPtrFloat32()
	if err != nil {
		return Tensor{}, fmt.Errorf("the network's input: %w", err)
	}
	copy(to, in.V)
	net.SetInput(blob, "")
	got := net.Forward("")
	defer got.Close()
	n.giveBack(net)
	size := got.Size()
	if len(size) != 4 || size[2] != in.H || size[3] != in.W {
		return Tensor{}, fmt.Errorf("the network returns a tensor of %v for %d × %d × %d", size, in.Channels, in.H, in.W)
	}
	v, err := got.DataPtrFloat32()
	if err != nil {
		return Tensor{}, fmt.Errorf("the network's output: %w", err)
	}
	return Tensor{size[1], size[2], size[3], append([]float32(nil), v...)}, nil
}

func (n *Network) take() (gocv.Net, error) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if k := len(n.idle); k > 0 {
		net := n.idle[k-1]
		n.idle = n.idle[:k-1]
		return net, nil
	}
	net, err := gocv.ReadNetFromONNXBytes(n.onnx)
	if err == nil && net.Empty() {
		err = errors.New("it has no layers")
	}
	if err != nil {
		return net, fmt.Errorf("OpenCV %s cannot read the coverage network: %w", gocv.OpenCVVersion(), err)
	}
	return net, nil
}

func (n *Network) giveBack(net gocv.Net) {
	n.mu.Lock()
	defer n.mu.Unlock()
	n.idle = append(n.idle, net)
}
