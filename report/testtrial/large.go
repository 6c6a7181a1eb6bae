package testtrial

import (
	"bufio"
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
)

// Placed gives plugs a place, so that they can be shown.
func Placed(plugs ...reading.Plug) []reading.Plug {
	for i := range plugs {
		plugs[i].Place = &reading.Place{X: 100, Y: 100, AlongX: 4}
	}
	return plugs
}

// Large is an invented trial of twenty treatments in sixty trays of fifty plugs, photographed on five days from above and from
// below: 30 000 plugs.
func Large() (*plan.Plan, []reading.Reading) {
	p := Plan()
	p.Treatments, p.Trays, p.ReviewDays = nil, nil, []int{7, 10, 14, 17, 21}
	for i := range 20 {
		t := plan.Treatment{Name: fmt.Sprintf("treatment %d", i+1)}
		if i > 0 {
			t.CompareWith = []string{"treatment 1"}
		}
		p.Treatments = append(p.Treatments, t)
	}
	var readings []reading.Reading
	for tray := 1; tray <= 60; tray++ {
		p.Trays = append(p.Trays, plan.Tray{Number: tray, Treatment: p.Treatments[(tray-1)%20].Name, Position: tray})
		for _, day := range p.ReviewDays {
			var roots, leaves []reading.Plug
			for i := range 50 {
				name := plan.PlugName(i/10, i%10)
				size := float64(day) * (1 + float64(tray%20)/20) * (0.6 + float64((i*37+tray*11)%50)/60)
				roots = append(roots, RootPlug(name, size, float64(i%9)))
				leaves = append(leaves, LeafPlug(name, 10*size, float64((i*13)%40)))
			}
			for view, plugs := range map[string][]reading.Plug{"roots": roots, "shoots": leaves} {
				readings = append(readings, Reading(fmt.Sprintf("day%d/tray%d-%s.jpg", day, tray, view), tray, view, Taken(day, 9, tray), Placed(plugs...)...))
			}
		}
	}
	return p, readings
}

// PeakMB is the most memory that this process ever held, 0 where the system does not tell.
func PeakMB() float64 {
	f, err := os.Open("/proc/self/status")
	if err != nil {
		return 0
	}
	defer f.Close()
	for lines := bufio.NewScanner(f); lines.Scan(); {
		if rest, ok := strings.CutPrefix(lines.Text(), "VmHWM:"); ok {
			kB, _ := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(rest, "kB")), 64)
			return kB / 1e3
		}
	}
	return 0
}

// NoisyJPEG draws a picture with as much detail as a photo has, in patches of so many px.
func NoisyJPEG(t testing.TB, width, height, patch int) []byte {
	t.Helper()
	random := rand.New(rand.NewPCG(1, 2))
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := 0; y < height; y += patch {
		for x := 0; x < width; x += patch {
			c := color.RGBA{uint8(80 + random.IntN(60)), uint8(80 + random.IntN(60)), uint8(60 + random.IntN(60)), 255}
			draw.Draw(img, image.Rect(x, y, x+patch, y+patch), image.NewUniform(c), image.Point{}, draw.Src)
		}
	}
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 85}); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
