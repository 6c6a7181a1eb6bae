package serve

import (
	"fmt"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/disintegration/imaging"

	"traygauge/measure/correct"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/vision/card"
)

// album draws the photos of a day into a folder: of each tray both sides, and what goes wrong.
type album struct {
	t      *testing.T
	folder string
}

func (a album) file(name string) string { return filepath.Join(a.folder, name+".jpg") }

// name is what the photo of a side of a tray is called here.
func (a album) name(tray int, face card.Face) string { return fmt.Sprintf("%d-%v", tray, face) }

func newAlbum(t *testing.T) album {
	t.Helper()
	a := album{t, t.TempDir()}
	at := today().Add(-10 * time.Minute)
	for tray := 1; tray <= 8; tray++ {
		for _, face := range []card.Face{card.Roots, card.Shoots} {
			taken(t, a.file(a.name(tray, face)), picture(t, smallSpec(face, tray)), at)
		}
	}
	taken(t, a.file("blurred"), imaging.Blur(picture(t, smallSpec(card.Roots, 3)), 1.8), at)
	without := smallSpec(card.Shoots, 5)
	without.Card = false
	taken(t, a.file("no-card"), picture(t, without), at)
	tagless := smallSpec(card.Shoots, 1)
	tagless.Number = 0
	taken(t, a.file("no-tag"), picture(t, tagless), at)
	taken(t, a.file("day-3"), picture(t, smallSpec(card.Roots, 8)), day3())
	return a
}

// operator is one of two people with a phone on feeding day.
type operator struct {
	window
	photos album
}

func (o operator) take(tray int, view, photo, verdict string) {
	o.t.Helper()
	o.photograph(fmt.Sprintf("#tray-%d .shot", tray), view, o.photos.file(photo))
	o.says("#sheet", verdict)
}

func (o operator) close() {
	o.t.Helper()
	o.press("#sheet footer", "Close")
}

// good photographs a side of a tray that turns out good.
func (o operator) good(tray int, face card.Face) {
	o.t.Helper()
	o.take(tray, map[card.Face]string{card.Roots: "Roots", card.Shoots: "Leaves"}[face], o.photos.name(tray, face), "Good. Put it back.")
	o.close()
}

// A whole feeding day on two phones at once, over the network and a bad link: eight trays from both sides, every way to take the wrong
// photo, a connection that is lost, a program that is started again, feedings that are entered wrongly and corrected. In the end the
// photos are where they belong and the log says what each tray got.
func TestADayOnTwoPhones(t *testing.T) {
	a := newAlbum(t)
	r := serveTrial(t, trialWith(t, feedingTrial), func(o *Options) { o.LAN, o.Now = true, ticking() })
	r.link.weak.Store(true)
	ana, ben := operator{chromium(t, "ana"), a}, operator{secondBrowser(t, "ben"), a}
	for _, o := range []operator{ana, ben} {
		o.phoneSize()
		o.open(r.lanURL() + "/enter#" + r.server.Code().Secret) // the QR code's link
		o.says("#missing", "photos of roots: all 8 trays")
		o.says("#next", "Photograph tray 8: roots") // it stands first on the bench
	}
	ana.looksOnPhone("day")
	ana.looks("day", 1280, 900)
	ana.phoneSize()
	t.Run("both", func(t *testing.T) {
		t.Run("ana", func(t *testing.T) {
			t.Parallel()
			ana.in(t).firstFour()
		})
		t.Run("ben", func(t *testing.T) {
			t.Parallel()
			ben.in(t).lastFour()
		})
	})
	if t.Failed() {
		return
	}
	ana.says("#missing", "Still missing\nfeeding: all 8 trays")
	ana.feed(r, ben)
	photosAreStored(t, r.dir)
	feedingsAreStored(t, r.dir)
}

// secondBrowser is Firefox where it is installed, so that the day is played in both at once.
func secondBrowser(t *testing.T, name string) window {
	t.Helper()
	if firefoxPath() == "" {
		t.Log("Firefox is not installed (Debian: firefox-esr): both phones are Chromium")
		return chromium(t, name)
	}
	return firefox(t, name)
}

// in returns the operator in a test of his own.
func (o operator) in(t *testing.T) operator {
	o.t = t
	return o
}

// firstFour is done while ben does the others: a blurred photo, a photo without a tag, the wrong side, the wrong tray.
func (o operator) firstFour() {
	o.take(1, "Roots", "1-roots", "Good. Put it back.")
	o.says("#sheet", "mm²")
	if figure := eval[string](o.window, `document.querySelector("#sheet .figures dd").textContent`); !regexp.MustCompile(`^[0-9.]+ ± [0-9.]+ mm²`).MatchString(figure) {
		o.t.Errorf("the tray’s figure is %q, without its error bar", figure)
	}
	if names := eval[[]string](o.window, `[...document.querySelectorAll("#trays button")].map(b => b.ariaLabel ?? b.textContent)`); len(names) < 20 || slices.ContainsFunc(names, func(n string) bool { return !regexp.MustCompile(`tray \d`).MatchString(n) }) {
		o.t.Errorf("a screen reader cannot tell of which tray a button is: %q", names)
	}
	o.looksOnPhone("good")
	o.phoneSize()
	o.photograph("#sheet footer", "Photograph tray 1: leaves", o.photos.file("no-tag")) // the tray in hand goes on
	o.says("#sheet", "Put it back.")
	o.close()

	o.good(2, card.Roots)
	o.take(2, "Leaves", "7-shoots", "Tray 7 or tray 2?") // the wrong tray in front of the phone
	o.says("#sheet", "The leaves of tray 2 are still missing.")
	o.silent("#sheet", "--")
	o.looksOnPhone("wrong-tray")
	o.phoneSize()
	o.photograph("#sheet footer", "Take the leaves of tray 2", o.photos.file("2-shoots"))
	o.says("#sheet", "Good. Put it back.")
	o.close()
	o.says("#open", "Tray 7 or tray 2?")
	o.looksOnPhone("to-settle")
	o.phoneSize()
	o.press("#open", "Tray 7 or tray 2?")
	o.says("#sheet", "It is tray 7")
	o.press("#sheet .question", "It is tray 7")
	o.says("#sheet", "Put it back.")
	o.close()

	o.take(3, "Roots", "blurred", "Retake it.")
	o.says("#sheet", "Hold the phone still")
	o.looksOnPhone("retake")
	o.phoneSize()
	o.photograph("#sheet footer", "Retake", o.photos.file("3-roots"))
	o.says("#sheet", "Good. Put it back.")
	o.close()
	o.good(3, card.Shoots)

	o.take(4, "Roots", "4-shoots", "These are the leaves.") // the wrong side
	o.says("#sheet", "The roots of tray 4 are still missing.")
	o.looksOnPhone("wrong-side")
	o.phoneSize()
	o.photograph("#sheet footer", "Take the roots of tray 4", o.photos.file("4-roots"))
	o.says("#sheet", "Good. Put it back.")
	o.close()
	o.says("#tray-4", "✓ good")
}

// lastFour is done while ana does the others: no card, a photo of another day, a lost connection and a restart, and photos from the album.
func (o operator) lastFour() {
	o.good(5, card.Roots)
	o.take(5, "Leaves", "no-card", "Retake it.")
	o.says("#sheet", "No card found")
	o.photograph("#sheet footer", "Retake", o.photos.file("5-shoots"))
	o.says("#sheet", "Good. Put it back.")
	o.close()

	o.take(8, "Roots", "day-3", "This photo is from day 3.")
	o.says("#sheet", "The roots of tray 8 are still missing.")
	o.looksOnPhone("wrong-day")
	o.phoneSize()
	o.press("#sheet .question", "Keep it under day 3")
	o.says("#sheet", "Saved under day 3.")
	o.photograph("#sheet footer", "Take the roots of tray 8", o.photos.file("8-roots"))
	o.says("#sheet", "Good. Put it back.")
	o.close()

	o.choose("#pick", func() { o.press("#album", "From album") }, o.photos.file("6-roots"), o.photos.file("6-shoots"), o.photos.file("7-roots"), o.photos.file("8-shoots"))
	o.says("#sheet", "All 4 good")
	o.looksOnPhone("batch-good")
	o.phoneSize()
	o.press("#sheet footer", "Hide this list")
	o.says("#tray-6", "✓ good")
}

// feed feeds all trays: with a connection that is lost while the page is closed, a program that is started again without anyone having to enter
// a code, an amount with a digit too many, and the wrong tray tapped.
func (o operator) feed(r *running, ben operator) {
	feed := func(o operator, tray int) {
		o.t.Helper()
		o.press(fmt.Sprintf("#tray-%d", tray), "Mark as fed")
		o.press("#feeding", "Save feeding")
	}
	o.press("#tray-1", "Mark as fed")
	o.says("#feeding", "including base feed")
	o.looksOnPhone("feeding")
	o.phoneSize()
	o.write("#feeding input", "15000")
	o.press("#feeding", "Save feeding")
	o.says("#feeding .problem", "15000 mL is 10 times the 1500 mL in the plan.")
	o.looksOnPhone("ten-times")
	o.phoneSize()
	o.press("#feeding .problem", "Change it")
	o.write("#feeding input", "1500")
	o.press("#feeding", "Save feeding")
	o.says("#tray-1", "Fed at 09:4")

	o.press("#tray-4 .shot", "Leaves")
	o.says("#sheet", "Good. Put it back.")
	r.link.cut.Store(true)
	o.photograph("#sheet footer", "Take another", o.photos.file("4-shoots")) // the same again
	o.says("#sheet", "No connection.")
	o.looksOnPhone("no-connection")
	o.phoneSize()
	o.press("#sheet", "Continue")
	feed(o, 2)
	o.says("#stored", "No connection. Only on this phone: 1 photo and 1 feeding")
	o.says("#tray-2", "Fed, but so far only on this phone")
	o.holds(2)
	o.open("about:blank") // the camera pushes the page out of memory
	r.restart()
	r.link.cut.Store(false)
	o.open(r.lanURL() + "/")
	o.says("#stored", "Everything is stored.")
	o.says("#tray-2", "Fed at 09:4")
	feed(ben, 8) // his page was open all the while, and goes on without a new code
	ben.says("#tray-8", "Fed at 09:4")

	feed(o, 5)
	o.says("#tray-5", "Fed at 09:4") // it was tray 7
	o.press("#tray-5 .fed", "Change")
	o.says("#feeding", "Correct this entry. The log keeps both versions.")
	o.looksOnPhone("change")
	o.phoneSize()
	o.write("#feeding select", "7")
	o.write("#feeding label:last-of-type input", "=wrong tray tapped")
	o.press("#feeding", "Save the change")
	o.says("#tray-7", "Fed at 09:4")
	o.says("#tray-5", "Withdrawn: fed at 09:4")
	o.looksOnPhone("changed")
	o.phoneSize()
	feed(o, 5)
	feed(ben, 3)
	ben.says("#tray-3", "Fed at 09:4")
	ben.press("#tray-3 .fed", "Change")
	ben.press("#feeding", "It was not fed")
	ben.says("#tray-3", "Withdrawn")
	feed(ben, 3)
	ben.says("#tray-3", "Fed at 09:4")
	feed(o, 4)
	feed(o, 6)
	o.says("#missing", "Everything for today is done.")
	o.looksOnPhone("done")
	o.looks("done", 1280, 900)
	o.phoneSize()
}

// photosAreStored holds the files against what was photographed.
func photosAreStored(t *testing.T, dir string) {
	t.Helper()
	count := map[string]int{}
	for _, name := range photosIn(t, dir) {
		n, ours := storedNameOf(name)
		if !ours {
			t.Errorf("%s is called otherwise", name)
		}
		count[n.stem()]++
	}
	want := map[string]int{"day-03/tray-08-roots": 1}
	for tray := 1; tray <= 8; tray++ {
		for _, view := range []string{"roots", "shoots"} {
			want[fmt.Sprintf("day-10/tray-%02d-%s", tray, view)] = 1
		}
	}
	want["day-10/tray-03-roots"] = 2  // and the blurred one
	want["day-10/tray-05-shoots"] = 2 // and the one without a card
	for _, album := range []string{"day-10/tray-06-roots", "day-10/tray-06-shoots", "day-10/tray-07-roots", "day-10/tray-08-shoots"} {
		delete(want, album)
	}
	want["day-10/photo"] = 4 // they came from the album, and are distinguished by their tags
	if !maps.Equal(count, want) {
		t.Errorf("stored are %v, want %v", count, want)
	}
	p, _, err := plan.Load(dir)
	if err != nil {
		t.Fatal(err)
	}
	readings, broken := reading.LoadReadings(dir)
	usable := map[string]int{}
	for _, r := range readings {
		if r.Usable() {
			usable[fmt.Sprintf("day %d, tray %d, %s", p.DayOf(r.Taken), r.Tray, r.View)]++
		}
	}
	for tray := 1; tray <= 8; tray++ {
		for _, view := range []string{"roots", "shoots"} {
			if n := usable[fmt.Sprintf("day 10, tray %d, %s", tray, view)]; n != 1 {
				t.Errorf("tray %d, %s: %d usable photos of day 10", tray, view, n)
			}
		}
	}
	if len(usable) != 17 || usable["day 3, tray 8, roots"] != 1 || len(broken) > 0 {
		t.Errorf("usable: %v; broken: %v", usable, broken)
	}
	if made, err := correct.Load(dir); err != nil || len(made.Made) != 0 {
		t.Errorf("nothing was against what the photos show, and yet there are corrections: %+v, %v", made.Made, err)
	}
}

// feedingsAreStored holds the log against what was fed: every tray once, with what was withdrawn still in it.
func feedingsAreStored(t *testing.T, dir string) {
	t.Helper()
	lines, findings, err := logbook.LoadLines(dir)
	if err != nil || len(findings) > 0 || len(lines) != 12 { // eight, two that were withdrawn, and the two withdrawals
		t.Fatalf("%d lines in the log, want 12: %v, %v\n%s", len(lines), findings, err, logOf(t, dir))
	}
	fed := map[int]int{}
	for _, e := range logbook.Standing(lines) {
		fed[e.Tray]++
		if e.What != logbook.Feeding || e.WaterML != 1500 {
			t.Errorf("in the log: %+v", e)
		}
		feed := 2.97 // 7.5 mL in each 3.785 L, of 1.5 L
		if byTray := e.Tray%2 == 1; byTray && (e.Product != "base feed" || e.AmountML != feed) || !byTray && e.Product != "" {
			t.Errorf("in the log: %+v", e)
		}
	}
	for tray := 1; tray <= 8; tray++ {
		if fed[tray] != 1 {
			t.Errorf("tray %d was fed %d times", tray, fed[tray])
		}
	}
	if log := logOf(t, dir); !strings.Contains(log, ",5,withdrawn,,,,\"'=wrong tray tapped; 2026-03-12 09:4") || strings.Contains(log, ",=") {
		t.Errorf("the log holds\n%s", log)
	}
}

// Photos from the album come as one list: what is to be looked at first, all the others folded. It goes on where a closed page left it, and
// each photo can be looked at and settled from it.
func TestABatchFromTheAlbum(t *testing.T) {
	a := newAlbum(t)
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	w := chromium(t, "batch")
	w.phoneSize()
	w.open(r.url() + "/")
	w.says("#missing", "photos of roots: all 8 trays")
	r.link.cut.Store(true)
	w.choose("#pick", func() { w.press("#album", "From album") }, a.file("1-roots"), a.file("1-shoots"), a.file("no-tag"), a.file("day-3"), a.file("no-card"))
	w.says("#sheet", "5 to send")
	w.looksOnPhone("sending")
	w.phoneSize()
	w.holds(5)
	w.open("about:blank")
	r.link.cut.Store(false)
	w.open(r.url() + "/")
	w.says("#batches", "2 good, 3 to look at")
	w.press("#batches", "5 photos from the album")
	w.says("#sheet", "The photo shows no tray tag.")
	w.says("#sheet", "This photo is from day 3.")
	w.says("#sheet", "No card found")
	w.says("#sheet details", "2 good")
	w.looksOnPhone("mixed")
	w.phoneSize()
	w.press("#sheet .batch", "The photo shows no tray tag")
	w.says("#sheet", "Which tray is it?")
	w.looksOnPhone("which-tray")
	w.phoneSize()
	w.press("#sheet .keys-of", "It is tray 2")
	w.says("#sheet", "Good. Put it back.")
	w.press("#sheet footer", "Back")
	w.press("#sheet .batch", "This photo is from day 3.")
	w.press("#sheet .question", "Keep it under day 3")
	w.says("#sheet", "Good")
	w.press("#sheet footer", "Back")
	w.says("#sheet .large", "4 good, 1 to look at")
	w.press("#sheet footer", "Hide this list")
	w.says("#tray-2", "Leaves")
	if names := photosIn(t, r.dir); len(names) != 5 {
		t.Errorf("stored as %v", names)
	}
	w.open(r.url() + "/")
	w.says("#missing", "photos of leaves: trays 3, 4, 5, 6, 7 and 8")
	w.silent("#batches", "album")
}
