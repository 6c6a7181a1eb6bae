package reading

import "strings"

// Usable reports whether r says what was photographed and holds something to report.
func (r Reading) Usable() bool { return !r.Fatal() && r.Tray > 0 && r.View != "" && len(r.Plugs) > 0 }

// BetterFirst orders the photos of one tray, day and view; the first is the one to use: any before an excluded one, fewer
// concerns before more, later before earlier, for a photo is taken again because the first one was not liked, then by name.
func BetterFirst(a, b Reading) int {
	if outA, outB := a.ExcludedBy() != nil, b.ExcludedBy() != nil; outA != outB {
		if outB {
			return -1
		}
		return 1
	}
	if n := len(a.Concerns) - len(b.Concerns); n != 0 {
		return n
	}
	if c := b.Taken.Compare(a.Taken); c != 0 {
		return c
	}
	return strings.Compare(a.Photo, b.Photo)
}
