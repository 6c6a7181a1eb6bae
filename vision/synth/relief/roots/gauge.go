package roots

// Gauges plants a few straight or gently arced lines of one exact width each, of the roots' own colour.
func (g *Grower) Gauges() {
	for range g.Count(3, 12) {
		p := &g.plugs[g.Pick(g.weights...)]
		half := g.Scaled(0.08, 1.2) / 2
		gait := gait{memory: 1e6}
		if g.Chance(0.4) {
			gait.curl = g.Between(-0.06, 0.06)
		}
		w := &walker{Dice: g.Dice, Tables: g.Tables, gait: &gait, plug: p}
		w.alongX, w.alongY = g.Facing()
		long := g.Between(0.4, 1.6) * p.Half
		x, y := g.Facing()
		off := 0.5 * p.Half * g.Float32()
		w.x, w.y = p.X+float32(x*off)-float32(w.alongX*long/2), p.Y+float32(y*off)-float32(w.alongY*long/2)
		w.straight = true
		line := Path{stem: -1, lift: 0.3, Points: w.walk(long, 0.3)}
		blunt := g.Chance(0.5)
		line.cutBase, line.cutTip = blunt, blunt
		for i := range line.Points {
			line.Points[i].Radius = half
		}
		g.paint(&line)
		g.Paths = append(g.Paths, line)
	}
}
