package roots

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// crowd is where roots have grown so far: a coarse map of their amount and direction, by which tips find their way.
type crowd struct {
	amount [crowdSide * crowdSide]float32 // texels of root grown in the cell
	twice  [crowdSide * crowdSide]num.Vec // sum of directions with the angle doubled, so that both ways along a root count alike
}

const (
	crowdCell = 8 // texels
	crowdSide = canvas.Side/crowdCell + 4
)

func crowdIndex(at num.Vec) int {
	x := int(min(crowdSide-1, max(0, float64(at.X/crowdCell)+2)))
	y := int(min(crowdSide-1, max(0, float64(at.Y/crowdCell)+2)))
	return y*crowdSide + x
}

// add notes a step of a root.
func (c *crowd) add(at, way num.Vec, step float64) {
	i := crowdIndex(at)
	c.amount[i] += float32(step)
	c.twice[i] = c.twice[i].Along(num.At(float64(way.X*way.X)-float64(way.Y*way.Y), float64(2*way.X*way.Y)), step)
}

// shun is the turn, -1..1, that leads a tip away from where more roots are.
func (c *crowd) shun(at, way num.Vec) float64 {
	ahead := at.Along(way, 9)
	left := c.amount[crowdIndex(ahead.Along(way.Quarter(), 9))]
	right := c.amount[crowdIndex(ahead.Along(way.Quarter(), -9))]
	if left+right == 0 {
		return 0
	}
	return float64((right - left) / (left + right + 8))
}

// follow is the turn, -1..1, that leads a tip along the roots around it.
func (c *crowd) follow(at, way num.Vec) float64 {
	i := crowdIndex(at)
	if c.amount[i] < 6 {
		return 0
	}
	here := num.At(float64(way.X*way.X)-float64(way.Y*way.Y), float64(2*way.X*way.Y))
	return here.Cross(c.twice[i].Unit()) / 2
}
