package report

import (
	"fmt"
	"html/template"
	"image"
	"runtime"
	"slices"
	"strconv"
	"sync"

	"traygauge/measure"
)

// showing holds the page's pictures.
type showing struct {
	size  CropSize
	plugs map[plugKey]shownCrops
	whole map[string]wholePicture // overlays by photo
	lost  []string
}

type plugKey struct{ photo, plug string }

type shownCrops struct{ plain, counted template.URL }

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

// cropSizeFor sizes the square around a plug: a quarter wider than the plugs are apart, so that leaves are in it, and as fine as so many
// pictures may be.
func cropSizeFor(t *Trial, pictures int) CropSize {
	size := CropSize{SideMM: 1.25 * t.Plan.Tray.PitchMM, SidePx: 120, Quality: 80}
	if !(size.SideMM > 0) {
		size.SideMM = 60
	}
	for _, px := range []int{256, 216, 180, 144} {
		if float64(pictures)*float64(px*px)*bytesPerPx <= cropBytes {
			size.SidePx = px
			break
		}
	}
	return size
}

// newShowing makes the pictures that the page needs: the typical plugs, and all overlays of the day that is answered for.
func newShowing(p Page) *showing {
	s := &showing{plugs: map[plugKey]shownCrops{}, whole: map[string]wholePicture{}}
	day := p.Compared.LastDay
	var plugs []PlugRow
	for _, treatment := range p.Trial.Plan.Treatments {
		for _, view := range seenViews {
			plugs = append(plugs, p.Trial.typicalOf(treatment.Name, view, day, mostTypical(p.Trial))...)
		}
	}
	s.size = cropSizeFor(p.Trial, 2*len(plugs))
	if p.Dir == "" {
		return s
	}
	for i, file := range Crops(p.Dir, plugs, s.size) {
		if file == nil {
			s.lost = append(s.lost, fmt.Sprintf("plug %s of %s is not shown on the page: the photo is gone or is not the one measured", plugs[i].Name, measure.Shown(plugs[i].File())))
		}
		s.plugs[plugKey{plugs[i].Photo, plugs[i].Name}] = shownCrops{plain: jpegURI(file)}
	}
	s.overlays(p, plugs, day)
	return s
}

// overlays reduces the day's overlays and cuts the plugs out of them.
func (s *showing) overlays(p Page, plugs []PlugRow, day int) {
	photos := map[string]image.Point{} // sizes
	for _, r := range p.Readings {
		photos[r.Photo] = image.Pt(r.WidthPx, r.HeightPx)
	}
	var rows []TrayRow
	for _, r := range p.Trial.Trays {
		if r.Day == day && !r.Taken.IsZero() {
			rows = append(rows, r)
		}
	}
	next := make(chan TrayRow)
	var wg sync.WaitGroup
	var mu sync.Mutex
	for range min(2, runtime.NumCPU(), len(rows)) {
		wg.Go(func() {
			for r := range next {
				s.overlay(&mu, p.Dir, r, plugs, photos[r.Photo], wholeBytes/len(rows))
			}
		})
	}
	for _, r := range rows {
		next <- r
	}
	close(next)
	wg.Wait()
	slices.Sort(s.lost)
}

// overlay makes the pictures that come from one photo's overlay; photo is the photo's size, most what the whole may take.
func (s *showing) overlay(mu *sync.Mutex, dir string, r TrayRow, plugs []PlugRow, photo image.Point, most int) {
	drawn, err := openOverlay(dir, r.File())
	if err != nil {
		mu.Lock()
		defer mu.Unlock()
		s.lost = append(s.lost, fmt.Sprintf("the overlay of %s is not on the page: %v", measure.Shown(r.File()), err))
		return
	}
	defer drawn.Close()
	file, size := reduced(pictureOf(drawn), most)
	counted := map[plugKey]template.URL{}
	for _, plug := range plugs {
		if plug.Photo == r.Photo && plug.Place != nil && photo.X > 0 {
			cut := crop(drawn, onOverlay(*plug.Place, photo), plug.View, s.size)
			counted[plugKey{plug.Photo, plug.Name}] = jpegURI(encoded(cut, s.size.Quality))
		}
	}
	mu.Lock()
	defer mu.Unlock()
	s.whole[r.Photo] = wholePicture{jpegURI(file), size.X, size.Y}
	for key, uri := range counted {
		c := s.plugs[key]
		c.counted = uri
		s.plugs[key] = c
	}
}

// mostTypical is fewer where many treatments are shown.
func mostTypical(t *Trial) int {
	if len(t.Plan.Treatments) > 12 {
		return typicalMost / 2
	}
	return typicalMost
}

// strip shows a treatment's typical plugs in one view.
type strip struct {
	Treatment, View, Quantity string
	Note                      string
	Plugs                     []shownPlug
	side                      string // "roots" or "shoots"
}

type shownPlug struct {
	Tray                         int
	Name, Value, Median, Alt, ID string
	Plain, Counted               template.URL
	Side                         int
}

func strips(p Page, s *showing, day int) []strip {
	var all []strip
	for _, treatment := range p.Trial.Plan.Treatments {
		for _, view := range seenViews {
			st := strip{Treatment: treatment.Name, View: view.words, Quantity: view.quantity, side: view.view}
			var trays []int
			for _, plug := range p.Trial.typicalOf(treatment.Name, view, day, mostTypical(p.Trial)) {
				c := s.plugs[plugKey{plug.Photo, plug.Name}]
				value, median := plugValue(plug, view), withU(medianOf(p.Trial, plug.Shot, view), measure.Missing)
				st.Plugs = append(st.Plugs, shownPlug{Tray: plug.Tray, Name: plug.Name, Value: value, Median: median, ID: trayID(plug.Tray, day, view.view),
					Plain: c.plain, Counted: c.counted, Side: s.size.SidePx,
					Alt: fmt.Sprintf("Plug %s of tray %d, %s, day %d: %s %s mm², the tray's median is %s mm²", plug.Name, plug.Tray, view.words, day, view.quantity, value, median)})
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

// plugValue is a plug's area in mm² with its error bar.
func plugValue(p PlugRow, view seen) string {
	return withU(sizeOf(p), view.u(p))
}

func medianOf(t *Trial, s Shot, view seen) measure.Number {
	for _, r := range t.Trays {
		if r.Photo == s.Photo && r.View == s.View {
			return view.median(r)
		}
	}
	return measure.Missing
}

// scaleBar returns a round length that takes about a third of a picture, and how much of it it takes.
func scaleBar(size CropSize) (mm int, pct string) {
	mm = 1
	for _, round := range []int{2, 5, 10, 20, 50, 100} {
		if float64(round) <= size.SideMM/2.5 {
			mm = round
		}
	}
	return mm, strconv.FormatFloat(100*float64(mm)/size.SideMM, 'f', 2, 64)
}
