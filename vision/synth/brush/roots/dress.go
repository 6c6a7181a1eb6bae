package roots

import (
	"traygauge/vision/synth/brush/canvas"
	"traygauge/vision/synth/brush/num"
)

// form is how the roots of a drawing end and taper, and how deep they lie.
type form struct {
	taper   float64 // length over which a tip thins, widths
	longest float64 // and at most, mm
	lumpy   float64 // how much a root's width wanders, deviation
	stout   float64 // how much thicker a root is at its base
	buried  float64 // how deep roots lie in the medium on average, 0..1
	dives   float64 // stretches per mm that go under the medium
	emerge  float64 // length over which a root comes out of the medium, mm
	broken  float64 // share of roots that end blunt
	swollen float64 // share of tips that swell
	nodules float64 // per mm
}

func newForm(d num.Dice) form {
	f := form{taper: d.Ratio(2, 20), longest: d.Ratio(0.8, 8), lumpy: d.Between(0, 0.12), stout: d.Between(0, 0.5),
		emerge: d.Ratio(0.3, 4), broken: d.Between(0, 0.3)}
	if d.Chance(0.3) {
		f.buried = d.Between(0, 0.35)
	}
	if d.Chance(0.4) {
		f.dives = d.Ratio(0.005, 0.08)
	}
	if d.Chance(0.12) {
		f.swollen = d.Between(0.1, 0.9)
	}
	if d.Chance(0.04) {
		f.nodules = d.Ratio(0.01, 0.1)
	}
	return f
}

// dress gives a grown root its width and its depth in the medium at each point.
func (f *form) dress(d num.Dice, r *root) {
	n := len(r.Points)
	r.Half, r.bury = make([]float32, n), make([]float32, n)
	length := r.lengthMM()
	tip := min(0.7*length, f.longest, float64(f.taper*r.width*d.Between(0.6, 1.4)))
	blunt := d.Chance(f.broken)
	swell := 0.0
	if d.Chance(f.swollen) {
		swell = d.Between(0.2, 0.8)
	}
	r.Cut = blunt && d.Chance(0.7)
	wander := newWander(d, d.Ratio(1, 6))
	for i := range r.Half {
		s := float64(i) * r.Step / canvas.PerMM
		w := float64(r.width * (1 + float64(f.lumpy*wander.at(s))))
		if !r.lateral {
			w += float64(r.width*f.stout) / (1 + float64(s/6) + float64(s*s/36))
		}
		if left := length - s; !blunt && left < tip {
			w = float64(w * (0.12 + float64(0.88*rounded(left/tip))))
		} else if left < float64(2.5*r.width) && swell > 0 {
			w = float64(w * (1 + float64(swell*rounded(left/(2.5*r.width)))))
		}
		if !r.lateral && s < f.emerge {
			w = float64(w * (0.35 + float64(0.65*rounded(s/f.emerge))))
		}
		r.Half[i] = float32(max(0.03, w) * canvas.PerMM / 2)
	}
	f.sink(d, r)
	f.nodule(d, r)
}

// rounded goes from 0 at 0 to 1 at 1, steeply at first.
func rounded(t float64) float64 { t = min(1, t); return float64(t * (2 - t)) }

// sink draws how deep a root lies along its length.
func (f *form) sink(d num.Dice, r *root) {
	length := r.lengthMM()
	wander := newWander(d, d.Ratio(1, 8))
	level := float64(f.buried * d.Between(0.3, 1.7))
	out, in := 0.0, 0.0
	if !r.lateral && d.Chance(0.9) {
		out = float64(f.emerge * d.Between(0.3, 1.7))
	}
	if d.Chance(0.3) {
		in = float64(f.emerge * d.Between(0.3, 1.7))
	}
	for i := range r.bury {
		s := float64(i) * r.Step / canvas.PerMM
		b := level + float64(0.5*level*wander.at(s))
		if s < out {
			b = max(b, 1-s/out)
		}
		if left := length - s; left < in {
			b = max(b, 1-left/in)
		}
		r.bury[i] = float32(b)
	}
	for k := int(float64(f.dives*length) + d.Float64()); k > 0; k-- {
		middle, half := float64(length*d.Float64()), d.Ratio(0.3, 3)
		for i := range r.bury {
			s := float64(i)*r.Step/canvas.PerMM - middle
			r.bury[i] = max(r.bury[i], float32(1.6-max(s, -s)/half))
		}
	}
}

// nodule thickens a root here and there.
func (f *form) nodule(d num.Dice, r *root) {
	for n := int(float64(f.nodules*r.lengthMM()) + float64(d.Float64()*min(1, f.nodules*50))); n > 0; n-- {
		at := d.IntN(len(r.Points))
		big := float32(float64(r.width*d.Between(1.2, 2.4)) * canvas.PerMM / 2)
		for i := range r.Half {
			far := float32(float64(i-at)*r.Step) / big
			if far > -1 && far < 1 {
				r.Half[i] = max(r.Half[i], float32(big*num.Sqrt32(1-float32(far*far))))
			}
		}
	}
}

// wander is smooth noise along a line, of deviation about 1.
type wander struct {
	every float64 // mm
	knots [32]float64
}

func newWander(d num.Dice, every float64) *wander {
	w := &wander{every: every}
	for i := range w.knots {
		w.knots[i] = d.Normal()
	}
	return w
}

// at is the value s mm along the line.
func (w *wander) at(s float64) float64 {
	s /= w.every
	i := int(s)
	t := s - float64(i)
	return num.Blend(w.knots[i&31], w.knots[(i+1)&31], float64(t*t)*(3-2*t))
}
