// Package vision tells where things are in one photo of a tray and how much of each pixel is root or leaf.
//
// In: a photo's bytes and the tray's shape. Out: the card's plane and light, the tray's cells, and root or leaf per cell.
// One photo's way, room by room: photo, scene, tray, then roots or leaves; this package hands their words up.
// It must not know the trial: no treatment, no day, no plan.
package vision

import (
	"image"

	"gocv.io/x/gocv"

	"traygauge/vision/coverage"
	"traygauge/vision/jpeg"
	"traygauge/vision/leaves"
	"traygauge/vision/lens"
	"traygauge/vision/photo"
	"traygauge/vision/raster"
	"traygauge/vision/roots"
	"traygauge/vision/scene"
	"traygauge/vision/tray"
)

// What the rooms below hand up.
type (
	Px      = raster.Px
	RGB     = raster.RGB
	Lab     = raster.Lab
	Share   = raster.Share
	Photo   = photo.Photo
	Meta    = photo.Meta
	Refusal = photo.Refusal
)

// Open reads and decodes a photo; the caller closes it. What is unusable gives a *Refusal.
func Open(path string) (*Photo, error) { return photo.Open(path) }

// ReadFile reads a photo's bytes.
func ReadFile(path string) ([]byte, error) { return photo.ReadFile(path) }

// Decode decodes a photo's bytes; the caller closes it, and must not change raw before that.
func Decode(raw []byte) (*Photo, error) { return photo.Decode(raw) }

// FormatOf returns the format of a photo's bytes, or a *Refusal.
func FormatOf(raw []byte) (string, error) { return photo.FormatOf(raw) }

// EncodeJPEG returns pictures of one width, one below the other, as a JPEG file of the given quality, 1 to 100.
func EncodeJPEG(quality int, pictures ...*image.RGBA) ([]byte, error) {
	return jpeg.Encode(quality, pictures...)
}

// What the card tells.
type (
	Scene       = scene.Scene
	Plane       = scene.Plane
	Light       = scene.Light
	OnCard      = scene.OnCard
	Sharpness   = scene.Sharpness
	Tag         = scene.Tag
	CardOptions = scene.CardOptions
	CardView    = scene.CardView
)

// FindCard finds the card and the tags in p, ties the card's plane to the pixels and reads light and sharpness off the card. A photo without exactly
// one whole card gives a *Refusal.
func FindCard(p *Photo, o CardOptions) (*Scene, error) { return scene.FindCard(p, o) }

// SeeCard finds the card in a photo, however bent by the lens, for FitLens.
func SeeCard(p *Photo) (CardView, error) { return scene.SeeCard(p) }

// FitLens fits the lens that all views were taken with; odd are the views left out.
func FitLens(views []CardView) (p lens.Profile, odd []int, err error) { return scene.FitLens(views) }

// Where a tray's cells are, and what lies over them.
type (
	Tray = tray.Layout
	Grid = tray.Grid
)

// GivenGrid returns the grid whose outer cells have their outer corners where somebody set them in the photo, clockwise from A1's.
func GivenGrid(s *Scene, t Tray, corners [4]Px) (Grid, error) { return tray.GivenGrid(s, t, corners) }

// GridCorners returns where the outer corners of the outer cells lie in the photo, clockwise from A1's.
func GridCorners(s *Scene, t Tray, g Grid) [4]Px { return tray.GridCorners(s, t, g) }

// Covered returns for each cell, in reading order, which share of it something lies over that belongs to neither tray nor plants, 0 to 1.
func Covered(s *Scene, t Tray, g Grid) []float64 { return tray.Covered(s, t, g) }

// RimsHidden returns for each cell, in reading order, how many mm of its plug's rim something lies over, seen from below.
func RimsHidden(s *Scene, t Tray, g Grid) []tray.Hidden { return tray.RimsHidden(s, t, g) }

// WallsHidden returns for each cell, in reading order, how many mm of one of its walls something lies over that is neither leaf nor tray,
// seen from above.
func WallsHidden(s *Scene, t Tray, g Grid, leaf *Share) []tray.Hidden {
	return tray.WallsHidden(s, t, g, leaf)
}

// Unevenness compares the light on the tray's parts. leaf is where leaves lie, nil for none.
func Unevenness(s *Scene, t Tray, g Grid, leaf *Share) tray.Uneven {
	return tray.Unevenness(s, t, g, leaf)
}

// OffByCells returns by how many columns and rows, -1, 0 or 1 each, the tray lies beyond the grid.
func OffByCells(s *Scene, t Tray, g Grid) (columns, rows int) { return tray.OffByCells(s, t, g) }

// MoreCells returns on which side there is a column and a row of cells more than in the tray's drawing: -1 before its first, 1 after its last, 0 none.
func MoreCells(s *Scene, t Tray, g Grid) (columns, rows int) { return tray.MoreCells(s, t, g) }

// Extent is how dark and how light a tray gets, over the card's paper.
type Extent = tray.Extent

// ExtentOf returns the extent of the tray's light.
func ExtentOf(s *Scene, t Tray, g Grid) Extent { return tray.ExtentOf(s, t, g) }

// Blur returns for each cell, in reading order, how blurred the photo is there: the sigma of a Gaussian in mm, NaN where nothing shows it.
func Blur(s *Scene, t Tray, g Grid) []float64 { return tray.Blur(s, t, g) }

// Repeated returns how much the fine things in neighbouring cells are like themselves at a distance of 2 to 9 mm, for the cells and the distance where that is most.
func Repeated(s *Scene, t Tray, g Grid) float64 { return tray.Repeated(s, t, g) }

// Doubled returns how clearly the tray is in the photo twice, in times of what a photo that was taken once can have, and how many pixels apart.
func Doubled(s *Scene, t Tray, g Grid) (times, px float64) { return tray.Doubled(s, t, g) }

// UnevenGrain returns how many times as clearly fine grain stands out in the tray's clearest part as in its faintest; 0 where that is not seen.
func UnevenGrain(s *Scene, t Tray, g Grid) float64 { return tray.UnevenGrain(s, t, g) }

// GreenShare returns the share of the tray that is as green as leaves are, 0 to 1.
func GreenShare(s *Scene, t Tray, g Grid) float64 { return tray.GreenShare(s, t, g) }

// How much root or leaf is on each cell.
type (
	RootPlug    = roots.Plug
	LeafOptions = leaves.Options
	LeafPlant   = leaves.Plant
	Canopy      = leaves.Canopy
)

// Roots finds the plugs of a tray's underside and measures the root on each, in reading order. The scene must show the roots face.
func Roots(s *Scene, t Tray) ([]RootPlug, Grid, error) { return roots.Measure(s, t) }

// Leaves finds the leaves of a tray's canopy and gives each to the plug that it grows from, in reading order. The scene must show the shoots face.
func Leaves(s *Scene, t Tray, o LeafOptions) (*Canopy, Grid, error) { return leaves.Measure(s, t, o) }

// SampleRoots looks for plug bottoms on up to most of the cells, whatever face of the card is up.
func SampleRoots(s *Scene, t Tray, g Grid, most int) (roots.Bottoms, error) {
	return roots.Sample(s, t, g, most)
}

// Plants returns on how many of the tray's plugs the network for leaves sees a plant, and the mm² of these plants, whatever face of the card is up.
func Plants(s *Scene, t Tray, g Grid) (n int, mm2 float64, err error) { return leaves.Plants(s, t, g) }

// OpenCV returns the version of OpenCV that this program runs with. Decoding and finding markers are its work, so readings may differ between two of them.
func OpenCV() string { return gocv.OpenCVVersion() }

// Networks returns the SHA-256 of the networks' files, roots' first: readings made by others differ.
func Networks() [2]string { return [2]string{coverage.Roots.ID(), coverage.Leaves.ID()} }
