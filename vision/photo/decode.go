package photo

import (
	"time"

	"gocv.io/x/gocv"

	"traygauge/vision/heif"
	"traygauge/vision/marker"
)

// mostTime is how long one photo's decoding may take. The slowest ordinary one, a HEIC of 50 megapixels on an old computer,
// takes some 20 s.
const mostTime = 2 * time.Minute

// Decode decodes a photo's bytes and turns the picture upright. What is no photo, a broken one, or one that is not decoded
// within mostTime gives a *Refusal. The caller closes the result, and must not change raw before that.
func Decode(raw []byte) (*Photo, error) {
	marker.Quiet()
	marker.OneThread()
	return within(mostTime, func() (*Photo, error) { return decode(raw) })
}

// within calls f and gives up on it after the limit. Nothing can stop a decoder from outside: an abandoned one goes on by
// itself, and should it end, its photo is closed. A panic in a reader of hostile bytes is a broken photo's.
func within(limit time.Duration, f func() (*Photo, error)) (*Photo, error) {
	type outcome struct {
		photo *Photo
		err   error
	}
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		defer func() {
			if why := recover(); why != nil {
				o.err = Refuse("broken", copyAgain, "cannot be decoded (%v)", why)
			}
			done <- o
		}()
		o.photo, o.err = f()
	}()
	timer := time.NewTimer(limit)
	defer timer.Stop()
	select {
	case o := <-done:
		return o.photo, o.err
	case <-timer.C:
		go func() {
			if o := <-done; o.photo != nil {
				o.photo.Close()
			}
		}()
		return nil, Refuse("too slow", exportAsJPEG, "could not be decoded within %v", limit)
	}
}

func decode(raw []byte) (*Photo, error) {
	h, err := vet(raw)
	if err != nil {
		return nil, err
	}
	meta := readMeta(raw, h.format)
	var mat gocv.Mat
	var colours profile
	if h.format == "HEIC" {
		mat, colours, err = decodeHEIC(raw)
		meta.Orientation = 1 // libheif has turned the picture
	} else {
		mat, err = decodeRaster(raw, h)
		colours = profile{icc: iccOf(raw, h.format)}
	}
	if err != nil {
		return nil, err
	}
	mat = upright(mat, meta.Orientation)
	pix, err := mat.DataPtrUint8()
	if err != nil || len(pix) != mat.Rows()*mat.Cols()*3 {
		mat.Close()
		return nil, Refuse("broken", copyAgain, "cannot be laid out in memory")
	}
	p := &Photo{Width: mat.Cols(), Height: mat.Rows(), Meta: meta, BGR: pix, mat: mat}
	if h.format == "JPEG" {
		p.Quality = jpegQuality(raw)
	}
	if err := p.toSRGB(colours); err != nil {
		p.Close()
		return nil, err
	}
	return p, nil
}

// decodeRaster decodes what OpenCV reads, unturned. The caller closes the result.
func decodeRaster(raw []byte, h header) (gocv.Mat, error) {
	how := gocv.IMReadColor | gocv.IMReadIgnoreOrientation
	if h.mayBeSeeThrough() {
		how = gocv.IMReadUnchanged
	}
	if h.format == "TIFF" {
		raw = unturnedTIFF(raw)
	}
	var mat gocv.Mat
	var err error
	words := marker.Heard(func() { mat, err = gocv.IMDecode(raw, how) })
	if err != nil {
		return mat, Refuse("broken", copyAgain, "cannot be decoded (%v)", err)
	}
	if !mat.Empty() && h.mayBeSeeThrough() {
		if mat, err = opaque(mat); err != nil {
			return mat, err
		}
	}
	switch {
	case mat.Empty() || mat.Type() != gocv.MatTypeCV8UC3:
		mat.Close()
		return mat, Refuse("broken", copyAgain, "is a %s file that cannot be decoded", h.format)
	case h.format == "JPEG" && (damageHeard(words, raw) || codesDamaged(raw)):
		mat.Close()
		return mat, Refuse("broken", copyAgain, "is a JPEG file with bytes changed or lost")
	case h.format == "PNG" && wrongChecksum(raw):
		mat.Close()
		return mat, Refuse("broken", copyAgain, "is a PNG file with bytes changed: its checksums are wrong")
	case h.format == "JPEG" && damaged(raw, mat), h.format == "WebP" && holeInWebP(raw):
		mat.Close()
		return mat, Refuse("broken", copyAgain, "is a %s file with part of the picture missing", h.format)
	}
	return mat, nil
}

// opaque returns mat as 8-bit colours without its alpha channel, and closes mat. Where the channel hides something, the
// colours behind it mean nothing: that picture was cut out by hand.
func opaque(mat gocv.Mat) (gocv.Mat, error) {
	eight, colours := gocv.NewMat(), gocv.NewMat()
	defer eight.Close()
	scale := 1.0
	if t := mat.Type(); t == gocv.MatTypeCV16UC4 || t == gocv.MatTypeCV16UC3 || t == gocv.MatTypeCV16UC1 {
		scale = 1.0 / 257
	}
	mat.ConvertToWithParams(&eight, gocv.MatTypeCV8U, float32(scale), 0)
	mat.Close()
	switch eight.Channels() {
	case 4:
		pix, err := eight.DataPtrUint8()
		if err != nil {
			colours.Close()
			return colours, Refuse("broken", copyAgain, "cannot be laid out in memory")
		}
		for i := 3; i < len(pix); i += 4 {
			if pix[i] != 255 {
				colours.Close()
				return colours, Refuse("see-through", "use the photo as the camera took it", "is partly see-through, so it was cut out or drawn over")
			}
		}
		gocv.CvtColor(eight, &colours, gocv.ColorBGRAToBGR)
	case 3:
		eight.CopyTo(&colours)
	case 1:
		gocv.CvtColor(eight, &colours, gocv.ColorGrayToBGR)
	}
	return colours, nil
}

// decodeHEIC decodes with the system's libheif. The caller closes the result.
func decodeHEIC(raw []byte) (mat gocv.Mat, colours profile, err error) {
	if why := heif.Available(); why != nil {
		return mat, colours, Refuse("not readable here",
			"install libheif with its HEVC decoder (Debian, Ubuntu: libheif1), or set the phone's camera to its most compatible format, or export the photo as JPEG",
			"is a HEIC file, and %v", why)
	}
	f, err := heif.Open(raw)
	if err != nil {
		return mat, colours, Refuse("broken", copyAgain, "has a broken HEIC header (%v)", err)
	}
	defer f.Close()
	if holeInHEIC(raw) {
		return mat, colours, Refuse("broken", copyAgain, "is a HEIC file with part of the picture missing")
	}
	if err := tooManyPixels(f.Width, f.Height); err != nil {
		return mat, colours, err
	}
	mat = gocv.NewMatWithSize(f.Height, f.Width, gocv.MatTypeCV8UC3)
	pix, err := mat.DataPtrUint8()
	if err == nil {
		err = f.DecodeBGR(pix)
	}
	if err != nil {
		mat.Close()
		return mat, colours, Refuse("broken", copyAgain, "is a HEIC file that cannot be decoded (%v)", err)
	}
	return mat, profile{icc: f.ICC(), primaries: f.Primaries, transfer: f.Transfer}, nil
}
