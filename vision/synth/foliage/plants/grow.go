package plants

import (
	"math"

	"traygauge/vision/synth/foliage/num"
	"traygauge/vision/synth/foliage/shape"
	"traygauge/vision/synth/foliage/skin"
	"traygauge/vision/synth/foliage/surface"
)

// stage is how old the plants of a drawing are.
type stage int

const (
	seedLeaves stage = iota // seed leaves, and at most a bud
	small                   // first leaves, plants apart
	touching
	closed
)

// stand is what the plants of a drawing have in common.
type stand struct {
	stage stage
	crop  crop
	skin.Looks
	eaten float64 // share of leaves with holes or bites
	floor func(x, y float64) float64
}

// plant is one plant as it grows.
type plant struct {
	*stand
	d      num.Dice
	mesh   *surface.Mesh
	index  int32
	reach  float64 // mm from its stem to the tips of its grown leaves
	tissue *skin.Tissue
}

// grow adds a plant to the mesh, its stem leaving the medium at base.
func (p *plant) grow(base num.Vec) {
	p.tissue = p.Looks.NewTissue(p.d)
	azimuth := p.d.Between(0, 2*math.Pi)
	shoot, count := p.shoot(base, azimuth)
	foot := p.footShare()
	if p.keepsSeedLeaves() {
		p.growSeedLeaves(shoot.At(foot*shoot.Length()), azimuth)
	}
	for i := range count {
		k := 0.0
		if count > 1 {
			k = float64(i) / float64(count-1)
		}
		p.growLeaf(shoot.At(shoot.Length()*num.Mixed(foot, 1, k)), p.azimuth(i, azimuth), i, count)
	}
}

// azimuth is where leaf i points.
func (p *plant) azimuth(i int, start float64) float64 {
	scatter := 0.12 * p.d.Bell()
	if p.crop.pairs {
		return start + math.Pi/2 + math.Pi*float64(i%2) + math.Pi/2*float64(i/2) + scatter
	}
	return start + math.Pi/2 + p.crop.turn*float64(i) + scatter
}

func (p *plant) monocot() bool { return p.crop.habit == strap || p.crop.habit == thread }

func (p *plant) footShare() float64 {
	if p.monocot() {
		return 0
	}
	return p.crop.foot / (p.crop.foot + p.crop.stem*p.shootShare() + 1e-6)
}

func (p *plant) shootShare() float64 { return [...]float64{0.05, 0.4, 0.8, 1}[p.stage] }

// shoot grows the stem and says how many leaves it carries.
func (p *plant) shoot(base num.Vec, azimuth float64) (shape.Rib, int) {
	usual := [...][2]float64{{0, 1.2}, {1.5, 4}, {3.5, 8}, {6, 13}}[p.stage]
	count := int(math.Round(p.d.Between(usual[0], usual[1]) * p.crop.leaves))
	if p.monocot() || (p.stage > seedLeaves && !p.keepsSeedLeavesAtAll()) {
		count = max(count, 1)
	}
	long := num.Clamp(p.reach*(p.crop.foot+p.crop.stem*p.shootShare()), 1.2, 70)
	if p.monocot() {
		long = 1.5
	}
	lean := math.Abs(p.crop.lean * p.d.Bell())
	f := shape.StartFrame(base, num.Heading(p.d.Between(0, 2*math.Pi), math.Pi/2-lean), 0)
	r := shape.Grown(f, shape.Bend{Length: long, Droop: 0.3 * lean * p.d.Bell(), Aside: 0.2 * p.d.Bell(), Wobble: 0.4 * p.crop.lean,
		Start: p.d.Between(0, 99)}, 8, p.floor)
	if !p.monocot() {
		wide := num.Clamp(p.reach*p.d.Between(0.018, 0.04), 0.25, 1.8)
		t := shape.Tube{Rib: r, Sides: 6, Radius: func(k float64) float64 { return wide * num.Mixed(1, 0.6, k) }}
		t.Weave(p.mesh, surface.Organ{Plant: p.index, Coat: p.tissue.Stalk(1, long, wide)})
	}
	return r, count
}

func (p *plant) keepsSeedLeavesAtAll() bool { return !p.monocot() && p.stage <= small }

func (p *plant) keepsSeedLeaves() bool {
	chance := [...]float64{1, 0.9, 0.5, 0.12}[p.stage]
	return !p.monocot() && p.d.Chance(chance)
}

func (p *plant) growSeedLeaves(f shape.Frame, azimuth float64) {
	long := p.reach * p.d.Between(0.85, 1.1)
	if p.stage > seedLeaves {
		long = min(p.reach*0.7, max(5, p.reach*p.crop.seedSize))
	}
	stalk := p.d.Between(0.1, 0.45)
	for k := range 2 {
		if p.d.Chance(0.03) {
			continue
		}
		p.growBlade(f, leaf{
			azimuth: azimuth + math.Pi*float64(k) + 0.2*p.d.Bell(), elevation: p.d.Between(-5, 35) * num.Degree,
			length: long * p.d.Between(0.9, 1.1), age: 1, stalk: stalk, outline: p.crop.seedLeaf,
			hinge: p.d.Between(0, 20) * num.Degree, droop: p.d.Between(-0.2, 0.6), curl: 0.5 * p.d.Bell(), fold: p.d.Between(0, 0.3),
			veins: skin.Veins{Sides: 3, Curve: 0.4, Pillow: 0.04, Groove: 0.2},
		})
	}
}
