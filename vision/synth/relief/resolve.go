package relief

import (
	"traygauge/vision/synth/closeup"
	"traygauge/vision/synth/relief/lighting"
	"traygauge/vision/synth/relief/num"
	"traygauge/vision/synth/relief/roots"
	"traygauge/vision/synth/relief/solids"
)

// picture lights and labels a whole drawing.
type picture struct {
	shader
	look
	*roots.Tubes
	*fuzz
	cast lighting.Cast
	out  *closeup.Roots
}

func (p *picture) resolve() {
	var patch [solids.Across]float32
	for y := range solids.Side {
		p.patches.Row(2*y, patch[:])
		for x := range solids.Side {
			p.texel(x, y, patch[2*x])
		}
	}
}

// texel mixes the light of its samples, and counts what they show.
func (p *picture) texel(x, y int, patch float32) {
	i := y*solids.Side + x
	b := p.Blocks[i]
	light := num.RGB{}
	if b == nil {
		light = p.bare(x, y, patch)
	} else {
		light = p.mixed(b, x, y, patch)
	}
	light = light.Times(p.cast.At((float32(x)+0.5)*solids.Texel, (float32(y)+0.5)*solids.Texel))
	p.out.Light[i] = closeup.RGB{light.R, light.G, light.B}
	p.out.Plug[i] = p.plugShare(x, y)
}

// plugShare is the share of a texel's samples in the height map that belong to a plug.
func (p *picture) plugShare(x, y int) float32 {
	if a := p.Solid[roots.ReliefQuarter(x, y, 0)]; p.uniform(x, y) {
		return plugOrNot(p.palette[a].Owner)
	}
	plug := float32(0)
	for q := range 4 {
		plug += 0.25 * plugOrNot(p.palette[p.Solid[roots.ReliefQuarter(x, y, q)]].Owner)
	}
	return plug
}

func plugOrNot(o solids.Owner) float32 {
	if o == solids.OfPlug {
		return 1
	}
	return 0
}

// bare is the light of a texel without roots. Where all of it is of one material, two samples do, and one where that is smooth tray.
func (p *picture) bare(x, y int, patch float32) num.RGB {
	if p.uniform(x, y) {
		light := p.below(x, y, 3, patch)
		if p.palette[p.Solid[roots.ReliefQuarter(x, y, 0)]].Owner == solids.OfPlug {
			light = light.Plus(p.below(x, y, 0, patch)).Times(0.5)
		}
		return light
	}
	light := num.RGB{}
	for q := range 4 {
		light = light.Plus(p.below(x, y, q, patch))
	}
	return light.Times(0.25)
}

// uniform reports whether a texel's samples in the height map are all of one material.
func (p *picture) uniform(x, y int) bool {
	i := roots.ReliefQuarter(x, y, 0)
	a := p.Solid[i]
	return a == p.Solid[i+1] && a == p.Solid[i+solids.Across] && a == p.Solid[i+solids.Across+1]
}

// below is the light of what lies below the roots in a texel's quarter, through the fuzz above it.
func (p *picture) below(x, y, q int, patch float32) num.RGB {
	i := y*solids.Side + x
	light := p.ground(2*x+q&1, 2*y+q>>1, i, patch)
	if p.fuzz != nil {
		light = light.Toward(p.fuzz.light, p.fuzz.share[i])
	}
	return light
}

// mixed is the light of a texel with roots, and sets its labels.
func (p *picture) mixed(b *roots.Block, x, y int, patch float32) num.RGB {
	c := count{}
	for q := range 4 {
		p.quarter(b, x, y, q, patch, &c)
	}
	i := y*solids.Side + x
	p.out.White[i], p.out.Brown[i] = float32(c.white)/roots.Subs, float32(c.brown)/roots.Subs
	return c.light.Times(1.0 / roots.Subs)
}

// count adds up what a texel's samples send back and show.
type count struct {
	light        num.RGB
	white, brown int
}

func (c *count) root(light num.RGB, brown bool, samples int) {
	c.light = c.light.Add(light, float32(samples))
	if brown {
		c.brown += samples
	} else {
		c.white += samples
	}
}

// quarter adds a quarter of a texel: its four samples, those that show the same root's segment lit together.
func (p *picture) quarter(b *roots.Block, x, y, q int, patch float32, c *count) {
	first := roots.FirstOf(q)
	at := [4]int{first, first + 1, first + roots.Sub, first + roots.Sub + 1}
	bare := 0
	for _, k := range at {
		if b.Segment[k] < 0 {
			bare++
		}
	}
	under := num.RGB{}
	if bare > 0 || p.clear > 0 {
		under = p.below(x, y, q, patch)
		c.light = c.light.Add(under, float32(bare))
	}
	lit := [4]bool{}
	for i, k := range at {
		n := b.Segment[k]
		if n < 0 || lit[i] {
			continue
		}
		sumX, sumY, samples := 0, 0, 0
		for j := i; j < 4; j++ {
			if b.Segment[at[j]] == n {
				lit[j] = true
				sumX, sumY, samples = sumX+j&1, sumY+j>>1, samples+1
			}
		}
		px := float32((float32(roots.Sub*x+first%roots.Sub) + 0.5 + float32(sumX)/float32(samples)) * roots.SubEvery)
		py := float32((float32(roots.Sub*y+first/roots.Sub) + 0.5 + float32(sumY)/float32(samples)) * roots.SubEvery)
		light, brown := p.root(&p.Segments[n], px, py, b.Z[k], roots.ReliefQuarter(x, y, q), y*solids.Side+x, under)
		c.root(light, brown, samples)
	}
}
