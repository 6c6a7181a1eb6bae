package photo

import "math"

// An editor or messenger that saves a JPEG at a low quality, and another program that saves it again at a high one, leave a file whose tables say "high".
// In its blocks of 8 × 8 pixels the cosine transform's coefficients still lie at multiples of the low quality's steps (ITU-T T.81, A.3.4), here those of
// the two lowest frequencies.
const (
	leastStep   = 8   // of those frequencies: those of qualities above 65 are smaller
	mostStep    = 80  // a quality below 7
	oftenAtStep = 0.5 // mean cosine of coefficient over step: 1 at multiples, 0 anywhere. Drawn photos that were saved once have up to 0.2.
	fewestAt    = 150 // coefficients that are not nearly 0
	perUnit     = 4   // bins of a coefficient
)

// sizes counts coefficients by their size, up to five of the largest steps.
type sizes [5 * mostStep * perUnit]int

// SavedBefore returns the quality, 1 to 65, of a JPEG that the picture was before it was saved as it is now; 0 where nothing shows of one, as after a
// change of size or a cut across blocks.
func (p *Photo) SavedBefore() int {
	least := max(leastStep, 1.5*p.ownStep) // its own steps are no earlier ones
	along, across := p.lowCoefficients()
	a, b := stepOf(along, least), stepOf(across, least)
	if a == 0 || b == 0 {
		return 0
	}
	return qualityFor((float64(a)/standardLuma[1] + float64(b)/standardLuma[2]) / 2)
}

// lowCoefficients counts, over some ten thousand blocks, the sizes of the coefficients of the lowest frequency along rows and along columns.
func (p *Photo) lowCoefficients() (along, across sizes) {
	const blocks = 10000
	every := 8 * max(1, int(math.Sqrt(float64(p.Width*p.Height)/64/blocks)))
	var wave [8]float64
	for i := range wave {
		wave[i] = math.Cos((2*float64(i)+1)*math.Pi/16) / math.Sqrt(32) // √(2/8) along and √(1/8) across
	}
	add := func(to *sizes, v float64) {
		if bin := int(math.Abs(v)*perUnit + 0.5); bin < len(to) {
			to[bin]++
		}
	}
	for y := 0; y+8 <= p.Height; y += every {
		for x := 0; x+8 <= p.Width; x += every {
			var u, v float64
			for j := range 8 {
				row, at := 0.0, p.At(x, y+j)
				for i := range 8 {
					luma := 0.114*float64(p.BGR[at]) + 0.587*float64(p.BGR[at+1]) + 0.299*float64(p.BGR[at+2]) // ITU-T T.871, 7
					u += wave[i] * luma
					row += luma
					at += 3
				}
				v += wave[j] * row
			}
			add(&along, u)
			add(&across, v)
		}
	}
	return along, across
}

// stepOf returns the step at whose multiples coefficients lie most often; 0 for none of least and more.
func stepOf(of sizes, least float64) (step int) {
	most := oftenAtStep
	for s := int(math.Ceil(least)); s <= mostStep; s++ {
		n, sum := 0, 0.0
		for bin := s * perUnit / 2; bin < s*perUnit*9/2; bin++ {
			if of[bin] > 0 {
				n += of[bin]
				sum += float64(of[bin]) * math.Cos(2*math.Pi*float64(bin)/float64(s*perUnit))
			}
		}
		if n >= fewestAt && sum > most*float64(n) {
			step, most = s, sum/float64(n)
		}
	}
	return step
}
