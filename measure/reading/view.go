package reading

// View is the side of a tray that a photo shows, named as the card's face is that was up.
type View string

// The views; "" where no card was found.
const (
	Roots  View = "roots"
	Shoots View = "shoots"
)

// Views are both, in the order in which they are asked for.
var Views = []View{Roots, Shoots}

// Words says what is seen: the roots from below or the leaves from above; "" for neither.
func (v View) Words() string {
	if v == Shoots {
		return "leaves"
	}
	return string(v)
}

// Source says where a reading's tray, time or zone comes from.
type Source string

// The sources. FromHand: someone assigned it.
const (
	FromTag   Source = "tag"
	FromName  Source = "name" // the file's or a folder's
	FromPhoto Source = "photo"
	FromFile  Source = "file"
	FromPlan  Source = "plan"
	FromHand  Source = "hand"
)
