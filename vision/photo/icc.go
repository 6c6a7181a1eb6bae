package photo

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"traygauge/vision/kind"
	"traygauge/vision/raster"
)

// Phones write the wider colours of their screens (Display P3) and say so in a colour profile. The same numbers read as
// sRGB are duller colours: the hue of leaf greens and yellows would be off by 1 to 2 degrees and their chroma by ten. So what is not sRGB is converted.

// profile is what a file says of its colours.
type profile struct {
	icc                 []byte // ICC profile, ICC.1:2010
	primaries, transfer int    // ITU-T H.273 codes, where there is no ICC profile; 0: not said
}

// rgbSpace is an RGB colour space by its curve and its primaries.
type rgbSpace struct {
	light [3][256]float64 // code to linear light, 0 to 1
	toXYZ [3][3]float64   // linear light to XYZ of the D50 connection space
}

// srgbToXYZ holds sRGB's primaries (IEC 61966-2-1) as an ICC profile has them, adapted to D50 by the Bradford transform
// (ICC.1:2010, annex E).
var srgbToXYZ = [3][3]float64{
	{0.4360747, 0.3850649, 0.1430804},
	{0.2225045, 0.7168786, 0.0606169},
	{0.0139322, 0.0971045, 0.7141733},
}

// displayP3ToXYZ are the same for the primaries of SMPTE EG 432-1 with a white of D65.
var displayP3ToXYZ = [3][3]float64{
	{0.5151187, 0.2919778, 0.1571035},
	{0.2411892, 0.6922441, 0.0665668},
	{-0.0010505, 0.0418791, 0.7840713},
}

// Codes of ITU-T H.273, tables 2 and 3.
const (
	primariesP3  = 12
	transferPQ   = 16
	transferHLG  = 18
	primariesHDR = 9 // BT.2020
)

// toSRGB converts the pixels to sRGB where the file says that they are something else.
func (p *Photo) toSRGB(c profile) error {
	space, known := rgbSpace{}, false
	switch {
	case len(c.icc) > 0:
		var err error
		if space, err = parseICC(c.icc); err != nil {
			p.Doubts = append(p.Doubts, *Refuse(kind.ColoursNotKnown, "export the photo as an sRGB JPEG",
				"the photo’s colour profile cannot be used (%v), so sRGB colours are assumed", err))
			return nil
		}
		known = true
	case c.transfer == transferPQ || c.transfer == transferHLG || c.primaries == primariesHDR:
		return Refuse(kind.NotReadableHere, "turn off HDR in the camera’s settings, or export the photo as an sRGB JPEG",
			"is an HDR photo, with brightness coded for HDR screens")
	case c.primaries == primariesP3:
		space, known = rgbSpace{toXYZ: displayP3ToXYZ}, true
		for i := range space.light {
			for code := range 256 {
				space.light[i][code] = float64(raster.LinearOf[code])
			}
		}
	case p.Meta.uncalibrated:
		p.Doubts = append(p.Doubts, *Refuse(kind.ColoursNotKnown, "set the camera’s colour space to sRGB",
			"the photo says that its colours are not sRGB but does not say what they are, so sRGB is assumed"))
	}
	if !known || space.isSRGB() {
		return nil
	}
	space.convert(p.BGR)
	return nil
}

// toSRGBLight returns the matrix from the space's linear light to sRGB's.
func (s *rgbSpace) toSRGBLight() [3][3]float64 { return multiply3(inverse3(srgbToXYZ), s.toXYZ) }

// isSRGB reports whether converting would change no code by more than two: an sRGB profile, however it is written.
func (s *rgbSpace) isSRGB() bool {
	m := s.toSRGBLight()
	for r := 0; r < 256; r += 51 {
		for g := 0; g < 256; g += 51 {
			for b := 0; b < 256; b += 51 {
				rgb := [3]int{r, g, b}
				for i := range 3 {
					light := m[i][0]*s.light[0][r] + m[i][1]*s.light[1][g] + m[i][2]*s.light[2][b]
					if math.Abs(255*raster.FromLinear(clamp01(light))-float64(rgb[i])) > 2 {
						return false
					}
				}
			}
		}
	}
	return true
}

// convert turns pixels of the space into sRGB. What sRGB cannot show is clipped. Light is counted in whole numbers, 2^21 for all of
// it: the sums of three rounded parts are then exact to a millionth, and a dozen megapixels take a third of the time that floating point took.
func (s *rgbSpace) convert(bgr []byte) {
	const (
		bits  = 8
		steps = 1 << 13 // the curve rises by 0.4 codes a step where it is steepest
	)
	m := s.toSRGBLight()
	var part [3][3][256]int32 // of sRGB's channel, from the space's channel and code
	for i := range 3 {
		for k := range 3 {
			for code := range 256 {
				part[i][k][code] = int32(math.Round(m[i][k] * s.light[k][code] * (steps << bits)))
			}
		}
	}
	var codes [steps + 1]byte
	for i := range codes {
		codes[i] = byte(math.Round(255 * raster.FromLinear(float64(i)/steps)))
	}
	for i := 0; i+2 < len(bgr); i += 3 {
		r, g, b := bgr[i+2], bgr[i+1], bgr[i]
		for k := range 3 {
			light := part[k][0][r] + part[k][1][g] + part[k][2][b]
			bgr[i+2-k] = codes[min(max((light+1<<(bits-1))>>bits, 0), steps)]
		}
	}
}

func clamp01(v float64) float64 { return math.Min(1, math.Max(0, v)) }

func multiply3(a, b [3][3]float64) (c [3][3]float64) {
	for i := range 3 {
		for k := range 3 {
			c[i][k] = a[i][0]*b[0][k] + a[i][1]*b[1][k] + a[i][2]*b[2][k]
		}
	}
	return c
}

// inverse3 inverts by cofactors. The matrix must not be singular; a colour space's is not.
func inverse3(a [3][3]float64) (c [3][3]float64) {
	cofactor := func(i, k int) float64 {
		i1, i2, k1, k2 := (i+1)%3, (i+2)%3, (k+1)%3, (k+2)%3
		return a[i1][k1]*a[i2][k2] - a[i1][k2]*a[i2][k1]
	}
	det := a[0][0]*cofactor(0, 0) + a[0][1]*cofactor(0, 1) + a[0][2]*cofactor(0, 2)
	for i := range 3 {
		for k := range 3 {
			c[k][i] = cofactor(i, k) / det
		}
	}
	return c
}

// parseICC reads an RGB display or camera profile made of three curves and a matrix (ICC.1:2010, 8.3). Profiles made of
// tables alone, and those of other colours than RGB, are errors.
func parseICC(icc []byte) (s rgbSpace, err error) {
	if len(icc) < 132 || string(icc[36:40]) != "acsp" {
		return s, fmt.Errorf("it is broken")
	}
	if kind := string(icc[16:20]); kind != "RGB " {
		return s, fmt.Errorf("it is for %q, not for RGB", kind)
	}
	if string(icc[20:24]) != "XYZ " {
		return s, fmt.Errorf("it is made of tables")
	}
	for i, letter := range []string{"r", "g", "b"} {
		xyz := iccTag(icc, letter+"XYZ")
		if len(xyz) < 20 || string(xyz[:4]) != "XYZ " {
			return s, fmt.Errorf("it is made of tables")
		}
		for k := range 3 {
			s.toXYZ[k][i] = fixed(xyz[8+4*k:])
		}
		curve, err := iccCurve(iccTag(icc, letter+"TRC"))
		if err != nil {
			return s, err
		}
		for code := range 256 {
			if s.light[i][code] = curve(float64(code) / 255); math.IsNaN(s.light[i][code]) {
				return s, fmt.Errorf("one of its curves is broken")
			}
			s.light[i][code] = clamp01(s.light[i][code])
		}
	}
	for _, row := range s.toXYZ {
		if sum := row[0] + row[1] + row[2]; !(sum > 0.5 && sum < 1.5) { // white is D50: 0.96, 1, 0.82
			return s, fmt.Errorf("its primaries make no white")
		}
	}
	return s, nil
}

// iccTag returns a tag's data, or nil.
func iccTag(icc []byte, name string) []byte {
	n := binary.BigEndian.Uint32(icc[128:])
	table := icc[132:]
	for ; n > 0 && len(table) >= 12; n, table = n-1, table[12:] {
		if string(table[:4]) != name {
			continue
		}
		from, size := uint64(binary.BigEndian.Uint32(table[4:])), uint64(binary.BigEndian.Uint32(table[8:]))
		if from+size > uint64(len(icc)) {
			return nil
		}
		return icc[from : from+size]
	}
	return nil
}

// fixed reads an s15Fixed16Number.
func fixed(b []byte) float64 { return float64(int32(binary.BigEndian.Uint32(b))) / 65536 }

// iccCurve reads a curveType (ICC.1:2010, 10.5) or a parametricCurveType (10.15).
func iccCurve(b []byte) (func(float64) float64, error) {
	broken := fmt.Errorf("one of its curves is broken")
	if len(b) < 12 {
		return nil, broken
	}
	switch string(b[:4]) {
	case "curv":
		n := uint64(binary.BigEndian.Uint32(b[8:]))
		if 12+2*n > uint64(len(b)) {
			return nil, broken
		}
		at := func(i uint64) float64 { return float64(binary.BigEndian.Uint16(b[12+2*i:])) }
		switch n {
		case 0:
			return func(x float64) float64 { return x }, nil
		case 1:
			gamma := at(0) / 256
			return func(x float64) float64 { return math.Pow(x, gamma) }, nil
		}
		return func(x float64) float64 {
			pos := x * float64(n-1)
			i := min(uint64(pos), n-2)
			part := pos - float64(i)
			return (at(i)*(1-part) + at(i+1)*part) / 65535
		}, nil
	case "para":
		kind := binary.BigEndian.Uint16(b[8:])
		count := map[uint16]int{0: 1, 1: 3, 2: 4, 3: 5, 4: 7}[kind]
		if count == 0 || len(b) < 12+4*count {
			return nil, broken
		}
		var v [7]float64 // g a b c d e f of table 65
		for i := range count {
			v[i] = fixed(b[12+4*i:])
		}
		g, a, bb, c, d, e, f := v[0], v[1], v[2], v[3], v[4], v[5], v[6]
		switch kind {
		case 0:
			a, bb, c, d, e, f = 1, 0, 0, 0, 0, 0
		case 1:
			c, d = 0, -bb/a
		case 2:
			d, e, f, c = -bb/a, c, c, 0
		case 3:
			e, f = 0, 0
		}
		return func(x float64) float64 {
			if x >= d {
				return math.Pow(math.Max(0, a*x+bb), g) + e
			}
			return c*x + f
		}, nil
	}
	return nil, broken
}

// mostICC is more than any camera's profile has.
const mostICC = 4 << 20

// icc returns the ICC profile that a file holds, or nil.
func (c *container) icc() []byte {
	switch c.format {
	case "JPEG":
		return c.jpegICC()
	case "PNG":
		return c.pngICC()
	case "WebP":
		return c.webpICC()
	case "TIFF":
		const iccProfile = 34675 // ICC.1:2010, annex B.5
		return tiffValue(c.raw, iccProfile)
	}
	return nil
}

// jpegICC joins the profile's pieces from the APP2 segments before the picture (ICC.1:2010, annex B.4).
func (c *container) jpegICC() (icc []byte) {
	const mark = "ICC_PROFILE\x00"
	pieces := map[byte][]byte{}
	var total byte
	for _, p := range c.parts {
		if p.marker() == markAPP2 && bytes.HasPrefix(p.body, []byte(mark)) && len(p.body) > len(mark)+2 {
			total = p.body[len(mark)+1]
			pieces[p.body[len(mark)]] = p.body[len(mark)+2:]
		}
	}
	for n := byte(1); n <= total && n > 0; n++ {
		icc = append(icc, pieces[n]...)
	}
	return icc
}

// pngICC unpacks the iCCP chunk (ISO/IEC 15948, 11.3.3.3).
func (c *container) pngICC() []byte {
	for _, p := range c.parts {
		switch p.kind {
		case "IDAT":
			return nil
		case "iCCP":
			_, packed, _ := bytes.Cut(p.body, []byte{0})
			if len(packed) < 2 {
				return nil
			}
			z, err := zlib.NewReader(bytes.NewReader(packed[1:]))
			if err != nil {
				return nil
			}
			icc, err := io.ReadAll(io.LimitReader(z, mostICC))
			if err != nil {
				return nil
			}
			return icc
		}
	}
	return nil
}

// webpICC finds the ICCP chunk (RFC 9649, 2.7.1.4).
func (c *container) webpICC() []byte {
	for _, p := range c.parts {
		if p.kind == "ICCP" {
			return p.body
		}
	}
	return nil
}
