package photo

// FormatOf names a photo's format by its first bytes, "JPEG", "HEIC", "PNG", "TIFF" or "WebP", and looks at its header without decoding
// it. What Decode would refuse by the header alone, such as what is no photo, claims too many pixels or is cut short, is a *Refusal.
func FormatOf(raw []byte) (string, error) {
	if len(raw) > mostBytes {
		return "", Refuse("too large", "photograph with 12 to 50 megapixels", "holds %d MB, more than the %d MB a photo may have", len(raw)>>20, mostBytes>>20)
	}
	h, err := vet(raw)
	return h.format, err
}
