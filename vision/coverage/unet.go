package coverage

import "fmt"

// unet is Net of vision/train/model.py: on the way down each level's convolutions, then one that halves the picture; on the way up a level's picture
// doubled, added to what it was on the way down, and its convolutions again.
type unet struct {
	first, last          layer
	downBlocks, upBlocks [][]layer
	down, up             []layer
}

// readUNet finds the layers by the names that Net gives them.
func readUNet(onnx []byte) (*unet, error) {
	all, err := parameters(onnx)
	if err != nil {
		return nil, err
	}
	r := layerReader{all: all}
	var n unet
	n.first, n.last = r.layer("first", 1), r.layer("last", 1)
	n.downBlocks = append(n.downBlocks, r.blocks("down_blocks.0"))
	for i := 0; r.has(fmt.Sprintf("down.%d", i)); i++ {
		n.down = append(n.down, r.layer(fmt.Sprintf("down.%d", i), 2))
		n.up = append(n.up, r.layer(fmt.Sprintf("up.%d", i), 1))
		n.downBlocks = append(n.downBlocks, r.blocks(fmt.Sprintf("down_blocks.%d", i+1)))
		n.upBlocks = append(n.upBlocks, r.blocks(fmt.Sprintf("up_blocks.%d", i)))
	}
	if r.err == nil && r.used != len(all) {
		r.err = fmt.Errorf("%d of its %d arrays are not of a network that vision/train makes", len(all)-r.used, len(all))
	}
	if r.err != nil {
		return nil, r.err
	}
	return &n, n.check()
}

// check reports a layer that does not take what the one before it gives.
func (n *unet) check() error {
	channels := n.first.out
	takes := func(l layer) error {
		if l.in != channels {
			return fmt.Errorf("a layer takes %d channels and is given %d", l.in, channels)
		}
		channels = l.out
		return nil
	}
	kept := []int{}
	for i, list := range n.downBlocks {
		for _, l := range list {
			if err := takes(l); err != nil || l.out != l.in {
				return fmt.Errorf("a block of %d to %d channels: %w", l.in, l.out, err)
			}
		}
		if i < len(n.down) {
			kept = append(kept, channels)
			if err := takes(n.down[i]); err != nil {
				return err
			}
		}
	}
	for i := len(n.up) - 1; i >= 0; i-- {
		if err := takes(n.up[i]); err != nil || channels != kept[i] {
			return fmt.Errorf("level %d goes up with %d channels and down with %d: %w", i, channels, kept[i], err)
		}
		for _, l := range n.upBlocks[i] {
			if err := takes(l); err != nil || l.out != l.in {
				return fmt.Errorf("a block of %d to %d channels: %w", l.in, l.out, err)
			}
		}
	}
	return takes(n.last)
}

// takes reports why the network cannot work on an input; nil where it can.
func (n *unet) takes(in Input) error {
	whole := 1 << len(n.down)
	if in.channels() != n.first.in || in.H%whole != 0 || in.W%whole != 0 {
		return fmt.Errorf("the network takes %d values a square, and sides that are multiples of %d; it was given %d × %d squares with %d values of light and %d others",
			n.first.in, whole, in.H, in.W, len(in.Light), len(in.Also))
	}
	return nil
}

// run works all layers out, as Net's forward does.
func (n *unet) run(in Input, to Maps, s *space) Maps {
	packed := s.pack(in)
	x := s.convolve(&n.first, packed, true, nil)
	s.giveBack(packed)
	var kept []blocks
	for i, list := range n.downBlocks {
		x = s.each(list, x)
		if i < len(n.down) {
			kept = append(kept, x)
			x = s.convolve(&n.down[i], x, true, nil)
		}
	}
	for i := len(n.up) - 1; i >= 0; i-- {
		n.up[i].addDoubled(x, kept[i])
		s.giveBack(x)
		x = s.each(n.upBlocks[i], kept[i])
	}
	out := Maps{in.H, in.W, n.last.out, sized(to.V, n.last.out*in.H*in.W)}
	n.last.plain(x, out)
	s.giveBack(x)
	return out
}

// each lets blocks work on x one after the other: a convolution, and the way around it.
func (s *space) each(list []layer, x blocks) blocks {
	for i := range list {
		y := s.convolve(&list[i], x, true, &x)
		s.giveBack(x)
		x = y
	}
	return x
}

// layerReader takes layers out of a file's arrays and keeps the first thing that is wrong.
type layerReader struct {
	all  map[string]parameter
	used int
	err  error
}

func (r *layerReader) has(name string) bool { return r.all[name+".weight"].v != nil }

// blocks reads the convolutions of one level.
func (r *layerReader) blocks(level string) (list []layer) {
	for i := 0; r.has(fmt.Sprintf("%s.%d.conv", level, i)); i++ {
		list = append(list, r.layer(fmt.Sprintf("%s.%d.conv", level, i), 1))
	}
	return list
}

func (r *layerReader) layer(name string, stride int) layer {
	weights, bias := r.all[name+".weight"], r.all[name+".bias"]
	r.used += 2
	d := weights.dims
	if len(d) != 4 || d[2] != d[3] || d[2] != 1 && d[2] != 3 || d[2] == 1 && stride != 1 || len(bias.v) != d[0] || len(weights.v) == 0 {
		if r.err == nil {
			r.err = fmt.Errorf("layer %s has weights of %v and %d biases", name, d, len(bias.v))
		}
		return layer{}
	}
	return newLayer(weights, bias, stride)
}
