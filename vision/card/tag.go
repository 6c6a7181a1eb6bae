package card

import "fmt"

// Sizes of a tray tag.
const (
	TagWidth      = 50.0
	TagHeight     = 30.0
	tagMarkerSide = 18.0

	firstTagID = 10
	// MostTrays is the highest tray number that has a tag: the dictionary ends at 249.
	MostTrays = 240
)

// TagMarker is where the tag's marker is, from the tag's top-left corner.
var TagMarker = box(Pt{6, 6}, tagMarkerSide, tagMarkerSide)

// TagID returns the marker number on the tag of a tray, 1 to MostTrays.
func TagID(tray int) (int, error) {
	if tray < 1 || tray > MostTrays {
		return 0, fmt.Errorf("tray %d has no tag: tags exist for 1 to %d", tray, MostTrays)
	}
	return firstTagID - 1 + tray, nil
}

// TrayOfMarker returns the tray whose tag carries marker id.
func TrayOfMarker(id int) (tray int, ok bool) {
	tray = id - firstTagID + 1
	return tray, tray >= 1 && tray <= MostTrays
}
