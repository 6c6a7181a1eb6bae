package photo

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/bep/imagemeta"
)

// Meta is what a photo's EXIF block says. A zero field was not there.
type Meta struct {
	Orientation int     // 1 to 8; 1 where the file says nothing
	Taken       string  // local time as written: "2006:01:02 15:04:05"
	Offset      string  // the camera's zone at that time, "+02:00"; often missing
	Focal35     float64 // 35 mm equivalent
	FocalMM     float64 // the lens's own
	Camera      string  // make and model

	WidthPx, HeightPx int // of the picture that the camera wrote, as it lay in the file

	uncalibrated bool // the colours are said to be other than sRGB
}

// exifTime is how EXIF writes a time (CIPA DC-008, DateTimeOriginal).
const exifTime = "2006:01:02 15:04:05"

// Time returns when the photo was taken, read in zone where the photo itself names none. ok is false without a usable time,
// such as that of a camera whose clock was never set.
func (m Meta) Time(zone *time.Location) (t time.Time, ok bool) {
	t, err := time.Parse(exifTime+"-07:00", m.Taken+m.Offset)
	if err != nil {
		t, err = time.ParseInLocation(exifTime, m.Taken, zone)
	}
	return t, err == nil && t.Year() > 1990
}

// HasZone reports whether the photo's time names its zone.
func (m Meta) HasZone() bool {
	_, err := time.Parse(exifTime+"-07:00", m.Taken+m.Offset)
	return err == nil
}

// FocalPx returns the focal length in pixels of a width × height picture. The 35 mm equivalent is by the picture's diagonal
// (CIPA DCG-001: 43.27 mm on film). ok is false where the photo does not name it.
func (m Meta) FocalPx(width, height int) (f float64, ok bool) {
	if m.Focal35 <= 0 {
		return 0, false
	}
	return m.Focal35 / FilmDiagonalMM * math.Hypot(float64(width), float64(height)), true
}

// CutOrResized reports whether a width × height picture, turned either way, is not of the size that the camera wrote. A hundredth is allowed for decoders that round to whole blocks.
func (m Meta) CutOrResized(width, height int) bool {
	if m.WidthPx <= 0 || m.HeightPx <= 0 {
		return false
	}
	off := func(now, was int) bool { return math.Abs(float64(now-was)) > 0.01*float64(was) }
	return off(max(width, height), max(m.WidthPx, m.HeightPx)) || off(min(width, height), min(m.WidthPx, m.HeightPx))
}

// FilmDiagonalMM is the diagonal of a 36 × 24 mm frame.
const FilmDiagonalMM = 43.266615305567875

// readMeta reads the EXIF block. A broken one costs what it said, not the photo.
func readMeta(raw []byte, format string) (m Meta) {
	m.Orientation = 1
	kind, ok := map[string]imagemeta.ImageFormat{
		"JPEG": imagemeta.JPEG, "PNG": imagemeta.PNG, "TIFF": imagemeta.TIFF, "WebP": imagemeta.WebP,
		"HEIC": imagemeta.HEIF,
	}[format]
	if !ok {
		return m
	}
	var maker, model, digitised, digitisedOffset string
	defer func() {
		_ = recover()      // a hostile block must not take the photo with it
		if m.Taken == "" { // some cameras write only when the picture was stored
			m.Taken, m.Offset = digitised, digitisedOffset
		}
	}()
	_, _ = imagemeta.Decode(imagemeta.Options{
		R:           bytes.NewReader(raw),
		ImageFormat: kind,
		Sources:     imagemeta.EXIF,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool {
			return !strings.Contains(t.Namespace, "IFD1") // the thumbnail's own block
		},
		HandleTag: func(t imagemeta.TagInfo) error {
			switch t.Tag {
			case "Orientation":
				if o := int(number(t.Value)); o >= 1 && o <= 8 {
					m.Orientation = o
				}
			case "DateTimeOriginal":
				m.Taken = text(t.Value)
			case "OffsetTimeOriginal":
				m.Offset = text(t.Value)
			case "CreateDate", "DateTimeDigitized":
				digitised = text(t.Value)
			case "OffsetTimeDigitized":
				digitisedOffset = text(t.Value)
			case "ColorSpace":
				m.uncalibrated = number(t.Value) == 65535 // CIPA DC-008, ColorSpace
			case "FocalLengthIn35mmFormat", "FocalLengthIn35mmFilm":
				m.Focal35 = number(t.Value)
			case "FocalLength":
				m.FocalMM = number(t.Value)
			case "ExifImageWidth":
				m.WidthPx = int(number(t.Value))
			case "ExifImageHeight":
				m.HeightPx = int(number(t.Value))
			case "Make":
				maker = text(t.Value)
			case "Model":
				model = text(t.Value)
			}
			m.Camera = strings.TrimSpace(maker + " " + model)
			return nil
		},
	})
	return m
}

func text(v any) string { return strings.TrimSpace(strings.Trim(fmt.Sprint(v), "\x00")) }

// number reads the several integer and ratio types that tags come in; what is none of them is 0.
func number(v any) float64 {
	switch n := v.(type) {
	case uint8:
		return float64(n)
	case uint16:
		return float64(n)
	case uint32:
		return float64(n)
	case int32:
		return float64(n)
	case int:
		return float64(n)
	case float64:
		return n
	case interface{ Float64() float64 }:
		return n.Float64()
	}
	return 0
}
