package dist

import (
	"fmt"
	"math"
	"sync"
)

// curve is a smooth falling function of x >= 0, such as an upper tail, calculated at the nodes of a fine grid when they are first needed and
// interpolated between them on the logarithm by the polynomial through the nearest eight (in its barycentric form, Berrut & Trefethen
// 2004, SIAM Rev. 46, 501-517). The tail of a statistic before its division by s is the same curve for all degrees of freedom.
type curve struct {
	exact func(x float64) float64
	step  float64
	mu    sync.Mutex
	logs  []float64              // +Inf where not worked out yet
	found map[[2]float64]float64 // quantiles, by alpha and degrees of freedom
}

// farthest is the x beyond which no tail can be told from 0.
const farthest = 60

func newCurve(step float64, exact func(x float64) float64) *curve {
	c := &curve{exact: exact, step: step, logs: make([]float64, int(farthest/step)+8), found: map[[2]float64]float64{}}
	for i := range c.logs {
		c.logs[i] = math.Inf(1)
	}
	return c
}

// barycentric are the weights of eight even nodes: (−1)ʲ times 7 over j.
var barycentric = [8]float64{1, -7, 21, -35, 35, -21, 7, -1}

// at returns the function's value at x. The caller holds mu.
func (c *curve) at(x float64) float64 {
	if x >= farthest {
		return 0
	}
	first := max(0, int(x/c.step)-3)
	var above, below float64
	for j, w := range barycentric {
		y := c.node(first + j)
		gap := x - float64(first+j)*c.step
		if gap == 0 {
			return math.Exp(y)
		}
		if math.IsInf(y, -1) {
			return 0
		}
		above += w / gap * y
		below += w / gap
	}
	return min(1, math.Exp(above/below))
}

func (c *curve) node(i int) float64 {
	if math.IsInf(c.logs[i], 1) {
		c.logs[i] = math.Log(c.exact(float64(i) * c.step))
	}
	return c.logs[i]
}

// studentised returns P(X/s > q), where c is P(X > x).
func (c *curve) studentised(g sdGrid, q float64) float64 {
	if math.IsNaN(q) {
		return q
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	return g.mean(func(s float64) float64 { return c.at(max(0, q) * s) })
}

// quantile returns the q with studentised(newSDGrid(nu), q) = alpha, which lies between lo and hi.
func (c *curve) quantile(alpha, nu, lo, hi float64) float64 {
	key := [2]float64{alpha, nu}
	c.mu.Lock()
	q, known := c.found[key]
	c.mu.Unlock()
	if !known {
		grid := newSDGrid(nu)
		q = quantileOf(func(q float64) float64 { return c.studentised(grid, q) }, alpha, lo, hi)
		c.mu.Lock()
		defer c.mu.Unlock()
		if len(c.found) >= 1000 {
			clear(c.found)
		}
		c.found[key] = q
	}
	return q
}

// curves keeps the last curves used: a trial asks for the same one again for each quantity and each day.
var curves = struct {
	mu   sync.Mutex
	made map[string]*curve
}{made: map[string]*curve{}}

// keptCurve returns the curve kept under what it depends on, made again if it is not kept.
func keptCurve(made func() *curve, on ...any) *curve {
	key := fmt.Sprintf("%T%v", on[0], on)
	curves.mu.Lock()
	defer curves.mu.Unlock()
	c, kept := curves.made[key]
	if !kept {
		if len(curves.made) >= 64 {
			clear(curves.made)
		}
		c = made()
		curves.made[key] = c
	}
	return c
}
