package report

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"path/filepath"
	"runtime"
	"sync"

	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/vision"
)

// CropSize says how plugs are cut out of their photos: all at one scale. The zero value of Quality works.
type CropSize struct {
	SideMM  float64 // of the square that is shown, in the plane of what is seen
	SidePx  int     // of the picture
	Quality int     // JPEG, 1 to 100; 0 is 82
}

// PxPerMM is the scale of the pictures.
func (s CropSize) PxPerMM() float64 { return float64(s.SidePx) / s.SideMM }

const cropQuality = 82

// Crops cuts plugs out of the photos of the trial in folder dir. Each picture is a JPEG of s.SidePx × s.SidePx with its plug in
// the middle, turned so that the tray's row A is at the top, and holds nothing else of the photo's file: no place, no time, no
// camera. A picture is nil where the plug's place is not known, and where its photo is gone, can no longer be read or is not the
// one that was measured: a picture of something else is worse than none. Each photo is read once.
func Crops(dir string, plugs []PlugRow, s CropSize) [][]byte {
	pictures := make([][]byte, len(plugs))
	if !(s.SideMM > 0) || s.SidePx < 1 {
		return pictures
	}
	wanted := map[string][]int{}
	var photos []string
	for i, p := range plugs {
		if p.Place == nil || !(p.Place.PxPerMM() > 0) {
			continue
		}
		name := p.File()
		if wanted[name] == nil {
			photos = append(photos, name)
		}
		wanted[name] = append(wanted[name], i)
	}
	// More than two at a time would be faster on larger computers, but each photo in memory takes three bytes a pixel.
	next := make(chan string)
	var wg sync.WaitGroup
	for range min(2, runtime.NumCPU(), len(photos)) {
		wg.Go(func() {
			for photo := range next {
				cropPhoto(dir, photo, plugs, wanted[photo], s, pictures)
			}
		})
	}
	for _, photo := range photos {
		next <- photo
	}
	close(next)
	wg.Wait()
	return pictures
}

// cropPhoto fills in the pictures of one photo's plugs, those at the given indexes.
func cropPhoto(dir, name string, plugs []PlugRow, at []int, s CropSize, pictures [][]byte) {
	raw, err := vision.ReadFile(filepath.Join(dir, trialdir.PhotosFolder, filepath.FromSlash(name)))
	if err != nil {
		return
	}
	if sum := sha256.Sum256(raw); hex.EncodeToString(sum[:]) != plugs[at[0]].SHA256 {
		return
	}
	photo, err := vision.Decode(raw)
	if err != nil {
		return
	}
	defer photo.Close()
	for _, i := range at {
		var out bytes.Buffer
		quality := s.Quality
		if quality == 0 {
			quality = cropQuality
		}
		if jpeg.Encode(&out, Crop(photo, *plugs[i].Place, plugs[i].View, s), &jpeg.Options{Quality: quality}) == nil {
			pictures[i] = out.Bytes()
		}
	}
}

// Crop returns the square around a plug. What lies outside the photo is grey.
func Crop(photo *vision.Photo, at reading.Place, view string, s CropSize) *image.RGBA {
	page := image.NewRGBA(image.Rect(0, 0, s.SidePx, s.SidePx))
	scale := at.PxPerMM()
	// One step to the right and one down in the picture, in the photo's pixels. From above column 10 is at the right when row A
	// is at the top; from below the tray is seen as in a mirror and column 10 is at the left.
	step := scale / s.PxPerMM()
	rightX, rightY := at.AlongX/scale*step, at.AlongY/scale*step
	if view == "roots" {
		rightX, rightY = -rightX, -rightY
	}
	downX, downY := -rightY, rightX
	samples := max(1, int(math.Ceil(step))) // a pixel of the picture takes in all that it covers
	middle := float64(s.SidePx) / 2
	for y := range s.SidePx {
		for x := range s.SidePx {
			var sum [3]float64
			for i := range samples * samples {
				across := float64(x) + (float64(i%samples)+0.5)/float64(samples) - middle
				down := float64(y) + (float64(i/samples)+0.5)/float64(samples) - middle
				c := colourAt(photo, at.X+across*rightX+down*downX, at.Y+across*rightY+down*downY)
				for k := range sum {
					sum[k] += c[k]
				}
			}
			n := float64(samples * samples)
			page.SetRGBA(x, y, color.RGBA{uint8(sum[0]/n + 0.5), uint8(sum[1]/n + 0.5), uint8(sum[2]/n + 0.5), 255})
		}
	}
	return page
}

// colourAt returns the red, green and blue codes at a point between pixels, by bilinear interpolation.
func colourAt(photo *vision.Photo, x, y float64) (c [3]float64) {
	if !(x >= 0 && y >= 0 && x <= float64(photo.Width-1) && y <= float64(photo.Height-1)) {
		return [3]float64{224, 224, 224}
	}
	left, top := min(int(x), max(photo.Width-2, 0)), min(int(y), max(photo.Height-2, 0))
	right, low := min(left+1, photo.Width-1), min(top+1, photo.Height-1)
	fx, fy := x-float64(left), y-float64(top)
	for k := range c {
		code := func(x, y int) float64 { return float64(photo.BGR[3*(y*photo.Width+x)+2-k]) }
		c[k] = (1-fy)*((1-fx)*code(left, top)+fx*code(right, top)) + fy*((1-fx)*code(left, low)+fx*code(right, low))
	}
	return c
}
