package leaves

import (
	"math"

	"traygauge/vision/coverage"
	"traygauge/vision/raster"
)

// yellowLimits are the plan's limits of yellow as each prepared pixel's colour is compared with them.
type yellowLimits struct{ sinHue, cosHue, leastChroma float32 }

func (o Options) yellowLimits() yellowLimits {
	sin, cos := math.Sincos(o.ChlorosisHueDeg * math.Pi / 180)
	return yellowLimits{float32(sin), float32(cos), float32(o.ChlorosisChroma)}
}

// The margin is given in units of marginUnit of CIELAB's a* and b*, at most mostMargin of them either way.
const (
	marginUnit = 10
	mostMargin = 2
)

// margin returns how far within the limits the colour of light (linear sRGB, paper 1) lies as it looks: the lesser of how far its a*, b* lie below the line
// of the hue and of how far its chroma is above the least. It is negative where the colour is not yellow. Source: margin in vision/train/leaves.py.
func (l *yellowLimits) margin(red, green, blue float32) float32 {
	a, b := raster.AB(red, green, blue)
	below := a*l.sinHue - b*l.cosHue
	within := float32(math.Sqrt(float64(a*a+b*b))) - l.leastChroma
	if below < within { // comparing takes a fraction of what min and max take, which look for what is no number
		within = below
	}
	within *= 1.0 / marginUnit
	if within > mostMargin {
		return mostMargin
	}
	if within < -mostMargin {
		return -mostMargin
	}
	return within
}

// fillMargin writes the margin of each prepared pixel behind what else there is to its square, in reading order. The light must be there already.
func (l *yellowLimits) fillMargin(in coverage.Input) {
	each := len(in.Also) / (in.H * in.W)
	for y := range 2 * in.H {
		light := in.Light[6*in.W*y : 6*in.W*(y+1)]
		also := in.Also[each*in.W*(y/2):]
		for x := range 2 * in.W {
			also[each*(x>>1)+firstMargin+2*(y&1)+x&1] = l.margin(light[3*x], light[3*x+1], light[3*x+2])
		}
	}
}
