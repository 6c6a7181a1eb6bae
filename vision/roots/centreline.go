package roots

// leastRoot is the share of root, of 255, that a prepared pixel or one that touches it must have for the centre line in it to count. The network gives a medium's
// fibres and specks a little of both; a little length in many places is much length, a little area is not, since fibres are thin. From a fifth of 255 to two fifths, lengths
// over a drawn photo go down by 1 to 2 % (measured once; no command prints it).
const leastRoot = 64

// onRoot adds up the centre line, given for each of w × h prepared pixels, where there is root.
func onRoot(line []float32, root []uint8, w, h int) (length float64) {
	for i, is := range nearRoot(root, w, h) {
		if is {
			length += float64(line[i])
		}
	}
	return length
}

// nearRoot marks pixels that are root or touch one that is. The outermost pixels count as none.
func nearRoot(root []uint8, w, h int) []bool {
	near := make([]bool, w*h)
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			if root[y*w+x] <= leastRoot {
				continue
			}
			for j := y - 1; j <= y+1; j++ {
				near[j*w+x-1], near[j*w+x], near[j*w+x+1] = true, true, true
			}
		}
	}
	return near
}
