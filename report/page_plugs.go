package report

import (
	"errors"
	"fmt"
	"html/template"
	"image"
	"slices"
	"strconv"

	"traygauge/measure"
)

// showing makes the page's pictures: each photo is opened once, whatever is shown of it.
type showing struct {
	from      Pictures
	window    window
	wholeMost int            // bytes that a whole overlay may take
	places    map[string]int // by view, photos so far
	crops     map[cropKey]crops
	whole     map[string]wholePicture
	lost      []string
}

type cropKey struct{ photo, plug string }

type crops struct{ plain, counted template.URL }

type wholePicture struct {
	URI  template.URL
	W, H int
}

// What a page may weigh, in bytes of text: some 15 MB in all, so that it can be mailed and opened on a phone.
const (
	wholeBytes = 7 << 20
	cropBytes  = 6 << 20
	// bytesPerPx is what a plug's picture takes, measured on the demonstration's crops at JPEG quality 80, with base64's four thirds.
	bytesPerPx = 0.45
)

// typicalMost is how many plugs a treatment shows in a view.
const typicalMost = 6

// windowOf sizes the window around a plug: a quarter wider than the plugs are apart, so that leaves are in it, and as fine as so many
// pictures may be.
func windowOf(t *Trial, pictures int) window {
	w := window{sideMM: 1.25 * t.Plan.Tray.PitchMM, sidePx: 120}
	if !(w.sideMM > 0) {
		w.sideMM = 60
	}
	for _, px := range []int{256, 216, 180, 144} {
		if float64(pictures)*float64(px*px)*bytesPerPx <= cropBytes {
			w.sidePx = px
			break
		}
	}
	return w
}

// newShowing opens what the page needs: the photos of the typical plugs, and all overlays of the day that is answered for.
func newShowing(p Page) *showing {
	s := &showing{from: p.Pictures, crops: map[cropKey]crops{}, whole: map[string]wholePicture{}}
	day := p.Compared.LastDay
	var wanted []PlugRow
	for _, treatment := range p.Trial.Plan.Treatments {
		for _, q := range seenQuantities {
			wanted = append(wanted, TypicalPlugs(p.Trial, treatment.Name, q.view, day, mostTypical(p.Trial))...)
		}
	}
	s.window = windowOf(p.Trial, 2*len(wanted))
	var photos []string
	for _, r := range p.Trial.Trays {
		if r.Day == day && !r.Taken.IsZero() {
			photos = append(photos, r.Photo)
		}
	}
	s.wholeMost = wholeBytes / max(len(photos), 1)
	for _, photo := range photos {
		var plugs []PlugRow
		for _, w := range wanted {
			if w.Photo == photo && w.Place != nil {
				plugs = append(plugs, w)
			}
		}
		s.show(photo, plugs)
	}
	return s
}

// mostTypical is fewer where many treatments are shown.
func mostTypical(t *Trial) int {
	if len(t.Plan.Treatments) > 12 {
		return typicalMost / 2
	}
	return typicalMost
}

// show cuts the plugs out of a photo and of its overlay, and reduces the overlay.
func (s *showing) show(photo string, plugs []PlugRow) {
	var plain, drawn image.Image
	var err error
	if len(plugs) > 0 {
		if plain, err = open(s.from.Photo, photo); err != nil {
			s.lose("photo", photo, err)
		}
	}
	if drawn, err = open(s.from.Overlay, photo); err != nil {
		s.lose("overlay", photo, err)
	}
	if drawn != nil {
		uri, size, err := reducedURI(drawn, s.wholeMost)
		if err != nil {
			s.lose("overlay", photo, err)
		} else {
			s.whole[photo] = wholePicture{template.URL(uri), size.X, size.Y}
		}
	}
	if plain == nil {
		return
	}
	plain = safeToRead(plain)
	if drawn != nil {
		drawn = safeToRead(drawn)
	}
	for _, p := range plugs {
		var c crops
		c.plain = s.cut(photo, plain, *p.Place, 1, 0)
		if drawn != nil {
			scale, down := overlayScale(plain.Bounds())
			c.counted = s.cut(photo, drawn, *p.Place, scale, down)
		}
		s.crops[cropKey{photo, p.Name}] = c
	}
}

func (s *showing) cut(photo string, from image.Image, at measure.Place, scale float64, down int) template.URL {
	uri, err := dataURI(s.window.cut(from, at, scale, down), 80)
	if err != nil {
		s.lose("photo", photo, err)
	}
	return template.URL(uri)
}

func (s *showing) lose(what, photo string, err error) {
	if !errors.Is(err, errNoPictures) {
		s.lost = append(s.lost, fmt.Sprintf("%s of %s is not shown on the page: %v", what, measure.Shown(photo), err))
	}
}

var errNoPictures = errors.New("no pictures were asked for")

func open(by func(string) (image.Image, error), photo string) (image.Image, error) {
	if by == nil {
		return nil, errNoPictures
	}
	return by(photo)
}

// strip shows a treatment's typical plugs in one view.
type strip struct {
	Treatment, View, Quantity string
	Note                      string
	Plugs                     []shownPlug
}

type shownPlug struct {
	Tray                         int
	Name, Value, Median, Alt, ID string
	Plain, Counted               template.URL
	Side                         int
}

var viewWords = map[string]string{"roots": "plug bottoms, from below", "shoots": "leaves, from above"}

func strips(p Page, s *showing, day int) []strip {
	var all []strip
	for _, treatment := range p.Trial.Plan.Treatments {
		for _, q := range seenQuantities {
			st := strip{Treatment: treatment.Name, View: viewWords[q.view], Quantity: q.quantity}
			var trays []int
			for _, plug := range TypicalPlugs(p.Trial, treatment.Name, q.view, day, mostTypical(p.Trial)) {
				c := s.crops[cropKey{plug.Photo, plug.Name}]
				value, median := plugValue(plug, q), digits(medianOf(p.Trial, plug.Shot, q), areaDecimals)
				st.Plugs = append(st.Plugs, shownPlug{Tray: plug.Tray, Name: plug.Name, Value: value, Median: median, ID: trayID(plug.Tray, day, q.view),
					Plain: c.plain, Counted: c.counted, Side: s.window.sidePx,
					Alt: fmt.Sprintf("Plug %s of tray %d, %s, day %d: %s %s, the tray's median is %s mm²", plug.Name, plug.Tray, viewWords[q.view], day, q.quantity, value, median)})
				if !slices.Contains(trays, plug.Tray) {
					trays = append(trays, plug.Tray)
				}
			}
			if len(st.Plugs) == 0 {
				continue
			}
			if n := len(traysOf(p.Trial.Plan, treatment.Name)); n > len(trays) {
				st.Note = fmt.Sprintf("%d of %d trays", len(trays), n)
			}
			all = append(all, st)
		}
	}
	return all
}

// plugValue is a plug's area with its error bar, as in plugs.csv.
func plugValue(p PlugRow, q seen) string {
	u := p.RootAreaUMM2
	if q.view == "shoots" {
		u = p.LeafAreaUMM2
	}
	words := digits(q.of(p), areaDecimals) + " mm²"
	if u.Known() {
		words = digits(q.of(p), areaDecimals) + " ± " + digits(u, areaDecimals) + " mm²"
	}
	return words
}

func medianOf(t *Trial, s Shot, q seen) measure.Number {
	for _, r := range t.Trays {
		if r.Photo == s.Photo && r.View == s.View {
			return q.median(r)
		}
	}
	return measure.Missing
}

// scaleBar returns a round length that takes about a third of a window, and how much of it it takes.
func scaleBar(w window) (mm int, pct string) {
	mm = 1
	for _, round := range []int{2, 5, 10, 20, 50, 100} {
		if float64(round) <= w.sideMM/2.5 {
			mm = round
		}
	}
	return mm, strconv.FormatFloat(100*float64(mm)/w.sideMM, 'f', 2, 64)
}
