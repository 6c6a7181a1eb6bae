// Package vision tells where things are in one photo of a tray and how much of each pixel is root or leaf.
//
// In: a photo's bytes and the tray's shape. Out: the card's plane and light, the tray's cells, and root or leaf per cell.
// One photo's way, room by room: photo, scene, tray, then roots or leaves; this package hands their words up.
// It must not know the trial: no treatment, no day, no plan.
package vision

import (
	"image"

	"traygauge/vision/photo"
	"traygauge/vision/raster"
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

// LabOf returns a colour's CIELAB coordinates.
func LabOf(c RGB) Lab { return raster.LabOf(c) }

// Open reads and decodes a photo; the caller closes it. What is unusable gives a *Refusal.
func Open(path string) (*Photo, error) { return photo.Open(path) }

// ReadFile reads a photo's bytes.
func ReadFile(path string) ([]byte, error) { return photo.ReadFile(path) }

// Decode decodes a photo's bytes; the caller closes it, and must not change raw before that.
func Decode(raw []byte) (*Photo, error) { return photo.Decode(raw) }

// FormatOf returns the format of a photo's bytes, or a *Refusal.
func FormatOf(raw []byte) (string, error) { return photo.FormatOf(raw) }

// EncodeJPEG returns a picture as a JPEG file of the given quality, 1 to 100.
func EncodeJPEG(picture *image.RGBA, quality int) ([]byte, error) {
	return photo.EncodeJPEG(picture, quality)
}
