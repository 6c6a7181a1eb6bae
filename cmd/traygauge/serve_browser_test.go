package main

import (
	"context"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"flag"
	"fmt"
	"io"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/disintegration/imaging"

	"traygauge/measure/plan"
	"traygauge/vision/card"
	"traygauge/vision/scene"
)

var serveShots = flag.String("serve-shots", "", "folder for pictures of the pages that serve shows")

// browser drives one tab of Chromium. What a page's scripts complain of fails the test.
type browser struct {
	t   *testing.T
	ctx context.Context
}

// newBrowser starts Chromium; without it the test is skipped.
func newBrowser(t *testing.T) browser {
	t.Helper()
	program := ""
	for _, name := range []string{"chromium", "chromium-browser"} {
		if found, err := exec.LookPath(name); err == nil {
			program = found
			break
		}
	}
	if program == "" {
		t.Skip("Chromium is not installed (Debian: chromium): the pages are not tried in a browser")
	}
	ctx, stop := chromedp.NewExecAllocator(context.Background(),
		append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(program), chromedp.NoSandbox, chromedp.DisableGPU)...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
	t.Cleanup(stop)
	if err := chromedp.Listen(ctx, func(event any) {
		if e, ok := event.(*runtime.EventExceptionThrown); ok {
			t.Errorf("a script failed: %+v", e.ExceptionDetails)
		}
	}); err != nil {
		t.Fatal(err)
	}
	return browser{t, ctx}
}

func (b browser) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, 40*time.Second)
	defer stop()
	if err := chromedp.Do(ctx, steps...); err != nil {
		b.shot("failed")
		b.t.Fatal(err)
	}
}

// size makes the window that of a phone or of a desk's screen, in light or dark colours.
func (b browser) size(wide, high int64, scheme string) {
	b.t.Helper()
	b.do(chromedp.EmulateViewport(wide, high), chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
		return err
	}))
}

// eval runs a script and returns what it gives.
func eval[T any](b browser, script string) T {
	b.t.Helper()
	ctx, stop := context.WithTimeout(b.ctx, 40*time.Second)
	defer stop()
	got, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%v, of %s", err, script)
	}
	return got
}

// click clicks in the middle of the first element that the selector finds.
func (b browser) click(selector string) {
	b.t.Helper()
	b.do(chromedp.Click(chromedp.CSS(selector)))
}

// write puts words where the cursor is.
func (b browser) write(words string) {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, input.InsertText, input.InsertTextParams{Text: words})
		return err
	}))
}

// see waits until an element can be seen.
func (b browser) see(selector string) {
	b.t.Helper()
	b.do(chromedp.WaitVisible(chromedp.CSS(selector)))
}

// says waits until the element shows the words.
func (b browser) says(selector, words string) {
	b.t.Helper()
	script := fmt.Sprintf(`(document.querySelector(%q)?.innerText ?? "").includes(%q)`, selector, words)
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		if eval[bool](b, script) {
			return
		}
	}
	b.shot("failed")
	b.t.Fatalf("%s never says %q; it says %q", selector, words, eval[string](b, fmt.Sprintf(`document.querySelector(%q)?.innerText ?? "nothing: it is not there"`, selector)))
}

// press clicks the button, inside the first element that selector finds, which shows the words.
func (b browser) press(selector, words string) {
	b.t.Helper()
	script := fmt.Sprintf(`(() => { const all = [...document.querySelectorAll(%q)].flatMap(e => e.matches("button") ? [e] : [...e.querySelectorAll("button")]);
		const hit = all.find(e => e.innerText.includes(%q) && !e.disabled && e.offsetParent !== null); hit?.click(); return hit !== undefined; })()`, selector, words)
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(30 * time.Millisecond) {
		if eval[bool](b, script) {
			return
		}
	}
	b.shot("failed")
	b.t.Fatalf("no button %q in %s", words, selector)
}

// photograph presses what asks for a photo and gives the camera's one.
func (b browser) photograph(selector, words, file string) {
	b.t.Helper()
	eval[bool](b, `document.getElementById("camera").onclick = (e) => e.preventDefault(), true`) // no file window
	b.press(selector, words)
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#camera"), []string{file}))
}

// key presses a key on the page.
func (b browser) key(key string) {
	b.t.Helper()
	if len(key) != 1 || key == kb.Enter {
		b.do(chromedp.KeyEvent(key))
		return
	}
	b.do(chromedp.Func(func(ctx context.Context, target *chromedp.Target) error { // types nothing, as the page takes the key
		_, err := cdp.Call(ctx, target, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: input.DispatchKeyEventTypeRawKeyDown, Key: key})
		return err
	}))
}

// shot keeps a picture of the page, if somebody wants to look at it, and holds the page to its width.
func (b browser) shot(name string) {
	b.t.Helper()
	if *serveShots == "" {
		return
	}
	picture, err := chromedp.Run(b.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		b.t.Log(err)
		return
	}
	if err := os.WriteFile(filepath.Join(*serveShots, name+".png"), picture, 0o644); err != nil {
		b.t.Fatal(err)
	}
}

// looks takes pictures of a state at both sizes, or one, in both colours, and fails when anything is wider than the window.
func (b browser) looks(name string, wide, high int64) {
	b.t.Helper()
	for _, scheme := range []string{"dark", "light"} {
		b.size(wide, high, scheme)
		if too := eval[string](b, `(() => { const wide = document.documentElement.scrollWidth; return wide > innerWidth ? wide + " px in " + innerWidth : ""; })()`); too != "" {
			b.t.Errorf("%s: the page is wider than its window: %s", name, too)
		}
		b.accessible(fmt.Sprintf("%s, %d px, %s", name, wide, scheme))
		b.shot(fmt.Sprintf("%s-%d-%s", name, wide, scheme))
	}
}

// accessible looks for what axe-core's rules find wrong, where .ci/setup installed it.
func (b browser) accessible(where string) {
	b.t.Helper()
	source, err := os.ReadFile(filepath.Join("..", "..", ".ci", "axe", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		return
	}
	b.do(chromedp.Evaluate[chromedp.Void](string(source)))
	for _, found := range eval[[]string](b, `axe.run(document, {resultTypes: ["violations"]}).then(r => r.violations.map(v =>
		v.id + ": " + v.help + ": " + v.nodes.length + " times, as in " + v.nodes[0].html.slice(0, 200) + " " + (v.nodes[0].failureSummary ?? "").slice(0, 300)))`) {
		b.t.Errorf("%s: %s", where, found)
	}
}

// feedingSpec is a tray of feedingTrial, small enough that sixteen are drawn quickly.
func feedingSpec(face card.Face, tray int) scene.Spec {
	s := smallSpec(face, tray)
	s.Resize(1120, 840)
	s.Light.BlurPX = 0.5
	return s
}

// weakLink is a connection as in a greenhouse. Every fourth part of a photo breaks off half way, and the answer to the first feeding is
// lost; while it is cut nothing goes through.
type weakLink struct{ cut atomic.Bool }

func (l *weakLink) around(next http.Handler) http.Handler {
	var puts, feedings atomic.Int32
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case l.cut.Load():
			panic(http.ErrAbortHandler)
		case r.Method == "PUT" && puts.Add(1)%4 == 2:
			r.Body = io.NopCloser(io.LimitReader(r.Body, r.ContentLength/2))
			next.ServeHTTP(httptest.NewRecorder(), r)
			panic(http.ErrAbortHandler)
		case r.URL.Path == "/api/fed" && feedings.Add(1) == 1:
			next.ServeHTTP(httptest.NewRecorder(), r)
			panic(http.ErrAbortHandler)
		}
		next.ServeHTTP(w, r)
	})
}

// A whole feeding day on a phone: eight trays from both sides, one photo blurred, one without the card, connections that break, and the
// feedings. In the evening, at a desk, the photos are looked through blind. The report shows all of it.
func TestServeADayInABrowser(t *testing.T) {
	b := newBrowser(t)
	dir := trialWith(t, feedingTrial, "")
	var bad weakLink
	server, _ := served(t, dir, false, bad.around)
	photos := t.TempDir()
	file := func(name string) string { return filepath.Join(photos, name+".jpg") }
	for tray := 1; tray <= 8; tray++ {
		for _, face := range []card.Face{card.Roots, card.Shoots} {
			drawPhoto(t, file(fmt.Sprintf("%d-%v", tray, face)), feedingSpec(face, tray))
		}
	}
	blurred(t, file("3-roots"), file("3-blurred"))
	without := feedingSpec(card.Shoots, 5)
	without.Card = false
	drawPhoto(t, file("5-without"), without)

	b.size(360, 740, "light")
	b.do(chromedp.Navigate(server.URL + "/"))
	b.says("#missing", "photos of roots: all 8 trays")
	b.says("#next", "Photograph tray 8: roots") // it stands first on the bench
	b.looks("day", 360, 740)
	b.looks("day", 1400, 900)
	b.size(360, 740, "light")
	take := func(tray int, view, name, verdict string) {
		t.Helper()
		b.photograph(fmt.Sprintf("#tray-%d .shot", tray), view, file(name))
		b.says("#sheet", verdict)
	}
	close := func() { b.press("#sheet", "Close") }
	for tray := 1; tray <= 8; tray++ {
		switch tray {
		case 3:
			take(3, "Roots", "3-blurred", "Take it again.")
			b.says("#sheet", "Hold the phone still")
			b.looks("retake", 360, 740)
			b.photograph("#sheet", "Take it again", file("3-roots"))
			b.says("#sheet", "Good. Put it back.")
		case 6:
			bad.cut.Store(true)
			b.photograph("#tray-6 .shot", "Roots", file("6-roots"))
			b.says("#stored", "No connection. On this phone only: 1 photo")
			b.looks("no-connection", 360, 740)
			b.press("#sheet", "Go on meanwhile")
			b.do(chromedp.Navigate("about:blank")) // the camera pushes the page out of memory
			bad.cut.Store(false)
			b.do(chromedp.Navigate(server.URL + "/"))
			b.says("#stored", "Everything is stored.")
			b.says("#tray-6", "good")
		default:
			take(tray, "Roots", fmt.Sprintf("%d-roots", tray), "Good. Put it back.")
			b.says("#sheet", "mm²")
			if tray == 7 {
				b.says("#sheet", "trays 2, 4, 6; tray 8 not yet")
				b.looks("good", 360, 740)
				b.looks("good", 1400, 900)
				b.size(360, 740, "light")
			}
		}
		if tray != 6 {
			close()
		}
		if tray == 5 {
			take(5, "Leaves", "5-without", "Take it again.")
			b.says("#sheet", "No card found")
			b.photograph("#sheet", "Take it again", file("5-shoots"))
			b.says("#sheet", "Good. Put it back.")
		} else {
			take(tray, "Leaves", fmt.Sprintf("%d-shoots", tray), "Good. Put it back.")
		}
		close()
	}
	b.says("#missing", "feeding: all 8 trays")
	for tray := 1; tray <= 8; tray++ {
		b.press(fmt.Sprintf("#tray-%d", tray), "Mark as fed")
		if tray == 7 {
			b.looks("feeding", 360, 740)
			eval[bool](b, `(() => { const i = document.querySelector("#feeding input"); i.value = "1200"; return i.dispatchEvent(new Event("input")); })()`)
		}
		b.press("#feeding", "It was fed")
		b.says(fmt.Sprintf("#tray-%d", tray), "Fed at 09:4")
	}
	b.says("#missing", "Nothing is missing today.")
	b.looks("done", 360, 740)
	dayIsStored(t, dir)

	b.lookThrough(server.URL, dir)
}

// A phone comes in by the QR code's link. What is refused is said with what to do, and nothing is entered unasked.
func TestServeTroubleInABrowser(t *testing.T) {
	b := newBrowser(t)
	dir := trialWith(t, feedingTrial, "")
	restarted, again := served(t, dir, true, nil)
	var down atomic.Bool
	server, s := served(t, dir, true, func(next http.Handler) http.Handler {
		return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
			if down.Load() {
				restarted.Config.Handler.ServeHTTP(w, r)
				return
			}
			next.ServeHTTP(w, r)
		})
	})
	b.size(360, 740, "light")
	b.do(chromedp.Navigate(server.URL + "/enter#ABCD-EFGH"))
	b.says("main", "That is not the code")
	b.looks("enter", 360, 740)
	code := s.Code()
	b.do(chromedp.Navigate("about:blank"), chromedp.Navigate(server.URL+"/enter#"+code))
	b.says("#missing", "photos of roots: all 8 trays")
	b.says("main", "The link is not encrypted")
	if at := eval[string](b, `location.href + " " + document.cookie`); strings.Contains(at, code) || strings.Contains(at, "traygauge=") {
		t.Errorf("scripts and the address see %s", at)
	}

	b.hashes()
	notes := filepath.Join(t.TempDir(), "notes.jpg")
	if err := os.WriteFile(notes, []byte("no photo at all"), 0o644); err != nil {
		t.Fatal(err)
	}
	eval[bool](b, `document.getElementById("pick").onclick = (e) => e.preventDefault(), true`)
	b.press("#album", "From album")
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#pick"), []string{notes}))
	b.says("#queue", "Photo not stored: the file is not a photo in a known format")

	b.press("#tray-3", "Mark as fed")
	err := plan.AddToLog(dir, time.UTC, func([]plan.Entry) ([]plan.Entry, error) { // somebody else was quicker
		return []plan.Entry{{When: feedingDay().Add(-time.Hour), Tray: 3, What: plan.Feeding, AmountML: math.NaN(), WaterML: 1000}}, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	eval[bool](b, `document.querySelector("#feeding form").requestSubmit(), true`)
	b.says("#queue", "Feeding of tray 3 not stored: tray 3 was fed on that day already, at 08:40 (1000 mL).")
	b.says("#stored", "Not stored: 1 photo and 1 feeding")
	b.looks("refused", 360, 740)
	b.press("#queue", "Do not enter it")
	b.says("#stored", "Not stored: 1 photo. See below.")
	if log, _, err := plan.LoadLog(dir); err != nil || len(log) != 1 {
		t.Errorf("in the log: %+v, %v", log, err)
	}
	b.press("#queue", "Drop this photo")
	b.says("#stored", "Everything is stored.")

	down.Store(true) // a new program, which knows no sessions
	b.press("#tray-4", "Mark as fed")
	eval[bool](b, `document.querySelector("#feeding form").requestSubmit(), true`)
	b.says("#queue", "Feeding not stored yet: the session has ended")
	b.looks("ended", 360, 740)
	b.press("#queue", "Load the page again")
	b.says("main", "Code from the terminal")
	b.do(chromedp.Navigate("about:blank"), chromedp.Navigate(server.URL+"/enter#"+again.Code()))
	b.says("#tray-4", "Fed at 09:4")
	if len(photosIn(t, dir)) > 0 {
		t.Errorf("kept %v", photosIn(t, dir))
	}
}

// hashes holds the page's SHA-256 against Go's, at all lengths around its blocks and its parts. Byte i is 7·i modulo 256.
func (b browser) hashes() {
	b.t.Helper()
	var lengths []int
	for n := range 130 {
		lengths = append(lengths, n)
	}
	lengths = append(lengths, 1<<20-1, 1<<20, 1<<20+57, 8<<20)
	begun := time.Now()
	got := eval[[]string](b, fmt.Sprintf(`import("/static/sha256.js").then(m => Promise.all(%s.map(n => m.digestOf(new Blob([Uint8Array.from({length: n}, (_, i) => 7 * i)])))))`,
		strings.ReplaceAll(fmt.Sprint(lengths), " ", ",")))
	for i, n := range lengths {
		raw := make([]byte, n)
		for at := range raw {
			raw[at] = byte(7 * at)
		}
		if want := shaOf(raw); i >= len(got) || got[i] != want {
			b.t.Fatalf("%d bytes: another digest than %s", n, want)
		}
	}
	b.t.Logf("11 MB hashed by the page in %v", time.Since(begun).Round(time.Millisecond))
}

// dayIsStored holds the photos and the log against what was done.
func dayIsStored(t *testing.T, dir string) {
	t.Helper()
	if names := photosIn(t, dir); len(names) != 18 {
		t.Errorf("%d photos, want 16 and two that were taken again: %v", len(names), names)
	}
	log, findings, err := plan.LoadLog(dir)
	if err != nil || len(findings) > 0 || len(log) != 8 {
		t.Fatalf("%d lines in the log, want one a tray: %+v, %v, %v", len(log), log, findings, err)
	}
	for _, e := range log {
		water, feed := 1500.0, 3.0 // 2 mL/L of 1500 mL
		if e.Tray == 7 {
			water, feed = 1200, 2.4
		}
		if e.What != plan.Feeding || e.WaterML != water || e.Tray%2 == 1 && (e.Product != "base feed" || e.AmountML != feed) || e.Tray%2 == 0 && e.Product != "" {
			t.Errorf("in the log: %+v", e)
		}
	}
}

// blurred writes a blurred copy of a photo, with its EXIF data lost.
func blurred(t *testing.T, from, to string) {
	t.Helper()
	img, err := imaging.Open(from)
	if err != nil {
		t.Fatal(err)
	}
	if err := scene.WriteJPEG(to, imaging.Blur(img, 1.8), 92, scene.EXIF{Taken: feedingDay(), WithZone: true, Focal35: 26}); err != nil {
		t.Fatal(err)
	}
}

// reason answers the page's question why.
func (b browser) reason(why string) {
	b.t.Helper()
	b.see("#ask form")
	b.write(why)
	b.key(kb.Enter)
}

// lookThrough hides treatment names, excludes a plug, moves a grid, undoes something, shows the names, and writes the report.
func (b browser) lookThrough(url, dir string) {
	t := b.t
	t.Helper()
	b.size(1400, 900, "light")
	b.do(chromedp.Navigate(url + "/look"))
	b.says("#list", "Tray 1, roots, day 10")
	b.says("#facts", "mm²")
	b.looks("look", 1400, 900)
	b.looks("look", 360, 740)
	b.size(1400, 900, "light")
	b.press("#hide", "Hide treatment names")
	b.see("#ask form")
	b.write("Ana")
	b.key(kb.Enter)
	b.says("#blind", "Treatment names are hidden")
	if got := eval[string](b, `document.documentElement.outerHTML`); strings.Contains(got, "water only") || strings.Contains(got, "base feed") || strings.Contains(got, "tray-0") {
		t.Error("with treatment names hidden the page tells them")
	}
	if status := eval[int](b, `fetch("/report/plugs.csv").then(r => r.status)`); status != http.StatusConflict {
		t.Errorf("the report, which names treatments, is handed out: %d", status)
	}

	of := map[string]string{}
	for _, name := range photosIn(t, dir) {
		sum := sha256.Sum256([]byte(name))
		of[strings.Join(strings.Split(name, "-")[:4], "-")] = hex.EncodeToString(sum[:8])
	}
	open := func(photo string) {
		t.Helper()
		b.click(fmt.Sprintf(`[data-id="%s"]`, of[photo]))
		b.says("#facts", "plug")
		b.see("#facts tbody tr")
	}
	open("day-10/tray-02-roots")
	b.key("x")
	b.says("#said", "Choose a plug first")
	b.do(chromedp.Focus(chromedp.CSS("#stage")))
	b.key(kb.ArrowRight) // right
	b.says("#chosen", "A1: planted")
	b.key("x")
	b.reason("eaten by slugs")
	b.says("#said", "Stored as correction 1.")
	b.says("#chosen", "A1: excluded")
	b.key("z")
	b.looks("plug", 1400, 900)

	open("day-10/tray-04-roots")
	before := eval[float64](b, `Number(document.querySelector("#stage polygon[data-plug=A1]").getAttribute("points").split(",")[0])`)
	b.key("f")
	b.key("g")
	b.says("#stage", "Drag the corners")
	b.drag(`#stage polygon[data-plug="A2"]`, 12, 3)
	b.key("1")
	b.key(kb.ArrowRight) // one pixel to the right
	b.looks("grid", 1400, 900)
	b.key(kb.Enter)
	b.reason("the card had slipped")
	b.says("#said", "Stored as correction 2.")
	b.says("#facts", "grid moved to")
	after := eval[float64](b, `Number(document.querySelector("#stage polygon[data-plug=A1]").getAttribute("points").split(",")[0])`)
	if after-before < 5 {
		t.Errorf("the grid's corner is at x = %.1f, was at %.1f", after, before)
	}
	b.key("j")
	b.key("k")
	open("day-10/tray-06-shoots")
	b.click(`#facts tr[data-plug="B1"]`)
	b.key("e")
	b.reason("algae, no plant")
	b.says("#said", "Stored as correction 3.")
	b.says("#chosen", "B1: empty")
	b.key("u")
	b.reason("wrong plug")
	b.says("#said", "Stored as correction 4.")
	b.says("#chosen", "B1: planted")
	b.key("?")
	b.says("#help", "choose a plug")
	b.looks("keys", 1400, 900)
	b.press("#help", "Close")

	b.press("#hide", "Corrections done")
	b.see("#ask form")
	b.key(kb.Enter)
	b.says("#said", "Blind: treatment names were hidden while all 4 corrections")
	b.press("#report", "Write the report")
	b.says("#said", "plugs.csv")
	b.looks("report", 1400, 900)
	b.reportShows(dir)
	b.do(chromedp.Navigate(url + "/report/index.html"))
	b.says("body", "water only")
	b.shot("report-page")
	if got := eval[string](b, `(() => { try { return "cookies " + document.cookie; } catch (e) { return e.name; } })()`); got != "SecurityError" {
		t.Errorf("the report's page is not kept apart from the server's own: %s", got)
	}
}

// drag pulls an element by so many pixels of the screen.
func (b browser) drag(selector string, dx, dy float64) {
	b.t.Helper()
	at := eval[[]float64](b, fmt.Sprintf(`(() => { const r = document.querySelector(%q).getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`, selector))
	b.do(chromedp.DragAndDropXY(at[0], at[1], at[0]+dx, at[1]+dy))
}

// reportShows holds the report's files against what was corrected.
func (b browser) reportShows(dir string) {
	t := b.t
	t.Helper()
	text, err := os.Open(filepath.Join(dir, "report", "plugs.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer text.Close()
	rows, err := csv.NewReader(text).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := func(name string) int { return slices.Index(rows[0], name) }
	excluded, moved := 0, 0
	for _, row := range rows[1:] {
		if row[column("state")] == "excluded" {
			excluded++
			if row[column("tray")] != "2" || row[column("plug")] != "A1" || row[column("view")] != "roots" {
				t.Errorf("excluded: %v", row)
			}
		}
		if strings.Contains(row[column("flags")], "grid by hand") {
			moved++
			if row[column("tray")] != "4" {
				t.Errorf("moved: %v", row)
			}
		}
	}
	if excluded != 1 || moved != 6 {
		t.Errorf("%d plugs excluded, want 1; %d measured by a moved grid, want 6", excluded, moved)
	}
	book := workbookText(t, dir)
	for _, say := range []string{"eaten by slugs", "the card had slipped", "Blind: treatment names were hidden while all 4 corrections, undoings counted, were made."} {
		if !strings.Contains(book, say) {
			t.Errorf("the workbook does not say %q", say)
		}
	}
}
