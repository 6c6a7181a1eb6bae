package foliage

import "math"

// veins is the net that a blade shows: a midrib and side veins, or parallel ones.
type veins struct {
	sides    float64 // side veins on each side; 0 for none
	curve    float64 // how far a side vein runs ahead of its line, in side veins
	width    float64 // of a side vein, mm
	midrib   float64 // width, mm
	parallel float64 // mm between parallel veins; 0 for none
	pillow   float64 // slope of the blade's bulging between side veins
	groove   float64 // slope beside the midrib; below 0 where the midrib stands out
}

// vein is what the net is like at one place.
type vein struct {
	shows        float64 // 0 between veins, 1 on one
	near         float64 // mm to the nearest vein
	tiltA, tiltB float64
}

func (n *veins) at(p place, length float64) vein {
	out, side := math.Abs(p.b), 1.0
	if p.b < 0 {
		side = -1
	}
	v := vein{near: out}
	wide := 0.5 * n.midrib * (1.05 - 0.75*p.u)
	if wide > 0 {
		v.shows = ramp(wide+0.15, 0.6*wide, out)
		v.tiltB = side * n.groove * ramp(4*wide+0.6, wide, out) * ramp(0, wide+0.1, out)
	}
	if n.sides > 0 {
		n.side(&v, p, length)
	}
	if n.parallel > 0 {
		wave := math.Sin(2 * math.Pi * p.b / n.parallel)
		v.shows = max(v.shows, 0.5*ramp(0.2, 0.9, wave))
		v.near = min(v.near, 0.8*(1-wave)) // as wide leaves have it, though the veins lie closer
		v.tiltB += n.pillow * math.Sqrt(max(0, 1-wave*wave)) * math.Copysign(1, math.Sin(2*math.Pi*p.b/n.parallel+math.Pi/2))
	}
	return v
}

// side adds the nearest side vein, which fades towards the edge.
func (n *veins) side(v *vein, p place, length float64) {
	out := math.Abs(p.t)
	at := p.u*n.sides + 0.25*clamp(p.t, -1, 1) - n.curve*out*out
	off := at - math.Floor(at) - 0.5
	apart := length / n.sides * (0.25 + 1.5*4*p.u*(1-p.u)*0.85)
	d := math.Abs(off) * apart
	wide := 0.5 * n.width * (1.1 - out)
	v.near = min(v.near, d)
	v.shows = max(v.shows, (1-0.6*out)*ramp(wide+0.18, 0.5*wide, d))
	v.tiltA += n.pillow * math.Sin(2*math.Pi*off) * (1 - 0.5*out)
}
