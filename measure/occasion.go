package measure

import "strings"

// Usable tells whether r says what was photographed and holds something to report.
func (r Reading) Usable() bool { return !r.fatal() && r.Tray > 0 && r.View != "" && len(r.Plugs) > 0 }

// ByWorth orders the photos of one tray, day and view; the first is the one to use: any before an excluded one, without
// concerns before doubtful, later before earlier, then by name.
func ByWorth(a, b Reading) int {
	if outA, outB := a.ExcludedBy() != nil, b.ExcludedBy() != nil; outA != outB {
		if outB {
			return -1
		}
		return 1
	}
	if clearA, clearB := len(a.Concerns) == 0, len(b.Concerns) == 0; clearA != clearB {
		if clearA {
			return -1
		}
		return 1
	}
	if c := b.Taken.Compare(a.Taken); c != 0 {
		return c
	}
	return strings.Compare(a.Photo, b.Photo)
}
