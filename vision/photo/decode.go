package photo

import (
	"time"

	"gocv.io/x/gocv"

	"traygauge/vision/heif"
	"traygauge/vision/jpeg"
	"traygauge/vision/kind"
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
				o.err = Refuse(kind.Broken, copyAgain, "cannot be decoded (%v)", why)
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
		return nil, Refuse(kind.TooSlow, exportAsJPEG, "could not be decoded within %v", limit)
	}
}

func decode(raw []byte) (*Photo, error) {
	c, err := open(raw)
	if err != nil {
		return nil, err
	}
	meta := readMeta(raw, c.format)
	var mat gocv.Mat
	var storage *jpeg.Storage
	colours := profile{icc: c.icc()}
	switch c.format {
	case "HEIC":
		mat, colours, err = decodeHEIC(raw)
		meta.Orientation = 1 // libheif has turned the picture
	case "JPEG":
		n := 3 * c.width * c.height
		storage = take(n)
		mat, err = c.decodeJPEG(storage.Bytes[:n])
	default:
		mat, err = c.decode()
	}
	if err != nil {
		return nil, err
	}
	mat = upright(mat, meta.Orientation)
	if meta.Orientation > 1 { // it is in new memory
		giveBack(storage)
		storage = nil
	}
	pix, err := mat.DataPtrUint8()
	if err != nil || len(pix) != mat.Rows()*mat.Cols()*3 {
		mat.Close()
		return nil, Refuse(kind.Broken, copyAgain, "does not fit in memory")
	}
	p := &Photo{Width: mat.Cols(), Height: mat.Rows(), Meta: meta, BGR: pix, mat: mat, storage: storage}
	p.Quality, p.ownStep = c.jpegQuality(), c.lowestSteps()
	if err := p.toSRGB(colours); err != nil {
		p.Close()
		return nil, err
	}
	return p, nil
}

// decodeJPEG decodes a JPEG into pix, unturned. The caller closes the result.
func (c *container) decodeJPEG(pix []byte) (gocv.Mat, error) {
	warning, err := jpeg.DecodeBGR(c.raw, c.width, c.height, pix)
	mat, _ := gocv.NewMatFromBytes(c.height, c.width, gocv.MatTypeCV8UC3, pix) // fails without pixels alone
	switch {
	case err != nil:
		err = Refuse(kind.Broken, copyAgain, "is a JPEG file that cannot be decoded (%v)", err)
	case damageWarned(warning, c.raw) || c.codesDamaged():
		err = Refuse(kind.Broken, copyAgain, "is a JPEG file with bytes changed or lost")
	case damaged(c.raw, mat):
		err = Refuse(kind.Broken, copyAgain, "is a JPEG file with part of the picture missing")
	}
	if err != nil {
		mat.Close()
	}
	return mat, err
}

// decode decodes what OpenCV reads, unturned. The caller closes the result.
func (c *container) decode() (gocv.Mat, error) {
	raw := c.raw
	how := gocv.IMReadColor | gocv.IMReadIgnoreOrientation
	if c.mayBeSeeThrough() {
		how = gocv.IMReadUnchanged
	}
	if c.format == "TIFF" {
		raw = unturnedTIFF(raw)
	}
	mat, err := gocv.IMDecode(raw, how)
	if err != nil {
		return mat, Refuse(kind.Broken, copyAgain, "cannot be decoded (%v)", err)
	}
	if !mat.Empty() && c.mayBeSeeThrough() {
		if mat, err = opaque(mat); err != nil {
			return mat, err
		}
	}
	switch {
	case mat.Empty() || mat.Type() != gocv.MatTypeCV8UC3:
		err = Refuse(kind.Broken, copyAgain, "is a %s file that cannot be decoded", c.format)
	case c.wrongChecksum():
		err = Refuse(kind.Broken, copyAgain, "is a PNG file with bytes changed: its checksums are wrong")
	case c.holeInWebP():
		err = Refuse(kind.Broken, copyAgain, "is a WebP file with part of the picture missing")
	}
	if err != nil {
		mat.Close()
	}
	return mat, err
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
			return colours, Refuse(kind.Broken, copyAgain, "does not fit in memory")
		}
		for i := 3; i < len(pix); i += 4 {
			if pix[i] != 255 {
				colours.Close()
				return colours, Refuse(kind.SeeThrough, "use the original photo from the camera", "is partly transparent, so it was edited")
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
		return mat, colours, Refuse(kind.NotReadableHere,
			"install libheif with its HEVC decoder (Debian, Ubuntu: libheif1), set the phone’s camera to its most compatible format, or export the photo as JPEG",
			"is a HEIC file, and %v", why)
	}
	f, err := heif.Open(raw)
	if err != nil {
		return mat, colours, Refuse(kind.Broken, copyAgain, "has a damaged HEIC header (%v)", err)
	}
	defer f.Close()
	if holeInHEIC(raw) {
		return mat, colours, Refuse(kind.Broken, copyAgain, "is a HEIC file with part of the picture missing")
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
		return mat, colours, Refuse(kind.Broken, copyAgain, "is a HEIC file that cannot be decoded (%v)", err)
	}
	return mat, profile{icc: f.ICC(), primaries: f.Primaries, transfer: f.Transfer}, nil
}
