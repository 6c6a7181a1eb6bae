package serve

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"io"
	"log"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/report/serve/link"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// feedingTrial is a trial of eight small trays, on a day for feeding and for photographs. Odd trays get base feed.
var feedingTrial = func() string {
	text := `title: Small kale
crop: kale
sown: 2026-03-02
zone: Europe/Lisbon
tray: {rows: 2, columns: 3, length_mm: 180, width_mm: 130, pitch_mm: 50, first_plug_mm: [40, 40], plug_bottom_mm: 34, leaf_height_mm: 0}
card: {rule_mm: 100, rule_u_mm: 0.2}
treatments:
  water only:
    gets: []
  base feed:
    gets:
      - {product: base feed, dose: 7.5 mL/gal, from_day: 7}
    compare_with: water only
trays:
`
	for tray := 1; tray <= 8; tray++ {
		text += fmt.Sprintf("  - {tray: %d, treatment: %s, position: %d}\n", tray, []string{"water only", "base feed"}[tray%2], 9-tray)
	}
	return text + "volume_ml_per_tray: 1500\nfeeding_days: [3, 7, 10]\nreview_days: [3, 10]\n"
}()

// today is day 10 of feedingTrial, in the morning.
func today() time.Time { return time.Date(2026, 3, 12, 9, 40, 0, 0, time.UTC) }

// ticking is a clock that begins at today and goes on, for pages that take the time of what is done on them.
func ticking() func() time.Time {
	begun := time.Now()
	return func() time.Time { return today().Add(time.Since(begun)) }
}

// trialWith makes a trial's folder with a plan.
func trialWith(t *testing.T, text string) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, plan.FileName), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return dir
}

// smallSpec lays a scene of a tray of feedingTrial: a plant and a plug in each cell but B3, which is empty. It is small enough that many are
// drawn quickly.
func smallSpec(face card.Face, tray int) synth.Spec {
	s := synth.Defaults(face)
	s.Number = tray
	s.Tray = synth.Tray{Rows: 2, Columns: 3, LengthMM: 180, WidthMM: 130, PitchMM: 50, FirstU: 40, FirstV: 40, PlugBottomMM: 34}
	s.Camera.HeightMM = 250
	s.Resize(1120, 840)
	s.Light.BlurPX = 0.5
	s.Seed, s.Photo = uint64(tray), uint64(tray)
	s.Plants = map[string]synth.Plant{}
	for _, name := range s.Tray.Cells() {
		if name != "B3" {
			s.Plants[name] = synth.Plant{Plug: true, Leaves: 4, LeafLengthMM: 14, RootLengthMM: 150}
		}
	}
	return s
}

var drawn sync.Map // pictures that several tests look at, by their specification

// picture draws a scene.
func picture(t *testing.T, s synth.Spec) *image.NRGBA {
	t.Helper()
	type result struct {
		img *image.NRGBA
		err error
	}
	once, _ := drawn.LoadOrStore(fmt.Sprintf("%+v", s), sync.OnceValue(func() (r result) {
		r.img, _, r.err = synth.Draw(s)
		return r
	}))
	r := once.(func() result)()
	if r.err != nil {
		t.Fatal(r.err)
	}
	return r.img
}

// taken writes a picture as a phone does that took it at the given time.
func taken(t *testing.T, path string, img *image.NRGBA, at time.Time) {
	t.Helper()
	if err := synth.WriteJPEG(path, img, 92, synth.EXIF{Taken: at, WithZone: true, Focal35: 26}); err != nil {
		t.Fatal(err)
	}
}

// photoOf returns the bytes of a photo of a tray, taken today.
func photoOf(t *testing.T, face card.Face, tray int) []byte {
	t.Helper()
	return shot(t, smallSpec(face, tray), today().Add(-10*time.Minute))
}

// running is a server at work on a trial, at an address of this computer.
type running struct {
	t    *testing.T
	dir  string
	o    Options
	port int
	tls  *link.Authority // nil: the link is plain

	mu     sync.Mutex
	server *Server
	http   []*http.Server
	link   weakLink
}

// serveTrial serves a trial until the test ends. change, if not nil, has a last word on the options.
func serveTrial(t *testing.T, dir string, change func(*Options)) *running {
	t.Helper()
	o := Options{Dir: dir, Version: "test", Now: today, Program: *program}
	if change != nil {
		change(&o)
	}
	r := &running{t: t, dir: dir, o: o}
	if o.OwnAuthority {
		var err error
		if r.tls, _, err = link.OpenAuthority(t.TempDir(), testHosts); err != nil {
			t.Fatal(err)
		}
	}
	r.start()
	t.Cleanup(r.stop)
	return r
}

// program lets the pages show what the program draws, for pictures of them.
var program = flag.String("program", "", "traygauge, built: photos are measured by it, as the serve command does")

// start begins to serve, on the port that was used before.
func (r *running) start() {
	r.t.Helper()
	listener, err := net.Listen("tcp", fmt.Sprintf("127.0.0.1:%d", r.port))
	if err != nil {
		r.t.Fatal(err)
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.port = listener.Addr().(*net.TCPAddr).Port
	r.server = New(r.o)
	pages := &http.Server{Handler: r.link.around(r.server.Handler()), ErrorLog: log.New(io.Discard, "", 0)}
	r.http = []*http.Server{pages}
	if r.tls == nil {
		go pages.Serve(listener)
		return
	}
	encrypted, plain := link.Split(listener)
	pages.TLSConfig = r.tls.Config(testHosts)
	trust := &http.Server{Handler: link.PlainHandler(r.tls, pages.Handler)}
	r.http = append(r.http, trust)
	go pages.ServeTLS(encrypted, "", "")
	go trust.Serve(plain)
}

// testHosts are what the certificates of tests are good for.
var testHosts = []string{lanNumber, "127.0.0.1", "localhost"}

// stop ends the program as a crash would: connections break off.
func (r *running) stop() {
	r.mu.Lock()
	defer r.mu.Unlock()
	for _, s := range r.http {
		s.Close()
	}
	r.server.Close()
}

func (r *running) restart() {
	r.t.Helper()
	r.stop()
	http.DefaultClient.CloseIdleConnections() // a client may learn that the old program's are gone only while it sends
	r.start()
}

// url is the server's address as this computer calls it; lanURL as a phone on the local network does. Tests' browsers are set so that the
// number is this computer.
func (r *running) url() string    { return fmt.Sprintf("%s://127.0.0.1:%d", r.scheme(), r.port) }
func (r *running) lanURL() string { return fmt.Sprintf("%s://%s:%d", r.scheme(), lanNumber, r.port) }

func (r *running) scheme() string {
	if r.tls != nil {
		return "https"
	}
	return "http"
}

const lanNumber = "192.168.77.7"

// photosIn lists the files below photos/, hidden ones too.
func photosIn(t *testing.T, dir string) (names []string) {
	t.Helper()
	root := filepath.Join(dir, "photos")
	err := filepath.WalkDir(root, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			below, _ := filepath.Rel(root, path)
			names = append(names, filepath.ToSlash(below))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// logOf returns the log's text, "" where there is none.
func logOf(t *testing.T, dir string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(dir, logbook.FileName))
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	return strings.TrimPrefix(string(bytes.TrimSpace(text)), logbook.Header+"\n")
}
