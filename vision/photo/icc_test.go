package photo

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"math"
	"os"
	"testing"

	"traygauge/vision/raster"
)

// iccProfile writes a profile with a matrix and one curve for all three channels (ICC.1:2010, clause 7).
func iccProfile(toXYZ [3][3]float64, curve []byte) []byte {
	tags := []string{"rXYZ", "gXYZ", "bXYZ", "rTRC", "gTRC", "bTRC"}
	head := make([]byte, 128)
	copy(head[12:], "mntrRGB XYZ ")
	copy(head[36:], "acsp")
	table := binary.BigEndian.AppendUint32(nil, uint32(len(tags)))
	var data []byte
	for i, tag := range tags {
		body := curve
		if i < 3 {
			body = []byte("XYZ \x00\x00\x00\x00")
			for k := range 3 {
				body = binary.BigEndian.AppendUint32(body, uint32(int32(math.Round(toXYZ[k][i]*65536))))
			}
		}
		table = append(table, tag...)
		table = binary.BigEndian.AppendUint32(table, uint32(128+4+12*len(tags)+len(data)))
		table = binary.BigEndian.AppendUint32(table, uint32(len(body)))
		data = append(data, body...)
	}
	icc := append(append(head, table...), data...)
	binary.BigEndian.PutUint32(icc, uint32(len(icc)))
	return icc
}

// srgbCurve is sRGB's curve as parametricCurveType 3 (IEC 61966-2-1: g 2.4, a 1/1.055, b 0.055/1.055, c 1/12.92, d 0.04045).
func srgbCurve() []byte {
	b := []byte("para\x00\x00\x00\x00\x00\x03\x00\x00")
	for _, v := range []float64{2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045} {
		b = binary.BigEndian.AppendUint32(b, uint32(int32(math.Round(v*65536))))
	}
	return b
}

func gammaCurve(gamma float64) []byte {
	return binary.BigEndian.AppendUint16([]byte("curv\x00\x00\x00\x00\x00\x00\x00\x01"), uint16(math.Round(gamma*256)))
}

// fromChromaticities returns the matrix from a space's linear light to XYZ: columns of the primaries, scaled so that equal
// parts make white (SMPTE RP 177).
func fromChromaticities(p [3][2]float64, w [2]float64) [3][3]float64 {
	var m [3][3]float64
	for i, c := range p {
		m[0][i], m[1][i], m[2][i] = c[0]/c[1], 1, (1-c[0]-c[1])/c[1]
	}
	white := [3]float64{w[0] / w[1], 1, (1 - w[0] - w[1]) / w[1]}
	inv := inverse3(m)
	for i := range 3 {
		s := inv[i][0]*white[0] + inv[i][1]*white[1] + inv[i][2]*white[2]
		for k := range 3 {
			m[k][i] *= s
		}
	}
	return m
}

// Both spaces share the white D65, so that no adaptation is needed from one to the other: the expected codes come from the
// chromaticities alone (SMPTE EG 432-1; ITU-R BT.709), by another way than the profile's D50.
func TestDisplayP3BecomesSRGB(t *testing.T) {
	d65 := [2]float64{0.3127, 0.3290}
	p3 := fromChromaticities([3][2]float64{{0.680, 0.320}, {0.265, 0.690}, {0.150, 0.060}}, d65)
	srgb := fromChromaticities([3][2]float64{{0.640, 0.330}, {0.300, 0.600}, {0.150, 0.060}}, d65)
	m := multiply3(inverse3(srgb), p3)
	icc := iccProfile(displayP3ToXYZ, srgbCurve())
	for _, rgb := range [][3]byte{{128, 128, 128}, {255, 255, 255}, {0, 0, 0}, {90, 140, 60}, {200, 190, 80}, {120, 80, 50}, {60, 120, 200}} {
		p := &Photo{Width: 1, Height: 1, BGR: []byte{rgb[2], rgb[1], rgb[0]}}
		if err := p.toSRGB(profile{icc: icc}); err != nil {
			t.Fatal(err)
		}
		q := &Photo{Width: 1, Height: 1, BGR: []byte{rgb[2], rgb[1], rgb[0]}}
		if err := q.toSRGB(profile{primaries: 12, transfer: 13}); err != nil {
			t.Fatal(err)
		}
		for i := range 3 {
			light := 0.0
			for k := range 3 {
				light += m[i][k] * float64(raster.LinearOf[rgb[k]])
			}
			want := 255 * raster.FromLinear(clamp01(light))
			for way, got := range map[string]byte{"ICC": p.BGR[2-i], "H.273": q.BGR[2-i]} {
				if math.Abs(float64(got)-want) > 1 {
					t.Errorf("%v by %s, channel %d: %d, want %.1f", rgb, way, i, got, want)
				}
			}
		}
	}
}

// How much is at stake: a leaf's green, read as sRGB although it is Display P3, has another hue.
func TestALeafInDisplayP3IsGreenerThanItsCodes(t *testing.T) {
	p := &Photo{Width: 1, Height: 1, BGR: []byte{60, 140, 90}}
	if err := p.toSRGB(profile{icc: iccProfile(displayP3ToXYZ, srgbCurve())}); err != nil {
		t.Fatal(err)
	}
	if p.BGR[2] > 80 || p.BGR[1] < 140 {
		t.Errorf("became %v", p.BGR)
	}
}

func TestAnSRGBProfileChangesNothing(t *testing.T) {
	for name, curve := range map[string][]byte{"its curve": srgbCurve()} {
		p := &Photo{Width: 2, Height: 1, BGR: []byte{1, 2, 3, 77, 154, 231}}
		if err := p.toSRGB(profile{icc: iccProfile(srgbToXYZ, curve)}); err != nil || len(p.Doubts) > 0 {
			t.Fatal(err, p.Doubts)
		}
		if !bytes.Equal(p.BGR, []byte{1, 2, 3, 77, 154, 231}) {
			t.Errorf("%s: became %v", name, p.BGR)
		}
	}
}

// A grey stays grey in any space, and its code follows from the curve alone: 128 at gamma 1.8 is (128/255)^1.8 = 0.2891
// of the light, which sRGB codes as 255·(1.055·0.2891^(1/2.4) − 0.055) = 146.4.
func TestAnotherCurve(t *testing.T) {
	p := &Photo{Width: 1, Height: 1, BGR: []byte{128, 128, 128}}
	if err := p.toSRGB(profile{icc: iccProfile(srgbToXYZ, gammaCurve(1.8))}); err != nil {
		t.Fatal(err)
	}
	for _, v := range p.BGR {
		if v < 145 || v > 148 {
			t.Errorf("became %v", p.BGR)
		}
	}
}

func TestAProfileThatCannotBeUsedIsSaid(t *testing.T) {
	good := iccProfile(displayP3ToXYZ, srgbCurve())
	cmyk := bytes.Replace(good, []byte("RGB "), []byte("CMYK"), 1)
	lab := bytes.Replace(good, []byte("RGB XYZ "), []byte("RGB Lab "), 1)
	for name, icc := range map[string][]byte{"rubbish": []byte("rubbish"), "CMYK": cmyk, "tables": lab, "cut": good[:200], "black": iccProfile([3][3]float64{}, srgbCurve())} {
		p := &Photo{Width: 1, Height: 1, BGR: []byte{60, 140, 90}}
		err := p.toSRGB(profile{icc: icc})
		if err != nil || len(p.Doubts) != 1 || p.Doubts[0].Kind != "colours not known" || p.Doubts[0].Remedy == "" {
			t.Errorf("%s: %v, %+v", name, err, p.Doubts)
		}
		if !bytes.Equal(p.BGR, []byte{60, 140, 90}) {
			t.Errorf("%s: became %v", name, p.BGR)
		}
	}
	p := &Photo{Width: 1, Height: 1, BGR: []byte{60, 140, 90}}
	refused(t, "HDR", p.toSRGB(profile{primaries: 9, transfer: 18}), "not readable here", "HDR")
}

// Each format keeps the profile in a place of its own.
func TestTheProfileIsFoundInEveryFormat(t *testing.T) {
	icc := iccProfile(displayP3ToXYZ, srgbCurve())
	half := len(icc) / 2
	segment := func(n byte, part []byte) []byte {
		body := append([]byte("ICC_PROFILE\x00"), n, 2)
		body = append(body, part...)
		return append([]byte{0xff, 0xe2, byte((len(body) + 2) >> 8), byte(len(body) + 2)}, body...)
	}
	jpg := tinyJPEG()
	jpg = bytes.Join([][]byte{jpg[:2], segment(2, icc[half:]), segment(1, icc[:half]), jpg[2:]}, nil)
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	_, _ = z.Write(icc)
	_ = z.Close()
	for format, raw := range map[string][]byte{
		"JPEG": jpg,
		"PNG":  pngWithChunk(tinyPNG(), "iCCP", append([]byte("P3\x00\x00"), packed.Bytes()...)),
		"WebP": webpWith(t, "ICCP", icc),
	} {
		c := takeApart(raw)
		if got := c.icc(); !bytes.Equal(got, icc) {
			t.Errorf("%s: %d bytes, want %d", format, len(got), len(icc))
		}
		p, err := Decode(raw)
		if err != nil {
			t.Errorf("%s: %v", format, err)
			continue
		}
		if len(p.Doubts) > 0 {
			t.Errorf("%s: %v", format, p.Doubts)
		}
		p.Close()
	}
}

// FuzzProfile: whatever the bytes, a space whose codes are all light between 0 and 1, or an error.
func FuzzProfile(f *testing.F) {
	f.Add(iccProfile(displayP3ToXYZ, srgbCurve()))
	f.Add(iccProfile(srgbToXYZ, gammaCurve(2.2)))
	f.Add(iccProfile(srgbToXYZ, []byte("curv\x00\x00\x00\x00\x00\x00\x00\x02\x00\x00\xff\xff")))
	f.Fuzz(func(t *testing.T, icc []byte) {
		s, err := parseICC(icc)
		if err != nil {
			return
		}
		for _, channel := range s.light {
			for _, v := range channel {
				if !(v >= 0 && v <= 1) {
					t.Fatalf("light %v", v)
				}
			}
		}
		s.isSRGB()
		s.convert([]byte{1, 2, 3, 200, 100, 50})
	})
}

// FuzzMeta: no block of bytes ends the program, and an orientation is always one of the eight.
func FuzzMeta(f *testing.F) {
	f.Add(jpegWithOrientation(tinyJPEG(), 6))
	f.Add(pngWithChunk(tinyPNG(), "eXIf", exifBlock(3)))
	f.Add(plainTIFF())
	for _, name := range []string{"field.heic", "quarters-turned.heic", "quarters.webp"} {
		raw, err := os.ReadFile("testdata/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(raw)
	}
	f.Add([]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		c := takeApart(raw)
		if m := readMeta(raw, c.format); m.Orientation < 1 || m.Orientation > 8 {
			t.Fatalf("orientation %d", m.Orientation)
		}
		c.icc()
		c.jpegQuality()
		c.codesDamaged()
		c.wrongChecksum()
		c.holeInWebP()
		holeInHEIC(raw)
	})
}
