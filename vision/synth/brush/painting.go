package brush

import "traygauge/vision/synth/closeup"

const (
	side  = 512  // texels
	perMM = 12.0 // texels per mm
)

// painting is a drawing in the making. Each layer covers what lies below by its share of each texel; the labels go with the light.
type painting struct {
	*closeup.Roots
	touches []touch   // of the stroke being painted
	slot    []int32   // for each texel, where in touches it stands if it does
	shade   []float32 // shadow of the thing to be painted next
	shaded  []int32
}

func newPainting() *painting {
	return &painting{Roots: closeup.NewRoots(side, perMM), slot: make([]int32, side*side), shade: make([]float32, side*side)}
}

// lay covers a share of texel i with something that is not root and lies on what is there: the plug stays plug.
func (p *painting) lay(i int, share float32, light rgb) {
	if share <= 0 {
		return
	}
	p.Light[i] = mix(p.Light[i], light, share)
	keep := 1 - share
	p.White[i] = float32(p.White[i] * keep)
	p.Brown[i] = float32(p.Brown[i] * keep)
	p.Line[i] = float32(p.Line[i] * keep)
}

// layRoot covers a share of texel i with root and adds line mm of its centre line.
func (p *painting) layRoot(i int, share, line float32, light rgb, brown bool) {
	p.lay(i, share, light)
	if brown {
		p.Brown[i] += share
	} else {
		p.White[i] += share
	}
	p.Line[i] += line
}

// hide covers a share of texel i with something from outside the plug.
func (p *painting) hide(i int, share float32, light rgb) {
	p.lay(i, share, light)
	p.Plug[i] = float32(p.Plug[i] * (1 - share))
}

// darken keeps a share of the light in texel i.
func (p *painting) darken(i int, keep float32) { p.Light[i] = times(p.Light[i], keep) }

// castShade darkens the painting by the shadow collected in p.shade and clears it.
func (p *painting) castShade() {
	for _, i := range p.shaded {
		p.darken(int(i), 1-p.shade[i])
		p.shade[i] = 0
	}
	p.shaded = p.shaded[:0]
}

// shadeAt notes a shadow of depth 0..1 over texel i; the deepest counts.
func (p *painting) shadeAt(i int, depth float32) {
	if was := p.shade[i]; depth > was {
		if was == 0 {
			p.shaded = append(p.shaded, int32(i))
		}
		p.shade[i] = depth
	}
}

// span is the range of texels from lo to hi, cut to the drawing.
func span(lo, hi float64) (from, to int) {
	return int(max(0, min(side, lo))), int(max(0, min(side, hi+1)))
}
