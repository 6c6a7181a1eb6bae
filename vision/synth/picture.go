package synth

import (
	"image"
	"math"
)

// picture is what the lens sees before the light falls in: reflectance as linear red, green and blue.
type picture struct {
	w, h int
	p    []float32 // three a pixel
}

func newPicture(w, h int) *picture { return &picture{w: w, h: h, p: make([]float32, 3*w*h)} }

// blend lays colour over a pixel; cover is the share of the pixel it takes.
func (p *picture) blend(x, y int, colour rgb, cover float32) {
	at := p.p[3*(y*p.w+x):][:3:3]
	at[0] += (colour[0] - at[0]) * cover
	at[1] += (colour[1] - at[1]) * cover
	at[2] += (colour[2] - at[2]) * cover
}

// dim multiplies a pixel.
func (p *picture) dim(x, y int, gain float32) {
	at := p.p[3*(y*p.w+x):][:3:3]
	at[0] *= gain
	at[1] *= gain
	at[2] *= gain
}

// expose lights p, blurs it, adds noise and encodes it. p is used up.
func (p *picture) expose(l Light, seed uint64) *image.NRGBA {
	p.light(l)
	out := image.NewNRGBA(image.Rect(0, 0, p.w, p.h))
	kernel := gaussian(l.BlurPX)
	if !l.Clean {
		p.defocus(l.DefocusPX)
		p.move(l.MotionPX, l.MotionTurn)
	}
	if l.Clean {
		kernel = []float32{1}
	}
	film := newFilm(l, seed)
	p.blurred(kernel, func(y int, row []float32) { film.develop(row, out.Pix[y*out.Stride:]) })
	return out
}

// light multiplies by the exposure, the lamp's colour and its gradient, which is a straight ramp of mean 1.
func (p *picture) light(l Light) {
	ratio := max(l.Gradient, 1)
	sin, cos := math.Sincos(rad(l.GradientTurn))
	reach := math.Abs(cos)*float64(p.w)/2 + math.Abs(sin)*float64(p.h)/2
	slope := (ratio - 1) / (ratio + 1) / reach
	var gain [3]float64
	for i := range gain {
		gain[i] = l.Level * l.Gains[i]
	}
	uneven, diagonal := l.Shadow != 0 || l.Vignette != 0 || l.ShadowGains != [3]float64{}, math.Hypot(float64(p.w), float64(p.h))
	for y := range p.h {
		row := p.p[3*y*p.w:][:3*p.w]
		at := 1 + slope*(sin*(float64(y)-float64(p.h)/2)-cos*float64(p.w)/2)
		for x := 0; x < len(row); x += 3 {
			here := [3]float64{at, at, at}
			if uneven {
				for k, f := range l.falloff((2*float64(x/3)-float64(p.w))/diagonal, (2*float64(y)-float64(p.h))/diagonal) {
					here[k] *= f
				}
			}
			row[x] *= float32(gain[0] * here[0])
			row[x+1] *= float32(gain[1] * here[1])
			row[x+2] *= float32(gain[2] * here[2])
			at += slope * cos
		}
	}
}

// falloff is what shadow and lens leave of the light at a place, in halves of the diagonal from the picture's middle. The
// shadow's edge is soft over a third of that and lies a quarter off the middle.
func (l Light) falloff(x, y float64) (left [3]float64) {
	sin, cos := math.Sincos(rad(l.ShadowTurn))
	part := smooth((x*cos + y*sin - 0.1) / 0.33)
	for k, gain := range l.ShadowGains {
		left[k] = (1 - l.Shadow*part) * (1 + part*(orOne(gain)-1)) * (1 - l.Vignette*(x*x+y*y))
	}
	return left
}

// gaussian returns a normalised kernel of the given sigma in px, integrated over each pixel.
func gaussian(sigma float64) []float32 {
	if sigma < 0.05 {
		return []float32{1}
	}
	reach := int(math.Ceil(2.8 * sigma))
	k := make([]float32, 2*reach+1)
	var sum float64
	for i := range k {
		d := float64(i - reach)
		w := math.Erf((d+0.5)/(sigma*math.Sqrt2)) - math.Erf((d-0.5)/(sigma*math.Sqrt2))
		k[i] = float32(w)
		sum += w
	}
	for i := range k {
		k[i] /= float32(sum)
	}
	return k
}

// blurred calls use with every row of p convolved with kernel in both directions; the picture's edge is continued.
func (p *picture) blurred(kernel []float32, use func(y int, row []float32)) {
	reach := len(kernel) / 2
	if reach == 0 {
		for y := range p.h {
			use(y, p.p[3*y*p.w:][:3*p.w])
		}
		return
	}
	ring := make([][]float32, len(kernel))
	for i := range ring {
		ring[i] = make([]float32, 3*p.w)
	}
	padded := make([]float32, 3*(p.w+2*reach))
	across := func(y int) {
		src := p.p[3*max(0, min(y, p.h-1))*p.w:][:3*p.w]
		copy(padded[3*reach:], src)
		for i := range reach {
			copy(padded[3*i:], src[:3])
			copy(padded[3*(reach+p.w+i):], src[len(src)-3:])
		}
		weigh(ring[(y+len(ring)*reach)%len(ring)], kernel, func(i int) []float32 { return padded[3*i:] })
	}
	for y := -reach; y < reach; y++ {
		across(y)
	}
	row := make([]float32, 3*p.w)
	for y := range p.h {
		across(y + reach)
		weigh(row, kernel, func(i int) []float32 { return ring[(y+i-reach+len(ring)*reach)%len(ring)] })
		use(y, row)
	}
}

// weigh sets out to the sum of the kernel's weights times the rows that of returns. The kernel is even, so rows go in pairs.
func weigh(out, kernel []float32, of func(i int) []float32) {
	reach := len(kernel) / 2
	mid, k := of(reach)[:len(out)], kernel[reach]
	for x, v := range mid {
		out[x] = v * k
	}
	for i := range reach {
		a, b, k := of(i)[:len(out)], of(len(kernel) - 1 - i)[:len(out)], kernel[i]
		for x := range out {
			out[x] += (a[x] + b[x]) * k
		}
	}
}
