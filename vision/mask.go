package vision

// A mask is a []bool, one for each pixel of a piece of a photo w pixels wide and h high, row by row.

// eachPiece hands out the connected pieces of a mask one by one, pixels that touch by a corner counted as connected. The
// piece is valid inside the call only; the call may clear it.
func eachPiece(on []bool, w, h int, visit func(piece []int32)) {
	seen := make([]bool, len(on))
	var piece []int32
	for start := range on {
		if !on[start] || seen[start] {
			continue
		}
		seen[start] = true
		piece = append(piece[:0], int32(start))
		for k := 0; k < len(piece); k++ {
			x, y := int(piece[k])%w, int(piece[k])/w
			for yy := max(0, y-1); yy <= min(h-1, y+1); yy++ {
				for xx := max(0, x-1); xx <= min(w-1, x+1); xx++ {
					if j := yy*w + xx; on[j] && !seen[j] {
						seen[j] = true
						piece = append(piece, int32(j))
					}
				}
			}
		}
		visit(piece)
	}
}

func clearAll(on []bool, piece []int32) {
	for _, i := range piece {
		on[i] = false
	}
}

// dilate adds each pixel's four neighbours.
func dilate(in []bool, w, h int) []bool {
	out := append([]bool(nil), in...)
	for y := range h {
		for x := range w {
			if !in[y*w+x] {
				continue
			}
			if x > 0 {
				out[y*w+x-1] = true
			}
			if x < w-1 {
				out[y*w+x+1] = true
			}
			if y > 0 {
				out[(y-1)*w+x] = true
			}
			if y < h-1 {
				out[(y+1)*w+x] = true
			}
		}
	}
	return out
}

// spreadOver grows from the marked pixels over neighbours that may be taken, reach steps far.
func spreadOver(from []bool, w, h, reach int, may func(i int) bool) []bool {
	out := append([]bool(nil), from...)
	var front, next []int32
	for i, ok := range from {
		if ok {
			front = append(front, int32(i))
		}
	}
	for range reach {
		next = next[:0]
		for _, k := range front {
			i, x := int(k), int(k)%w
			take := func(ok bool, j int) {
				if ok && j >= 0 && j < len(out) && !out[j] && may(j) {
					out[j] = true
					next = append(next, int32(j))
				}
			}
			take(x > 0, i-1)
			take(x < w-1, i+1)
			take(true, i-w)
			take(true, i+w)
		}
		front, next = next, front
	}
	return out
}

// erode keeps the pixels whose four neighbours are marked, too; the border goes.
func erode(in []bool, w, h int) []bool {
	out := make([]bool, len(in))
	for y := 1; y < h-1; y++ {
		for x := 1; x < w-1; x++ {
			i := y*w + x
			out[i] = in[i] && in[i-1] && in[i+1] && in[i-w] && in[i+w]
		}
	}
	return out
}
