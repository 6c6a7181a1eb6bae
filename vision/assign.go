package vision

import (
	"container/heap"
	"math"
)

// Which plug a leaf belongs to is followed through the leaf itself, from the plugs' middles outward along the cheapest way:
// crossing the rim of another leaf costs more than going along one's own. It is done on a grid of follow mm.
const followMM = 0.5

// hubMM is how far from its cell's middle a plant's own middle may be.
const hubMM = 9.0

type follower struct {
	c      *canopy
	w, h   int
	leaf   []bool
	bright []float32 // ln of green light
	owner  []uint8
	cost   []float32
	group  []int32 // which connected piece of leaf, from 1
}

// place returns the pixel of the canopy's frame at a grid point.
func (f *follower) px(i int) Px {
	u := float64(i%f.w)*followMM - overhangMM
	v := float64(i/f.w)*followMM - overhangMM
	u, v = f.c.grid.place(f.c.t, u, v)
	return f.c.plane.ToPx(f.c.s.TrayPoint(u, v))
}

func (c *canopy) assign() {
	f := &follower{c: c, w: int((c.t.LengthMM + 2*overhangMM) / followMM), h: int((c.t.WidthMM + 2*overhangMM) / followMM)}
	n := f.w * f.h
	f.leaf, f.bright, f.owner, f.cost = make([]bool, n), make([]float32, n), make([]uint8, n), make([]float32, n)
	for i := range n {
		q := f.px(i)
		x, y := int(q.X+0.5)-c.rect.Min.X, int(q.Y+0.5)-c.rect.Min.Y
		if x < 0 || y < 0 || x >= c.w || y >= c.h {
			continue
		}
		f.leaf[i] = c.share[y*c.w+x] > 127
		if f.leaf[i] {
			f.bright[i] = float32(math.Log(math.Max(1e-3, float64(c.green.v[y/block*c.bw+x/block]))))
		}
	}
	f.group = f.groups()
	c.label, c.covered = make([]uint8, c.bw*c.bh), map[uint8]bool{}
	f.flow(f.hubs())
	f.strays()
	f.paint()
}

// hubs returns, for each cell that a plant grows in, the grid points of its middle.
func (f *follower) hubs() map[uint8][]int {
	t := f.c.t
	stalk := f.stalks()
	type hub struct {
		plant  uint8
		at     []int
		stalk  bool
		groups map[int32]bool
	}
	var all []hub
	perGroup := map[int32]int{}
	for row := range t.Rows {
		for col := range t.Columns {
			u, v := t.centre(row, col)
			h := hub{plant: uint8(row*t.Columns + col + 1), groups: map[int32]bool{}}
			for radius := 2.0; radius <= hubMM && len(h.at) < 12; radius += 1 {
				h.at = f.within(u, v, radius)
			}
			if len(h.at) < 8 {
				continue
			}
			near := f.within(u, v, hubMM)
			if float64(len(near)) > 0.5*math.Pi*sq(hubMM/followMM) {
				f.c.covered[h.plant] = true
			}
			narrow := 0
			for _, i := range near {
				if stalk[i] {
					narrow++
				}
				h.groups[f.group[i]] = true
			}
			h.stalk = narrow >= leastStalk
			for g := range h.groups {
				perGroup[g]++
			}
			all = append(all, h)
		}
	}
	seeds := map[uint8][]int{}
	for _, h := range all {
		alone := false
		for g := range h.groups {
			alone = alone || perGroup[g] == 1
		}
		// A blade that lies over a cell's middle, shows no stalk there and hangs on to a plant elsewhere is that plant's.
		if alone || h.stalk {
			seeds[h.plant] = h.at
			delete(f.c.covered, h.plant)
		}
	}
	return seeds
}

func (f *follower) within(u, v, radius float64) (at []int) {
	cx, cy := (u+overhangMM)/followMM, (v+overhangMM)/followMM
	r := radius / followMM
	for y := max(0, int(cy-r)); y <= min(f.h-1, int(cy+r)); y++ {
		for x := max(0, int(cx-r)); x <= min(f.w-1, int(cx+r)); x++ {
			if i := y*f.w + x; f.leaf[i] && sq(float64(x)-cx)+sq(float64(y)-cy) <= r*r {
				at = append(at, i)
			}
		}
	}
	return at
}

// groups numbers the connected pieces of leaf from 1.
func (f *follower) groups() []int32 {
	g := make([]int32, len(f.leaf))
	next := int32(0)
	eachPiece(f.leaf, f.w, f.h, func(piece []int32) {
		next++
		for _, i := range piece {
			g[i] = next
		}
	})
	return g
}

// A stalk is narrower than stalkSteps grid points to each side; leastStalk of its points, 4 mm², make sure that it is no
// tooth or tip of a blade.
const (
	stalkSteps = 3
	leastStalk = 16
)

// stalks marks what an opening takes away: leaf too narrow to hold a blade.
func (f *follower) stalks() []bool {
	open := f.leaf
	for range stalkSteps {
		open = erode(open, f.w, f.h)
	}
	for range stalkSteps {
		open = dilate(open, f.w, f.h)
	}
	thin := make([]bool, len(f.leaf))
	for i, ok := range f.leaf {
		thin[i] = ok && !open[i]
	}
	return thin
}

func (f *follower) around(i int) []int {
	x, y := i%f.w, i/f.w
	if x == 0 || y == 0 || x == f.w-1 || y == f.h-1 {
		return nil
	}
	return []int{i - 1, i + 1, i - f.w, i + f.w, i - f.w - 1, i - f.w + 1, i + f.w - 1, i + f.w + 1}
}

type front []step
type step struct {
	at    int32
	owner uint8
	cost  float32
}

func (q front) Len() int           { return len(q) }
func (q front) Less(i, j int) bool { return q[i].cost < q[j].cost }
func (q front) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *front) Push(x any)        { *q = append(*q, x.(step)) }
func (q *front) Pop() any          { o := *q; s := o[len(o)-1]; *q = o[:len(o)-1]; return s }

// rimCost is what a change of light costs, in steps per square of its natural logarithm: neighbouring leaves differ by a tenth
// to a third at their rims, so crossing one costs as much as four to forty steps along one's own leaf.
const rimCost = 400

// flow gives every leaf point to the seed with the cheapest way to it (Dijkstra 1959).
func (f *follower) flow(seeds map[uint8][]int) {
	for i := range f.cost {
		f.cost[i] = math.MaxFloat32
	}
	var q front
	for plant := uint8(1); int(plant) <= f.c.t.Rows*f.c.t.Columns; plant++ {
		for _, i := range seeds[plant] {
			q = append(q, step{int32(i), plant, 0})
		}
	}
	heap.Init(&q)
	for q.Len() > 0 {
		s := heap.Pop(&q).(step)
		i := int(s.at)
		if s.cost >= f.cost[i] {
			continue
		}
		f.cost[i], f.owner[i] = s.cost, s.owner
		for k, j := range f.around(i) {
			if !f.leaf[j] {
				continue
			}
			length := float32(1)
			if k >= 4 {
				length = math.Sqrt2
			}
			d := f.bright[i] - f.bright[j]
			if c := s.cost + length + rimCost*d*d; c < f.cost[j] {
				heap.Push(&q, step{int32(j), s.owner, c})
			}
		}
	}
}

// strays gives leaf that no plant's middle reaches to the cell it lies over, when it lies over the tray: its stalk may be hidden.
func (f *follower) strays() {
	g := f.group
	owned, sum := map[int32]bool{}, map[int32][3]float64{}
	for i, ok := range f.leaf {
		if !ok {
			continue
		}
		if f.owner[i] != 0 {
			owned[g[i]] = true
		}
		s := sum[g[i]]
		sum[g[i]] = [3]float64{s[0] + float64(i%f.w), s[1] + float64(i/f.w), s[2] + 1}
	}
	for i, ok := range f.leaf {
		if !ok || owned[g[i]] {
			continue
		}
		s := sum[g[i]]
		u, v := s[0]/s[2]*followMM-overhangMM, s[1]/s[2]*followMM-overhangMM
		col, row := int(math.Floor((u-f.c.t.FirstU)/f.c.t.PitchMM+0.5)), int(math.Floor((v-f.c.t.FirstV)/f.c.t.PitchMM+0.5))
		if row >= 0 && col >= 0 && row < f.c.t.Rows && col < f.c.t.Columns {
			f.owner[i] = uint8(row*f.c.t.Columns + col + 1)
		}
	}
}

// paint carries the owners from the grid to the blocks, each block taking the nearest grid point that has one.
func (f *follower) paint() {
	c := f.c
	at := c.newTrayRow()
	for y := range c.bh {
		at.fill(y)
		for x := range c.bw {
			if c.any(x, y) {
				u, v := at.uv(x)
				gx, gy := int(math.Floor((u+overhangMM)/followMM+0.5)), int(math.Floor((v+overhangMM)/followMM+0.5))
				c.label[y*c.bw+x] = f.nearest(gx, gy)
			}
		}
	}
}

func (f *follower) nearest(x, y int) uint8 {
	for _, d := range [13][2]int{{0, 0}, {1, 0}, {-1, 0}, {0, 1}, {0, -1}, {1, 1}, {-1, 1}, {1, -1}, {-1, -1}, {2, 0}, {-2, 0}, {0, 2}, {0, -2}} {
		xx, yy := x+d[0], y+d[1]
		if xx >= 0 && yy >= 0 && xx < f.w && yy < f.h && f.owner[yy*f.w+xx] != 0 {
			return f.owner[yy*f.w+xx]
		}
	}
	return 0
}
