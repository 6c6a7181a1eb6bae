package leaves

import (
	"math"

	"traygauge/vision/coverage"
	"traygauge/vision/raster"
)

// The margin is given in units of marginUnit of CIELAB's a* and b*, at most mostMargin of them either way.
const (
	marginUnit = 10
	mostMargin = 2
)

// margin is how far within the plan's limits of yellow the colour of light lies as it looks. Source: margin in vision/train/leaves.py.
func (o Options) margin() coverage.Margin {
	sin, cos := math.Sincos(o.ChlorosisHueDeg * math.Pi / 180)
	return coverage.Margin{OverWhite: raster.OverWhite, SinHue: float32(sin), CosHue: float32(cos), LeastChroma: float32(o.ChlorosisChroma), Unit: marginUnit, Most: mostMargin}
}
