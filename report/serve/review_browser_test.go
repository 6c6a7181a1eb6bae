package serve

import (
	"encoding/csv"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/correct"
	"traygauge/measure/testtray"
	"traygauge/measure/trialdir"
	"traygauge/vision/card"
	"traygauge/vision/synth"
)

// photographed makes a trial with photos that came by a phone today: both sides of some trays, one with the wrong tray tapped, one without a tag.
func photographed(t *testing.T) *running {
	t.Helper()
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	var names []string
	for _, tray := range []int{1, 2, 4, 6} {
		names = append(names, p.send(photoOf(t, card.Roots, tray), tray, "roots"))
	}
	names = append(names, p.send(photoOf(t, card.Shoots, 6), 6, "shoots"), p.send(photoOf(t, card.Shoots, 7), 3, "shoots"))
	for _, name := range names {
		p.verdict(name, 0, "")
	}
	return r
}

// idIn returns how pages call the photo whose name begins like this.
func idIn(t *testing.T, dir, stem string) string {
	t.Helper()
	for _, name := range trialdir.PhotoNames(dir) {
		if strings.HasPrefix(name, stem) {
			return idOf(name)
		}
	}
	t.Fatalf("there is no %s among %v", stem, trialdir.PhotoNames(dir))
	return ""
}

// why answers the page's question for a reason.
func (w window) why(words string) {
	w.t.Helper()
	w.says("#ask", "Why")
	w.write("#ask input", words)
	w.press("#ask", "Apply")
}

// At a desk: treatment names hidden, a plug excluded, a grid moved, something undone, the names shown, the report written.
func TestReviewAtADesk(t *testing.T) {
	r := photographed(t)
	b := chromium(t, "desk")
	b.size(1280, 900, "light")
	b.open(r.url() + "/look") // its address before
	b.says("#list", "Tray 1, roots, day 10")
	b.says("#facts", "mm²")
	if high := eval[float64](b, `Math.max(...[...document.querySelectorAll("[data-filter]")].map(e => e.getBoundingClientRect().height))`); high > 40 {
		t.Errorf("the words of the filter are broken over lines: %.0f px high", high)
	}
	b.looks("review", 1280, 900)
	b.size(1280, 900, "light")
	b.press("#hide", "Hide treatment names")
	b.says("#ask", "Your name")
	b.write("#ask input", "Ana")
	b.press("#ask", "Apply")
	b.says("#blind", "Treatment names are hidden")
	if got := eval[string](b, `document.documentElement.outerHTML`); strings.Contains(got, "water only") || strings.Contains(got, "base feed") || strings.Contains(got, "tray-0") || strings.Contains(got, "tray 7") {
		t.Error("with treatment names hidden the page tells them")
	}
	if status := eval[int](b, `fetch("/report/plugs.csv").then(r => r.status)`); status != http.StatusConflict {
		t.Errorf("the report, which names treatments, is handed out: %d", status)
	}
	open := func(photo string) {
		t.Helper()
		b.press(fmt.Sprintf(`[data-id="%s"]`, idIn(t, r.dir, photo)), "")
		b.says("#facts", "plug")
		b.until(`document.querySelector("#facts tbody tr") !== null`)
	}
	open("day-10/tray-02-roots")
	b.press1("x")
	b.says("#said", "Choose a plug first")
	eval[bool](b, `document.getElementById("stage").focus(), true`)
	b.press1("ArrowRight")
	b.says("#chosen", "A1: planted")
	b.press1("x")
	b.why("eaten by slugs")
	b.says("#said", "Stored as correction 1.")
	b.says("#chosen", "A1: excluded")
	b.press1("z")
	b.looks("plug", 1280, 900)
	b.size(1280, 900, "light")

	open("day-10/tray-04-roots")
	corner := `Number(document.querySelector("#stage polygon[data-plug=A1]").getAttribute("points").split(",")[0])`
	before := eval[float64](b, corner)
	b.press1("f")
	b.press1("g")
	b.says("#stage", "Drag a corner")
	eval[bool](b, `(() => { const plug = document.querySelector('#stage polygon[data-plug="A2"]'); const r = plug.getBoundingClientRect(); const stage = document.getElementById("stage");
		stage.setPointerCapture = () => {};
		const at = (type, target, dx, dy) => target.dispatchEvent(new PointerEvent(type, {bubbles: true, pointerId: 1, button: 0, clientX: r.x + r.width / 2 + dx, clientY: r.y + r.height / 2 + dy}));
		at("pointerdown", plug, 0, 0); at("pointermove", stage, 12, 3); at("pointerup", stage, 12, 3); return true; })()`)
	b.press1("1")
	b.press1("ArrowRight") // one pixel to the right
	b.looks("grid", 1280, 900)
	b.size(1280, 900, "light")
	b.press1("Enter")
	b.why("the card had slipped")
	b.says("#said", "Stored as correction 2.")
	b.says("#facts", "grid moved to")
	if after := eval[float64](b, corner); after-before < 5 {
		t.Errorf("the grid's corner is at x = %.1f, was at %.1f", after, before)
	}
	open("day-10/tray-06-shoots")
	eval[bool](b, `document.querySelector('#facts tr[data-plug="B1"]').click(), true`)
	b.press1("e")
	b.why("algae, no plant")
	b.says("#said", "Stored as correction 3.")
	b.says("#chosen", "B1: empty")
	b.press1("u")
	b.why("wrong plug")
	b.says("#said", "Stored as correction 4.")
	b.says("#chosen", "B1: planted")
	b.press1("j")
	b.press1("k")
	b.press1("?")
	b.says("#help", "zoom in, zoom out")
	b.press("#help", "Close")
	b.press("#hide", "Corrections done")
	b.says("#ask", "Your name")
	b.press("#ask", "Apply")
	b.says("#said", "Blind: treatment names were hidden while all 4 corrections")
	b.press("#report", "Write the report")
	b.says("#said", "plugs.csv")
	if first := eval[string](b, `document.querySelector("#said a").textContent`); first != "Page" { // what most want is first
		t.Errorf("the report's files begin with %s", first)
	}
	reportShows(t, r.dir)
	b.open(r.url() + "/report/index.html")
	b.says("body", "water only")
	if got := eval[string](b, `(() => { try { return "cookies " + document.cookie; } catch (e) { return e.name; } })()`); got != "SecurityError" {
		t.Errorf("the report's page is not kept apart from the server's own: %s", got)
	}
	for _, folder := range []string{"overlays", "photos"} { // what the page links to leads to that photo in review
		b.open(r.url() + "/report/index.html")
		b.says("body", "water only")
		eval[bool](b, fmt.Sprintf(`(document.querySelector('a[href^="../%s/day-10"]').click(), true)`, folder))
		b.until(`location.pathname === "/review"`)
		b.says("#facts", "day 10")
	}
}

// reportShows holds the report's table against what was corrected.
func reportShows(t *testing.T, dir string) {
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
			if row[column("tray")] != "2" || row[column("plug")] != "A1" || row[column("side")] != "roots" {
				t.Errorf("excluded: %v", row)
			}
		}
		if strings.Contains(strings.Join(row, ","), "grid by hand") {
			moved++
			if row[column("tray")] != "4" {
				t.Errorf("moved: %v", row)
			}
		}
	}
	if excluded != 1 || moved != 6 {
		t.Errorf("%d plugs excluded, want 1; %d measured by a moved grid, want 6", excluded, moved)
	}
}

// tapPlug is a script that taps a plug with a finger; it gives the plug's width in px before and after. Pointers that a script invents
// cannot be captured.
func tapPlug(name string) string {
	return `(() => { const stage = document.getElementById("stage"), plug = () => document.querySelector('#stage [data-plug="` + name + `"]');
		const box = plug().getBoundingClientRect();
		const finger = { bubbles: true, pointerId: 1, button: 0, pointerType: "touch", clientX: box.x + box.width / 2, clientY: box.y + box.height / 2 };
		stage.setPointerCapture = () => {};
		plug().dispatchEvent(new PointerEvent("pointerdown", finger));
		stage.dispatchEvent(new PointerEvent("pointerup", finger));
		return [box.width, plug().getBoundingClientRect().width]; })()`
}

// What was counted, in a verdict, leads to that photo in review, not to a picture by itself; the way back is by the list to the day.
func TestAVerdictLeadsToReview(t *testing.T) {
	r := photographed(t)
	b := chromium(t, "phone")
	b.phoneSize()
	b.open(r.url() + "/")
	b.says("#trays", "Roots")
	b.press("#tray-4 .shot", "Roots")
	b.until(`document.querySelector("#sheet a.overlay") !== null`)
	eval[bool](b, `(document.querySelector("#sheet a.overlay").click(), true)`)
	b.until(`location.pathname === "/review"`)
	b.says("#head", "Tray 4, roots, day 10")
	b.says("#facts", "mm²")
	b.press("#to-list", "Photos")
	b.says("#list", "Tray 6, leaves, day 10")
	b.size(1280, 900, "light")
	b.open(r.url() + "/review#" + idIn(t, r.dir, "day-10/tray-06-shoots"))
	b.says("#facts", "Tray 6, leaves, day 10")
}

// On a phone, with one hand: a tapped photo comes into view, its buttons are at the thumb and large, and the way back is the phone's own.
// What is to be settled about a photo has the same answers as on feeding day.
func TestReviewOnAPhone(t *testing.T) {
	r := photographed(t)
	b := chromium(t, "phone")
	b.phoneSize()
	b.open(r.url() + "/review")
	b.says("#list", "Tray 6, leaves, day 10")
	b.looksOnPhone("review-list")
	b.phoneSize()
	b.press(fmt.Sprintf(`[data-id="%s"]`, idIn(t, r.dir, "day-10/tray-06-shoots")), "")
	b.says("#facts", "mm²")
	if at := eval[[]float64](b, `(() => { const r = document.getElementById("stage").getBoundingClientRect(); return [r.top, r.bottom, scrollY]; })()`); at[0] < 0 || at[0] > 120 || at[1] > 600 || at[2] != 0 {
		t.Errorf("the photo lies from y = %.0f to %.0f, scrolled by %.0f", at[0], at[1], at[2])
	}
	b.says("#chosen", "Tap a plug")
	eval[bool](b, `[1, 2, 3].forEach(() => document.getElementById("zoom-out").click()), true`) // as small as one of fifty
	if wide := eval[[]float64](b, tapPlug("B1")); wide[0] >= 44 || wide[1] < 100 {
		t.Errorf("a tap made the plug %.0f px wide, from %.0f: its roots and words cannot be seen", wide[1], wide[0])
	}
	b.says("#chosen", "B1: planted, leaf area ")
	b.says("#chosen", " mm²")
	b.looksOnPhone("review-photo")
	b.phoneSize()
	if low := eval[[]float64](b, `[...document.querySelectorAll("#facts .acts > button")].map(e => e.getBoundingClientRect()).flatMap(r => [r.top, r.bottom])`); len(low) != 6 || low[0] < 700 || low[1] > 844 {
		t.Errorf("the buttons are at %v, not at the thumb", low)
	}
	b.press("#facts .acts", "Empty")
	b.says("#ask", "Why")
	b.looksOnPhone("review-why")
	b.phoneSize()
	b.press("#ask .suggest", "algae")
	b.write("#ask input", `algae<img src=x onerror="document.title='run'">`) // what people write is text
	b.write(`#ask input[autocomplete="nickname"]`, "Ana")
	b.press("#ask", "Apply")
	b.says("#said", "Stored as correction 1.")
	b.says("#facts .history", "algae<img src=x")
	b.says("#chosen", "B1: empty")
	b.press("#facts .history", "Undo")
	b.press("#ask .suggest", "wrong plug")
	b.press("#ask", "Apply")
	b.says("#said", "Stored as correction 2.")
	if got := eval[string](b, `document.querySelectorAll("#facts img").length + " " + document.title`); got != "0 Review photos · traygauge" {
		t.Errorf("markup that somebody wrote became a part of the page: %s", got)
	}
	eval[bool](b, `history.back(), true`)
	b.says("#list", "Tray 6, leaves, day 10")
	b.says("#head", "Review photos")

	b.press("[data-filter=look]", "to look at")
	b.press(fmt.Sprintf(`[data-id="%s"]`, idIn(t, r.dir, "day-10/tray-03-shoots")), "")
	b.says("#facts .question", "It was sent for tray 3. The tag in the photo says tray 7.")
	b.looksOnPhone("review-settle")
	b.phoneSize()
	if low := eval[float64](b, `Math.max(...[...document.querySelectorAll("#facts .question button")].map(e => e.getBoundingClientRect().bottom)) - document.querySelector(".foot").getBoundingClientRect().top`); low > 0 {
		t.Errorf("the answers reach %.0f px below what is in view", low)
	}
	b.press("#facts .question", "It is tray 3")
	b.says("#said", "Stored: tray 3, leaves.")
	made, err := correct.Load(r.dir)
	if err != nil || len(made.Made) != 3 || made.Made[2].What != correct.Tray || made.Made[2].Number != 3 || made.Made[2].Who != "Ana" {
		t.Errorf("%+v, %v", made.Made, err)
	}
	b.press("#facts .acts", "Tray or day")
	b.says("#ask", "Set tray or day")
	b.write("#ask select", "7")
	b.write("#ask input[required]", "the tag was right")
	b.press("#ask", "Apply")
	b.says("#said", "Stored: tray 7, leaves.")
	if names := photosIn(t, r.dir); !slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(n, "day-10/tray-07-shoots-") }) {
		t.Errorf("stored as %v", names)
	}
	b.press("#menu", "More")
	b.looksOnPhone("review-more")
}

// A photo in which no card was found has no plugs, and no one is asked to tap one.
func TestReviewOfAPhotoWithoutPlugs(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	without := smallSpec(card.Shoots, 5)
	without.Card = false
	name := p.send(shot(t, without, today()), 5, "shoots")
	p.verdict(name, 0, "")
	b := chromium(t, "phone")
	b.phoneSize()
	b.open(r.url() + "/review")
	b.press(fmt.Sprintf(`[data-id="%s"]`, idOf(name)), "")
	b.says("#facts", "No card found")
	if said := eval[string](b, `document.getElementById("chosen").textContent`); said != "" {
		t.Errorf("of a photo without plugs it says %q", said)
	}
}

// A plug over which something seems to lie has no figure until someone includes it; then it has the one that was measured.
func TestReviewIncludesACoveredPlug(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	p := newPhone(t, r.url())
	p.load("/")
	strap := smallSpec(card.Roots, 4)
	strap.Things = []synth.Thing{testtray.Box(0, 36, 70, 44, [3]uint8{32, 32, 33})} // over A1, whose middle is 40 mm from both of the tray's sides
	name := p.send(shot(t, strap, today()), 4, "roots")
	p.verdict(name, 0, "")
	b := chromium(t, "desk")
	b.size(1280, 900, "light")
	b.open(r.url() + "/review#" + idOf(name))
	b.says("#facts", "Something covers 1 plug (A1)")
	eval[bool](b, `(document.querySelector('#facts tr[data-plug="A1"]').click(), true)`)
	b.says("#chosen", "A1: hidden (covered)")
	b.looksOnPhone("review-covered")
	b.size(1280, 900, "light")
	b.press("#facts .acts", "Include plug")
	b.says("#ask", "Nothing covers A1: include its values")
	b.write("#ask input[required]", "the plug is broken")
	b.write("#ask label:last-of-type input", "Ana")
	b.press("#ask", "Apply")
	b.says("#said", "Stored as correction 1.")
	b.says("#chosen", "A1: planted, root area ")
	b.says("#chosen", "included by hand")
	b.press("#facts .acts", "Exclude photo")
	b.why("taken twice")
	b.says("#said", "Stored as correction 2.")
	b.says("#facts .history", "photo excluded")
	b.silent("#facts .acts", "Exclude photo") // it is already
}

// A photo whose file is gone is listed and marked, with what to do; its overlay and its figures can be looked at.
func TestReviewOfAPhotoWhoseFileIsGone(t *testing.T) {
	r := photographed(t)
	id := idIn(t, r.dir, "day-10/tray-04-roots")
	for _, name := range photosIn(t, r.dir) {
		if idOf(name) == id {
			if err := os.Remove(filepath.Join(r.dir, "photos", filepath.FromSlash(name))); err != nil {
				t.Fatal(err)
			}
		}
	}
	b := chromium(t, "phone")
	b.phoneSize()
	b.open(r.url() + "/review")
	b.press("[data-filter=look]", "to look at")
	b.says(fmt.Sprintf(`[data-id="%s"]`, id), "file gone")
	b.press(fmt.Sprintf(`[data-id="%s"]`, id), "")
	b.says("#facts", "put the file back into the folder photos")
	b.says("#stage .words", "only the overlay is left")
	b.until(`document.querySelector("#stage .window img").naturalWidth > 0`)
	b.press("#toggle", "Overlay")
	b.says("#stage .words", "only the overlay is left")
	eval[bool](b, tapPlug("B1")+`.length > 0`)
	b.says("#chosen", "B1: planted, root area ")
	b.looksOnPhone("review-gone")
}

// Messages become sentences on the pages, but a file that a message begins with is called what it is called.
func TestMessagesBecomeSentences(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	b := chromium(t, "phone")
	b.open(r.url() + "/review")
	for words, want := range map[string]string{"the file is gone: reload the page": "The file is gone: reload the page.", "trial.yaml:27: error: no colon": "trial.yaml:27: error: no colon.", "Stored.": "Stored."} {
		if got := eval[string](b, fmt.Sprintf(`import("/static/common.js").then((m) => m.sentence(%q))`, words)); got != want {
			t.Errorf("%q becomes %q, want %q", words, got, want)
		}
	}
}

// A message with a path of any length stays within a phone's screen.
func TestLongWordsBreakOnAPhone(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), nil)
	b := chromium(t, "phone")
	b.size(324, 700, "light") // a narrow one
	for _, page := range []string{"/", "/review"} {
		b.open(r.url() + page)
		b.until(`document.querySelector("main") !== null`)
		if wide := eval[float64](b, `(() => { const p = document.createElement("p"); p.className = "problem"; p.textContent = "x".repeat(300); document.querySelector("main").prepend(p); return document.documentElement.scrollWidth; })()`); wide > 324 {
			t.Errorf("%s is %.0f px wide", page, wide)
		}
		// … and short ones do not: the buttons above stay on one line.
		if high := eval[float64](b, `Math.max(...[...document.querySelectorAll("header button, header a")].filter(e => e.checkVisibility()).map(e => e.getBoundingClientRect().height))`); high > 56 {
			t.Errorf("a button of %s is %.0f px high", page, high)
		}
	}
}
