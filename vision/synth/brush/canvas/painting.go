// Package canvas is what is painted on, and the strokes: layers that cover each texel by a share, ribbons and straight edges whose shares
// are exact, the shadows that they cast and the lamp that lights them. In go shapes in texels and their light; out come light and labels,
// which go together. It does not know what a stroke stands for.
package canvas

import (
	"traygauge/vision/synth/brush/num"
	"traygauge/vision/synth/closeup"
)

const (
	Side  = 512  // texels
	PerMM = 12.0 // texels per mm
)

// Painting is a drawing in the making. Each layer covers what lies below by its share of each texel; the labels go with the light.
type Painting struct {
	*closeup.Roots
	touches []Touch   // of the stroke being painted
	slot    []int32   // for each texel, where in touches it stands if it does
	shade   []float32 // shadow of the thing to be painted next
	shaded  []int32
}

// NewPainting returns an empty drawing, black and without labels.
func NewPainting() *Painting {
	return &Painting{Roots: closeup.NewRoots(Side, PerMM), slot: make([]int32, Side*Side), shade: make([]float32, Side*Side)}
}

// Lay covers a share of texel i with something that is not root and lies on what is there: the plug stays plug.
func (p *Painting) Lay(i int, share float32, light num.RGB) {
	if share <= 0 {
		return
	}
	p.Light[i] = num.Mix(p.Light[i], light, share)
	keep := 1 - share
	p.White[i] = float32(p.White[i] * keep)
	p.Brown[i] = float32(p.Brown[i] * keep)
	p.Line[i] = float32(p.Line[i] * keep)
}

// LayRoot covers a share of texel i with root and adds line mm of its centre line.
func (p *Painting) LayRoot(i int, share, line float32, light num.RGB, brown bool) {
	p.Lay(i, share, light)
	if brown {
		p.Brown[i] += share
	} else {
		p.White[i] += share
	}
	p.Line[i] += line
}

// Hide covers a share of texel i with something from outside the plug.
func (p *Painting) Hide(i int, share float32, light num.RGB) {
	p.Lay(i, share, light)
	p.Plug[i] = float32(p.Plug[i] * (1 - share))
}

// Darken keeps a share of the light in texel i.
func (p *Painting) Darken(i int, keep float32) { p.Light[i] = num.Times(p.Light[i], keep) }

// castShade darkens the painting by the shadow collected in p.shade and clears it.
func (p *Painting) castShade() {
	for _, i := range p.shaded {
		p.Darken(int(i), 1-p.shade[i])
		p.shade[i] = 0
	}
	p.shaded = p.shaded[:0]
}

// shadeAt notes a shadow of depth 0..1 over texel i; the deepest counts.
func (p *Painting) shadeAt(i int, depth float32) {
	if was := p.shade[i]; depth > was {
		if was == 0 {
			p.shaded = append(p.shaded, int32(i))
		}
		p.shade[i] = depth
	}
}

// Span is the range of texels from lo to hi, cut to the drawing.
func Span(lo, hi float64) (from, to int) {
	return int(max(0, min(Side, lo))), int(max(0, min(Side, hi+1)))
}
