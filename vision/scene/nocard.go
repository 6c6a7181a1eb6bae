package scene

import (
	"errors"
	"image"
	"math"
	"slices"

	"gocv.io/x/gocv"

	"traygauge/vision/kind"
	"traygauge/vision/photo"
)

// whyNoCard looks for the reason why no whole card was found: the photo may be mirrored, or too blurred to show one. Otherwise the refusal stays
// as it is.
func whyNoCard(p *photo.Photo, err error) error {
	var refusal *photo.Refusal
	if !errors.As(err, &refusal) || refusal.Kind != kind.NoCard && refusal.Kind != kind.HalfACard {
		return err
	}
	if refusal.Kind == kind.NoCard && mirrored(p) {
		return photo.Refuse(kind.Mirrored, "use the camera on the phone’s back, or switch off mirroring in the camera’s settings (often called “mirror front camera” or “save as previewed”), and take the photo again; if an editor mirrored it, use the original photo",
			"the photo is mirrored: left and right are swapped")
	}
	if width, ok := edgeWidth(p); ok && width > mostEdgeWidth {
		return photo.Refuse(kind.Blurred, "hold the phone still, tap on the card to focus and take the photo again",
			"the photo is so blurred that %s: edges are spread over %.0f thousandths of its width (limit %.0f)", refusal.Words, 1000*width, 1000*mostEdgeWidth)
	}
	return err
}

// mirrored reports whether the card shows when left and right are swapped.
func mirrored(p *photo.Photo) bool {
	for _, side := range searchSides[:2] {
		quads, err := findMarkers(p, max(1, max(p.Width, p.Height)/side), true)
		if err != nil {
			return false
		}
		if _, _, err := selectCard(quads); err == nil {
			return true
		}
	}
	return false
}

// An edge's width is its step over its steepest slope. A tray's photo is some 640 mm wide, so that a module of the card's markers, 3.1 mm, is
// five thousandths of it; blurred over more than that it cannot be read. Photos in focus have edges a tenth as wide.
const mostEdgeWidth = 0.005

// edgeSide is the longer side of the picture in which edges are measured, and the least step of one that counts, in codes.
const (
	edgeSide = 1200
	edgeStep = 40
	edgeMost = 16 // pixels on each side within which a step is measured
)

// edgeWidth returns how wide the photo's clearest edges are, over its longer side; ok is false where there are hardly any.
func edgeWidth(p *photo.Photo) (width float64, ok bool) {
	shrink := math.Max(1, float64(max(p.Width, p.Height))/edgeSide)
	whole, err := gocv.NewMatFromBytes(p.Height, p.Width, gocv.MatTypeCV8UC3, p.BGR)
	if err != nil {
		return 0, false
	}
	defer whole.Close()
	small, grey := gocv.NewMat(), gocv.NewMat()
	defer small.Close()
	defer grey.Close()
	gocv.Resize(whole, &small, image.Pt(max(1, int(float64(p.Width)/shrink)), max(1, int(float64(p.Height)/shrink))), 0, 0, gocv.InterpolationArea)
	gocv.CvtColor(small, &grey, gocv.ColorBGRToGray)
	gocv.GaussianBlur(grey, &grey, image.Pt(3, 3), 0.8, 0.8, gocv.BorderReplicate) // a sensor's noise has slopes of its own
	pix, err := grey.DataPtrUint8()
	if err != nil {
		return 0, false
	}
	w, h := grey.Cols(), grey.Rows()
	var widths []float64
	lines := func(n, along, step, across int) {
		for i := 0; i < n; i += 4 {
			widths = append(widths, clearestEdge(pix[i*across:], along, step)...)
		}
	}
	lines(h, w, 1, w)
	lines(w, h, w, 1)
	if len(widths) < 40 {
		return 0, false
	}
	slices.Sort(widths)
	return widths[len(widths)/10] * shrink / float64(max(p.Width, p.Height)), true
}

// clearestEdge returns the width in pixels of the steepest edge along a line of n pixels, none where no step is large enough.
func clearestEdge(pix []uint8, n, step int) []float64 {
	at := func(i int) int { return int(pix[i*step]) }
	steepest, where := 0, -1
	for i := 1; i+1 < n; i++ {
		if d := at(i+1) - at(i-1); d > steepest || -d > steepest {
			steepest, where = max(d, -d), i
		}
	}
	if where < 0 {
		return nil
	}
	low, high := 255, 0
	for i := max(0, where-edgeMost); i < min(n, where+edgeMost+1); i++ {
		low, high = min(low, at(i)), max(high, at(i))
	}
	if high-low < edgeStep {
		return nil
	}
	return []float64{2 * float64(high-low) / float64(steepest)}
}
