package plugs

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
)

// Folder is the folder beside the page that holds the pictures of what was counted.
const Folder = "page-pictures"

// Picture is a file in Folder.
type Picture struct {
	Name string
	JPEG []byte
}

// Pictures holds the page's pictures: those in it, and those beside it, which are asked for when someone opens them.
type Pictures struct {
	Size    report.CropSize // of those in the page
	Beside  []Picture
	Typical []Strip  // by treatment and side
	Lost    []string // what is not shown, and why
	inside  map[plugKey][]byte
	plugs   map[plugKey]shownCrops
	whole   map[string]Whole // overlays by photo
}

type plugKey struct{ photo, plug string }

// shownCrops are links to a plug's pictures, "" for none.
type shownCrops struct{ plain, counted string }

// Whole is the picture of a photo's overlay; its link is "" for none.
type Whole struct {
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

// CropSize sizes the square around a plug: a quarter wider than the plugs are apart, so that leaves are in it, and as fine as so many
// pictures may be in insideBytes.
func CropSize(t *report.Trial, pictures int) report.CropSize {
	size := report.CropSize{SideMM: 1.25 * t.Plan.Tray.PitchMM, SidePx: 120, Quality: insideQuality}
	if !(size.SideMM > 0) {
		size.SideMM = 60
	}
	for _, px := range []int{288, 256, 216, 180, 144} {
		if float64(pictures)*float64(px*px)*bytesPerPx <= insideBytes {
			size.SidePx = px
			break
		}
	}
	return size
}

// Strip is a treatment's typical plugs on one side.
type Strip struct {
	Treatment string
	Side      Side
	Plugs     []report.PlugRow
}

// In returns the picture of a plug that is in the page; nil for none.
func (s *Pictures) In(p report.PlugRow) []byte { return s.inside[plugKey{p.Photo, p.Name}] }

// Links returns the links to a plug's pictures beside the page, without and with what was counted; "" for none.
func (s *Pictures) Links(p report.PlugRow) (plain, counted string) {
	c := s.plugs[plugKey{p.Photo, p.Name}]
	return c.plain, c.counted
}

// Overlay returns the picture of a photo's overlay beside the page.
func (s *Pictures) Overlay(photo string) Whole { return s.whole[photo] }

// PhotoID names a tray's photo of a day, in links and in the names of pictures.
func PhotoID(tray, day int, view reading.View) string {
	return fmt.Sprintf("t%d-d%d-%s", tray, day, view)
}

// Take makes the pictures that the page needs: the plugs that are followed over the days, in it; beside it typical plugs, and all
// overlays of a day.
func Take(t *report.Trial, readings []reading.Reading, dir string, day int, stand []Followed) *Pictures {
	s := &Pictures{inside: map[plugKey][]byte{}, plugs: map[plugKey]shownCrops{}, whole: map[string]Whole{}}
	var typical, both []report.PlugRow
	for _, treatment := range t.Plan.Treatments {
		for _, side := range sides {
			plugs := Typical(t, treatment.Name, side, day, mostTypical(t))
			typical, s.Typical = append(typical, plugs...), append(s.Typical, Strip{treatment.Name, side, plugs})
		}
	}
	for _, f := range stand {
		for _, plug := range f.At {
			both = append(both, plug)
		}
	}
	s.Size = CropSize(t, len(both))
	if dir == "" {
		return s
	}
	slices.SortFunc(both, report.ComparePlugs)
	n := len(both)
	both = append(both, typical...)
	names := map[string]bool{}
	for i, file := range report.Crops(dir, both, s.Size) {
		plug := both[i]
		switch key := (plugKey{plug.Photo, plug.Name}); {
		case file == nil:
			s.Lost = append(s.Lost, fmt.Sprintf("plug %s of %s is not shown on the page: its photo is missing or has been replaced", plug.Name, wording.Shown(plug.File())))
		case i < n:
			s.inside[key] = file
		case !names[cropName(plug)]:
			names[cropName(plug)] = true
			s.plugs[key] = shownCrops{plain: s.lay(cropName(plug)+".jpg", file)}
		}
	}
	s.overlays(t, readings, dir, typical, day)
	slices.SortFunc(s.Beside, func(a, b Picture) int { return strings.Compare(a.Name, b.Name) })
	slices.Sort(s.Lost)
	s.Lost = slices.Compact(s.Lost)
	return s
}

// lay puts a picture beside the page and returns the link to it, "" for none.
func (s *Pictures) lay(name string, file []byte) string {
	if len(file) == 0 {
		return ""
	}
	s.Beside = append(s.Beside, Picture{name, file})
	return Folder + "/" + name
}

// cropName names a plug's picture by what it shows.
func cropName(p report.PlugRow) string {
	return fmt.Sprintf("%s-%s", PhotoID(p.Tray, p.Day, p.View), p.Name)
}

// overlays reduces the day's overlays and cuts the plugs out of them.
func (s *Pictures) overlays(t *report.Trial, readings []reading.Reading, dir string, plugs []report.PlugRow, day int) {
	photos := map[string]image.Point{} // sizes
	for _, r := range readings {
		photos[r.Photo] = image.Pt(r.WidthPx, r.HeightPx)
	}
	var rows []report.TrayRow
	for _, r := range t.Trays {
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
				s.overlay(&mu, dir, r, plugs, photos[r.Photo], wholeBytes/len(rows))
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
func (s *Pictures) overlay(mu *sync.Mutex, dir string, r report.TrayRow, plugs []report.PlugRow, photo image.Point, most int) {
	drawn, err := openOverlay(dir, r.File())
	if err != nil {
		mu.Lock()
		defer mu.Unlock()
		s.Lost = append(s.Lost, fmt.Sprintf("the overlay of %s is not on the page: %v", wording.Shown(r.File()), err))
		return
	}
	defer drawn.Close()
	file, size := reduced(drawn.RGBA(), most)
	counted := map[plugKey]Picture{}
	for _, plug := range plugs {
		if plug.Photo == r.Photo && plug.Place != nil && photo.X > 0 {
			cut := report.Crop(drawn, overlay.PlugOn(*plug.Place, photo), plug.View, s.Size)
			counted[plugKey{plug.Photo, plug.Name}] = Picture{cropName(plug) + "-counted.jpg", encoded(cut, s.Size.Quality)}
		}
	}
	mu.Lock()
	defer mu.Unlock()
	s.whole[r.Photo] = Whole{s.lay(PhotoID(r.Tray, r.Day, r.View)+".jpg", file), size.X, size.Y}
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

// ScaleBar returns a round length that takes about a third of a picture, and how much of it it takes.
func ScaleBar(size report.CropSize) (mm int, pct string) {
	mm = 1
	for _, round := range []int{2, 5, 10, 20, 50, 100} {
		if float64(round) <= size.SideMM/2.5 {
			mm = round
		}
	}
	return mm, strconv.FormatFloat(100*float64(mm)/size.SideMM, 'f', 2, 64)
}
