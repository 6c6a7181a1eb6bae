package html

import (
	"fmt"
	"image"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"sync"

	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report"
	"traygauge/report/overlay"
	"traygauge/report/table"
)

// PicturesFolder is the folder beside the page that holds the pictures of what was counted.
const PicturesFolder = "page-pictures"

// PagePicture is a file in PicturesFolder.
type PagePicture struct {
	Name string
	JPEG []byte
}

// showing holds the page's pictures: those in it, and those beside it, which are asked for when somebody opens them.
type showing struct {
	size   report.CropSize // of those in the page
	inside map[plugKey][]byte
	beside []PagePicture
	plugs  map[plugKey]shownCrops
	whole  map[string]wholePicture // overlays by photo
	lost   []string
}

type plugKey struct{ photo, plug string }

// shownCrops are links to a plug's pictures, "" for none.
type shownCrops struct{ plain, counted string }

type wholePicture struct {
	Link string
	W, H int
}

// What a page may weigh: the pictures in it, in bytes of text, so that it opens on a phone, and those beside it.
const (
	insideBytes = 500 << 10
	wholeBytes  = 5 << 20
	// bytesPerPx is what a plug's picture takes with base64's four thirds: twice what the demonstration's crops take at insideQuality, for real
	// plants have more to show.
	bytesPerPx    = 0.25
	insideQuality = 80
)

// typicalMost is how many plugs a treatment shows in a view.
const typicalMost = 6

// cropSizeFor sizes the square around a plug: a quarter wider than the plugs are apart, so that leaves are in it, and as fine as so many
// pictures may be in so many bytes.
func cropSizeFor(t *report.Trial, pictures, most int) report.CropSize {
	size := report.CropSize{SideMM: 1.25 * t.Plan.Tray.PitchMM, SidePx: 120, Quality: insideQuality}
	if !(size.SideMM > 0) {
		size.SideMM = 60
	}
	for _, px := range []int{288, 256, 216, 180, 144} {
		if float64(pictures)*float64(px*px)*bytesPerPx <= float64(most) {
			size.SidePx = px
			break
		}
	}
	return size
}

// newShowing makes the pictures that the page needs: the plugs that are followed over the days, in it; beside it typical plugs, and all
// overlays of the last review.
func newShowing(p Page, stand []followed) *showing {
	s := &showing{inside: map[plugKey][]byte{}, plugs: map[plugKey]shownCrops{}, whole: map[string]wholePicture{}}
	day := p.Compared.LastDay
	var typical, both []report.PlugRow
	for _, treatment := range p.Trial.Plan.Treatments {
		for _, view := range seenViews {
			typical = append(typical, typicalOf(p.Trial, treatment.Name, view, day, mostTypical(p.Trial))...)
		}
	}
	for _, f := range stand {
		for _, plug := range f.at {
			both = append(both, plug)
		}
	}
	s.size = cropSizeFor(p.Trial, len(both), insideBytes)
	if p.Dir == "" {
		return s
	}
	slices.SortFunc(both, report.ComparePlugs)
	n := len(both)
	both = append(both, typical...)
	names := map[string]bool{}
	for i, file := range report.Crops(p.Dir, both, s.size) {
		plug := both[i]
		switch key := (plugKey{plug.Photo, plug.Name}); {
		case file == nil:
			s.lost = append(s.lost, fmt.Sprintf("plug %s of %s is not shown on the page: the photo is gone or is not the one measured", plug.Name, wording.Shown(plug.File())))
		case i < n:
			s.inside[key] = file
		case !names[cropName(plug)]:
			names[cropName(plug)] = true
			s.plugs[key] = shownCrops{plain: s.lay(cropName(plug)+".jpg", file)}
		}
	}
	s.overlays(p, typical, day)
	slices.SortFunc(s.beside, func(a, b PagePicture) int { return strings.Compare(a.Name, b.Name) })
	slices.Sort(s.lost)
	s.lost = slices.Compact(s.lost)
	return s
}

// lay puts a picture beside the page and returns the link to it, "" for none.
func (s *showing) lay(name string, file []byte) string {
	if len(file) == 0 {
		return ""
	}
	s.beside = append(s.beside, PagePicture{name, file})
	return PicturesFolder + "/" + name
}

// cropName names a plug's picture by what it shows.
func cropName(p report.PlugRow) string {
	return fmt.Sprintf("%s-%s", trayID(p.Tray, p.Day, p.View), p.Name)
}

// overlays reduces the day's overlays and cuts the plugs out of them.
func (s *showing) overlays(p Page, plugs []report.PlugRow, day int) {
	photos := map[string]image.Point{} // sizes
	for _, r := range p.Readings {
		photos[r.Photo] = image.Pt(r.WidthPx, r.HeightPx)
	}
	var rows []report.TrayRow
	for _, r := range p.Trial.Trays {
		if r.Day == day && !r.Taken.IsZero() {
			rows = append(rows, r)
		}
	}
	next := make(chan report.TrayRow)
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
}

// overlay makes the pictures that come from one photo's overlay; photo is the photo's size, most what the whole may take.
func (s *showing) overlay(mu *sync.Mutex, dir string, r report.TrayRow, plugs []report.PlugRow, photo image.Point, most int) {
	drawn, err := openOverlay(dir, r.File())
	if err != nil {
		mu.Lock()
		defer mu.Unlock()
		s.lost = append(s.lost, fmt.Sprintf("the overlay of %s is not on the page: %v", wording.Shown(r.File()), err))
		return
	}
	defer drawn.Close()
	file, size := reduced(pictureOf(drawn), most)
	counted := map[plugKey]PagePicture{}
	for _, plug := range plugs {
		if plug.Photo == r.Photo && plug.Place != nil && photo.X > 0 {
			cut := report.Crop(drawn, overlay.PlugOn(*plug.Place, photo), plug.View, s.size)
			counted[plugKey{plug.Photo, plug.Name}] = PagePicture{cropName(plug) + "-counted.jpg", encoded(cut, s.size.Quality)}
		}
	}
	mu.Lock()
	defer mu.Unlock()
	s.whole[r.Photo] = wholePicture{s.lay(trayID(r.Tray, r.Day, r.View)+".jpg", file), size.X, size.Y}
	for key, picture := range counted {
		c := s.plugs[key]
		c.counted = s.lay(picture.Name, picture.JPEG)
		s.plugs[key] = c
	}
}

// mostTypical is fewer where many treatments are shown.
func mostTypical(t *report.Trial) int {
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
	side                      reading.View
}

type shownPlug struct {
	Tray                         int
	Name, Value, Median, Alt, ID string
	Plain, Counted               string
	Side                         int
}

func strips(p Page, s *showing, day int) []strip {
	var all []strip
	for _, treatment := range p.Trial.Plan.Treatments {
		for _, view := range seenViews {
			st := strip{Treatment: treatment.Name, View: view.words, Quantity: view.quantity, side: view.view}
			var trays []int
			for _, plug := range typicalOf(p.Trial, treatment.Name, view, day, mostTypical(p.Trial)) {
				c := s.plugs[plugKey{plug.Photo, plug.Name}]
				value, median := plugValue(plug, view), table.WithU(medianOf(p.Trial, plug.Shot, view), reading.Missing)
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
			if n := len(p.Trial.Plan.TraysOf(treatment.Name)); n > len(trays) {
				st.Note = fmt.Sprintf("%d of %d trays", len(trays), n)
			}
			all = append(all, st)
		}
	}
	return all
}

// plugValue is a plug's area in mm² with its error bar.
func plugValue(p report.PlugRow, view seen) string {
	return table.WithU(report.SizeOf(p), view.u(p))
}

func medianOf(t *report.Trial, s report.Shot, view seen) reading.Number {
	for _, r := range t.Trays {
		if r.Photo == s.Photo && r.View == s.View {
			return view.median(r)
		}
	}
	return reading.Missing
}

// scaleBar returns a round length that takes about a third of a picture, and how much of it it takes.
func scaleBar(size report.CropSize) (mm int, pct string) {
	mm = 1
	for _, round := range []int{2, 5, 10, 20, 50, 100} {
		if float64(round) <= size.SideMM/2.5 {
			mm = round
		}
	}
	return mm, strconv.FormatFloat(100*float64(mm)/size.SideMM, 'f', 2, 64)
}
