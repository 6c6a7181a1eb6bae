package vision

import (
	"strings"
	"testing"
)

// maskOf reads a mask from rows of "#" and ".".
func maskOf(rows ...string) (m []bool, w, h int) {
	for _, r := range rows {
		for _, c := range r {
			m = append(m, c == '#')
		}
	}
	return m, len(rows[0]), len(rows)
}

func drawnMask(m []bool, w int) string {
	var b strings.Builder
	for i, on := range m {
		if i > 0 && i%w == 0 {
			b.WriteByte('\n')
		}
		b.WriteByte(".#"[map[bool]int{true: 1}[on]])
	}
	return b.String()
}

func TestMasks(t *testing.T) {
	one, w, h := maskOf("....#", "...#.", ".....", "#....", "....#")
	var sizes []int
	eachPiece(one, w, h, func(piece []int32) { sizes = append(sizes, len(piece)) })
	if len(sizes) != 3 || sizes[0] != 2 { // the first two touch by a corner; row ends do not touch the next row
		t.Errorf("pieces of %v pixels", sizes)
	}
	for name, c := range map[string]struct{ got, want string }{
		"dilate": {drawnMask(dilate(one, w, h), w), "...##\n..###\n#..#.\n##..#\n#..##"},
		"spread over all, no further than one step and not around the edge": {
			drawnMask(spreadOver(one, w, h, 1, func(int) bool { return true }), w), "...##\n..###\n#..#.\n##..#\n#..##"},
		"spread over nothing": {drawnMask(spreadOver(one, w, h, 3, func(int) bool { return false }), w), drawnMask(one, w)},
	} {
		if c.got != c.want {
			t.Errorf("%s:\n%s\nwant:\n%s", name, c.got, c.want)
		}
	}
	block, w, h := maskOf(".....", ".###.", ".###.", ".###.", ".....")
	if got := drawnMask(erode(block, w, h), w); got != ".....\n.....\n..#..\n.....\n....." {
		t.Errorf("erode:\n%s", got)
	}
}
