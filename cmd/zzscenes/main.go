package main

import (
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"

	"traygauge/vision/card"
	"traygauge/vision/scene"
)

func lin(v uint8) float64 {
	x := float64(v) / 255
	if x <= 0.04045 {
		return x / 12.92
	}
	return math.Pow((x+0.055)/1.055, 2.4)
}

func wide(img *image.NRGBA, m [3][3]float64, gamma float64) {
	for i := 0; i < len(img.Pix); i += 4 {
		c := [3]float64{lin(img.Pix[i]), lin(img.Pix[i+1]), lin(img.Pix[i+2])}
		for k := range 3 {
			v := m[k][0]*c[0] + m[k][1]*c[1] + m[k][2]*c[2]
			img.Pix[i+k] = uint8(255*math.Pow(min(1, max(0, v)), 1/gamma) + 0.5)
		}
	}
}

func main() {
	dir := os.Args[1]
	os.MkdirAll(dir, 0o755)
	// sRGB linear to Adobe RGB (1998) and to ProPhoto linear
	adobe := [3][3]float64{{0.7151, 0.2849, 0}, {0, 1, 0}, {0, 0.0412, 0.9588}}
	pro := [3][3]float64{{0.5293, 0.3300, 0.1407}, {0.0984, 0.8735, 0.0281}, {0.0169, 0.1177, 0.8654}}
	p3 := [3][3]float64{{0.8225, 0.1774, 0}, {0.0332, 0.9669, 0}, {0.0171, 0.0724, 0.9108}}
	for _, face := range []card.Face{card.Roots, card.Shoots} {
		s := scene.Defaults(face)
		s.Resize(2400, 1800)
		s.Plants = map[string]scene.Plant{}
		for i, c := range s.Tray.Cells() {
			if i%11 == 5 {
				continue
			}
			k := 0.7 + 0.6*float64(i%7)/6
			s.Plants[c] = scene.Plant{Plug: true, Leaves: 4, LeafLengthMM: 18 * k, RootLengthMM: 400 * k, RootBrown: 0.2 * float64(i%3), Yellow: 0.1 * float64(i%4)}
		}
		for _, v := range []struct {
			name string
			f    func(*scene.Spec)
			g    func(*image.NRGBA)
		}{
			{"plain", nil, nil},
			{"sat1.2", func(s *scene.Spec) { s.Phone.Saturation = 1.2 }, nil},
			{"sat1.4", func(s *scene.Spec) { s.Phone.Saturation = 1.4 }, nil},
			{"sat1.6", func(s *scene.Spec) { s.Phone.Saturation = 1.6 }, nil},
			{"sat0.7", func(s *scene.Spec) { s.Phone.Saturation = 0.7 }, nil},
			{"sat0.5", func(s *scene.Spec) { s.Phone.Saturation = 0.5 }, nil},
			{"contrast0.5", func(s *scene.Spec) { s.Phone.Contrast = 0.5 }, nil},
			{"contrast1", func(s *scene.Spec) { s.Phone.Contrast = 1 }, nil},
			{"lift20local1", func(s *scene.Spec) { s.Phone.Lift = 20; s.Phone.LocalTone = 1 }, nil},
			{"over1.2", func(s *scene.Spec) { s.Light.Level *= 1.2 }, nil},
			{"over1.4", func(s *scene.Spec) { s.Light.Level *= 1.4 }, nil},
			{"over1.9", func(s *scene.Spec) { s.Light.Level *= 1.9 }, nil},
			{"over1.2top250", func(s *scene.Spec) { s.Light.Level *= 1.2; s.Phone.Top = 250 }, nil},
			{"over1.4top250", func(s *scene.Spec) { s.Light.Level *= 1.4; s.Phone.Top = 250 }, nil},
			{"over1.9top250", func(s *scene.Spec) { s.Light.Level *= 1.9; s.Phone.Top = 250 }, nil},
			{"over1.9top235", func(s *scene.Spec) { s.Light.Level *= 1.9; s.Phone.Top = 235 }, nil},
			{"warm", func(s *scene.Spec) { s.Light.Gains = [3]float64{1, 0.85, 0.65} }, nil},
			{"dark0.4", func(s *scene.Spec) { s.Light.Level *= 0.4 }, nil},
			{"dark0.15", func(s *scene.Spec) { s.Light.Level *= 0.15 }, nil},
			{"adobe", nil, func(i *image.NRGBA) { wide(i, adobe, 2.2) }},
			{"pro", nil, func(i *image.NRGBA) { wide(i, pro, 1.8) }},
			{"p3", nil, func(i *image.NRGBA) { wide(i, p3, 2.2) }},
		} {
			x := s
			if v.f != nil {
				v.f(&x)
			}
			img, _, err := scene.Draw(x)
			if err != nil {
				panic(err)
			}
			if v.g != nil {
				v.g(img)
			}
			name := filepath.Join(dir, fmt.Sprintf("%v-%s.jpg", face, v.name))
			if err := scene.WriteJPEG(name, img, 90, scene.EXIF{Focal35: 26, Orientation: 1}); err != nil {
				panic(err)
			}
		}
	}
}
