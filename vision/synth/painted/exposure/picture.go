// Package exposure makes a photo of what the lens sees: exposure and uneven light, blur, defocus and motion, noise and the sRGB curve, then
// what a phone's processing does. In go reflectances pixel by pixel; out comes an 8-bit picture. It does not know what is in the picture.
package exposure

import (
	"image"
	"math"

	"traygauge/vision/synth/painted/num"
)

// Light is how the picture is lit and exposed.
type Light struct {
	Level        float64    // linear signal of a surface that reflects all light; 1 is full scale
	Gains        [3]float64 // linear factors on red, green and blue
	Gradient     float64    // brightest : darkest across the picture, 1 for even light
	GradientTurn float64    // degrees, the way it gets brighter: 0 to the right, 90 down
	Shadow       float64    // share of the light that a soft shadow over one side of the picture takes
	ShadowTurn   float64    // degrees, the side that it is on: 0 right, 90 below
	ShadowGains  [3]float64 // factors on red, green and blue in the shadow, as of another lamp; zeros are ones
	Vignette     float64    // share of the light that the lens loses in the picture's corners
	BlurPX       float64    // sigma of the lens's blur
	DefocusPX    float64    // radius of the disc that a point becomes out of focus
	MotionPX     float64    // how far the camera moved while it looked
	MotionTurn   float64    // degrees, the way it moved: 0 to the right, 90 down
	ShotNoise    float64    // standard deviation at full scale, goes with the root of the signal
	ReadNoise    float64    // standard deviation in the dark, of full scale
	Clean        bool       // no noise and no blur at all
}

// Picture is what the lens sees before the light falls in: reflectance as linear red, green and blue.
type Picture struct {
	W, H int
	P    []float32 // three a pixel
}

// NewPicture returns a black picture of w × h pixels.
func NewPicture(w, h int) *Picture { return &Picture{W: w, H: h, P: make([]float32, 3*w*h)} }

// Blend lays colour over a pixel; cover is the share of the pixel it takes.
func (p *Picture) Blend(x, y int, colour num.RGB, cover float32) {
	at := p.P[3*(y*p.W+x):][:3:3]
	at[0] += (colour[0] - at[0]) * cover
	at[1] += (colour[1] - at[1]) * cover
	at[2] += (colour[2] - at[2]) * cover
}

// Dim multiplies a pixel.
func (p *Picture) Dim(x, y int, gain float32) {
	at := p.P[3*(y*p.W+x):][:3:3]
	at[0] *= gain
	at[1] *= gain
	at[2] *= gain
}

// Expose lights p, blurs it, adds noise and encodes it. p is used up.
func (p *Picture) Expose(l Light, seed uint64) *image.NRGBA {
	p.light(l)
	out := image.NewNRGBA(image.Rect(0, 0, p.W, p.H))
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
func (p *Picture) light(l Light) {
	ratio := max(l.Gradient, 1)
	sin, cos := math.Sincos(num.Rad(l.GradientTurn))
	reach := math.Abs(cos)*float64(p.W)/2 + math.Abs(sin)*float64(p.H)/2
	slope := (ratio - 1) / (ratio + 1) / reach
	var gain [3]float64
	for i := range gain {
		gain[i] = l.Level * l.Gains[i]
	}
	uneven, diagonal := l.Shadow != 0 || l.Vignette != 0 || l.ShadowGains != [3]float64{}, math.Hypot(float64(p.W), float64(p.H))
	for y := range p.H {
		row := p.P[3*y*p.W:][:3*p.W]
		at := 1 + slope*(sin*(float64(y)-float64(p.H)/2)-cos*float64(p.W)/2)
		for x := 0; x < len(row); x += 3 {
			here := [3]float64{at, at, at}
			if uneven {
				for k, f := range l.falloff((2*float64(x/3)-float64(p.W))/diagonal, (2*float64(y)-float64(p.H))/diagonal) {
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
	sin, cos := math.Sincos(num.Rad(l.ShadowTurn))
	part := num.Smooth((x*cos + y*sin - 0.1) / 0.33)
	for k, gain := range l.ShadowGains {
		left[k] = (1 - l.Shadow*part) * (1 + part*(num.OrOne(gain)-1)) * (1 - l.Vignette*(x*x+y*y))
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
func (p *Picture) blurred(kernel []float32, use func(y int, row []float32)) {
	reach := len(kernel) / 2
	if reach == 0 {
		for y := range p.H {
			use(y, p.P[3*y*p.W:][:3*p.W])
		}
		return
	}
	ring := make([][]float32, len(kernel))
	for i := range ring {
		ring[i] = make([]float32, 3*p.W)
	}
	padded := make([]float32, 3*(p.W+2*reach))
	across := func(y int) {
		src := p.P[3*max(0, min(y, p.H-1))*p.W:][:3*p.W]
		copy(padded[3*reach:], src)
		for i := range reach {
			copy(padded[3*i:], src[:3])
			copy(padded[3*(reach+p.W+i):], src[len(src)-3:])
		}
		weigh(ring[(y+len(ring)*reach)%len(ring)], kernel, func(i int) []float32 { return padded[3*i:] })
	}
	for y := -reach; y < reach; y++ {
		across(y)
	}
	row := make([]float32, 3*p.W)
	for y := range p.H {
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
