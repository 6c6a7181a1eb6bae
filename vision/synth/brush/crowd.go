package brush

// crowd is where roots have grown so far: a coarse map of their amount and direction, by which tips find their way.
type crowd struct {
	amount [crowdSide * crowdSide]float32 // texels of root grown in the cell
	twice  [crowdSide * crowdSide]vec     // sum of directions with the angle doubled, so that both ways along a root count alike
}

const (
	crowdCell = 8 // texels
	crowdSide = side/crowdCell + 4
)

func crowdIndex(at vec) int {
	x := int(min(crowdSide-1, max(0, float64(at.x/crowdCell)+2)))
	y := int(min(crowdSide-1, max(0, float64(at.y/crowdCell)+2)))
	return y*crowdSide + x
}

// add notes a step of a root.
func (c *crowd) add(at, way vec, step float64) {
	i := crowdIndex(at)
	c.amount[i] += float32(step)
	c.twice[i] = c.twice[i].along(vec{float64(way.x*way.x) - float64(way.y*way.y), float64(2 * way.x * way.y)}, step)
}

// shun is the turn, -1..1, that leads a tip away from where more roots are.
func (c *crowd) shun(at, way vec) float64 {
	ahead := at.along(way, 9)
	left := c.amount[crowdIndex(ahead.along(way.quarter(), 9))]
	right := c.amount[crowdIndex(ahead.along(way.quarter(), -9))]
	if left+right == 0 {
		return 0
	}
	return float64((right - left) / (left + right + 8))
}

// follow is the turn, -1..1, that leads a tip along the roots around it.
func (c *crowd) follow(at, way vec) float64 {
	i := crowdIndex(at)
	if c.amount[i] < 6 {
		return 0
	}
	here := vec{float64(way.x*way.x) - float64(way.y*way.y), float64(2 * way.x * way.y)}
	return here.cross(c.twice[i].unit()) / 2
}
