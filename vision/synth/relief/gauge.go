package relief

// gauges plants a few straight or gently arced lines of one exact width each, of the roots' own colour.
func (g *grower) gauges() {
	for range g.count(3, 12) {
		p := &g.plugs[g.pick(g.weights...)]
		half := g.scaled(0.08, 1.2) / 2
		gait := gait{memory: 1e6}
		if g.chance(0.4) {
			gait.curl = g.between(-0.06, 0.06)
		}
		w := &walker{dice: g.dice, tables: g.tables, gait: &gait, plug: p}
		w.alongX, w.alongY = g.facing()
		long := g.between(0.4, 1.6) * p.half
		x, y := g.facing()
		off := 0.5 * p.half * g.Float32()
		w.x, w.y = p.x+float32(x*off)-float32(w.alongX*long/2), p.y+float32(y*off)-float32(w.alongY*long/2)
		w.straight = true
		line := path{stem: -1, lift: 0.3, points: w.walk(long, 0.3)}
		blunt := g.chance(0.5)
		line.cutBase, line.cutTip = blunt, blunt
		for i := range line.points {
			line.points[i].radius = half
		}
		g.paint(&line)
		g.paths = append(g.paths, line)
	}
}
