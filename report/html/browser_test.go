package html

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"traygauge/measure/compare/outcome"
	"traygauge/report/html/answer"
)

var shots = flag.String("shots", "", "a folder to save pictures of the page in")

// browser returns a tab of a headless Chromium, or skips the test where there is none.
func browser(t testing.TB) context.Context {
	t.Helper()
	path := ""
	for _, name := range []string{"chromium", "chromium-browser"} {
		if found, err := exec.LookPath(name); err == nil && path == "" {
			path = found
		}
	}
	if path == "" {
		t.Skip("Chromium is not installed (Debian: chromium): the page is not tried in a browser")
	}
	allocator, stop := chromedp.NewExecAllocator(context.Background(),
		append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox, chromedp.DisableGPU)...)
	t.Cleanup(stop)
	tab, stop := chromedp.NewContext(allocator)
	t.Cleanup(stop)
	tab, stop = context.WithTimeout(tab, 4*time.Minute)
	t.Cleanup(stop)
	return tab
}

// show opens a file at a width, in light or dark colours.
func show(t *testing.T, tab context.Context, file string, width int64, scheme string) {
	t.Helper()
	err := chromedp.Do(tab, chromedp.EmulateViewport(width, 800),
		chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
			_, err := cdp.Call(ctx, target, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
				Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
			return err
		}),
		chromedp.Navigate("file://"+file))
	if err != nil {
		t.Fatal(err)
	}
}

// ask evaluates JavaScript in the page.
func ask[T any](t testing.TB, tab context.Context, script string) T {
	t.Helper()
	answer, err := chromedp.Run(tab, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatalf("%.200s: %v", script, err)
	}
	return answer
}

// axe returns the source of axe-core, which .ci/setup installs, or "" where it is not.
func axe() string {
	source, err := os.ReadFile(filepath.Join("..", "..", ".ci", "axe", "node_modules", "axe-core", "axe.min.js"))
	if err != nil {
		return ""
	}
	return string(source)
}

// violations says what axe-core's rules find in the page.
func violations(t *testing.T, tab context.Context, source string) (found []string) {
	t.Helper()
	ask[bool](t, tab, source+"\n;true")
	text := ask[string](t, tab, `axe.run(document, {resultTypes: ["violations"]}).then(r => JSON.stringify(r.violations.map(v =>
		v.id + " (" + v.impact + "): " + v.help + ", " + v.nodes.length + " times: " + v.nodes[0].html.slice(0, 200) + " " + (v.nodes[0].failureSummary || "").slice(0, 300))))`)
	if err := json.Unmarshal([]byte(text), &found); err != nil {
		t.Fatal(err)
	}
	return found
}

func TestPageInABrowser(t *testing.T) {
	tab := browser(t)
	source := axe()
	if source == "" {
		t.Log("axe-core is not installed (.ci/setup test installs it with npm): accessibility is not checked")
	}
	for name, draw := range map[string]func(*testing.T) (Page, string){"three": threeOnce, "sixty": sixtyOnce} {
		_, text := draw(t)
		file := inFile(t, text)
		for _, width := range []int64{360, 1400} {
			for _, scheme := range []string{"light", "dark"} {
				if name == "sixty" && (width == 360) != (scheme == "dark") {
					continue // the larger page at half of the combinations, to be quick
				}
				show(t, tab, file, width, scheme)
				where := fmt.Sprintf("%s trays, %d px, %s", name, width, scheme)
				if wide := ask[float64](t, tab, `document.documentElement.scrollWidth`); wide > float64(width) {
					t.Errorf("%s: the page is %g px wide", where, wide)
				}
				if asked := ask[[]string](t, tab, `performance.getEntriesByType("resource").map(e => e.name).filter(n => !n.startsWith("data:"))`); len(asked) > 0 {
					t.Errorf("%s: the page asks for more than itself: %q", where, asked)
				}
				if source != "" {
					if name == "three" { // what is folded as well
						ask[bool](t, tab, `(document.querySelectorAll("details").forEach(d => d.open = true), true)`)
					}
					for _, f := range violations(t, tab, source) {
						t.Errorf("%s: %s", where, f)
					}
				}
				saveShot(t, tab, fmt.Sprintf("%s-%d-%s.png", name, width, scheme))
			}
		}
	}
}

func saveShot(t *testing.T, tab context.Context, name string) {
	t.Helper()
	if *shots == "" {
		return
	}
	picture, err := chromedp.Run(tab, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(*shots, name), picture, 0o644); err != nil {
		t.Fatal(err)
	}
}

// The accessibility check finds something where there is something, or passing it would mean nothing.
func TestViolationsAreFound(t *testing.T) {
	source := axe()
	if source == "" {
		t.Skip("axe-core is not installed (.ci/setup test installs it with npm)")
	}
	tab := browser(t)
	show(t, tab, inFile(t, `<!doctype html><html><title>x</title><p style="color:#ccc;background:#fff">pale<img src="data:,">`), 360, "light")
	found := strings.Join(violations(t, tab, source), "\n")
	for _, rule := range []string{"html-has-lang", "image-alt", "color-contrast"} {
		if !strings.Contains(found, rule) {
			t.Errorf("%s is not found: %s", rule, found)
		}
	}
}

// Page and excerpt are valid HTML by html-validate's recommended rules, which find what is wrong where something is.
func TestPageIsValidHTML(t *testing.T) {
	folder, err := filepath.Abs(filepath.Join("..", "..", ".ci", "axe"))
	if err != nil {
		t.Fatal(err)
	}
	checker := filepath.Join(folder, "node_modules", ".bin", "html-validate")
	if _, err := os.Stat(checker); err != nil {
		t.Skip("html-validate is not installed (.ci/setup test installs it with npm)")
	}
	p, text := threeOnce(t)
	_, sixty := sixtyOnce(t)
	var excerpt bytes.Buffer
	p.Dir = "" // its photos are gone by now
	if _, err := WriteEmbed(&excerpt, p, ""); err != nil {
		t.Fatal(err)
	}
	var files []string
	for _, text := range []string{text, sixty, excerpt.String(), written(t, loggedPage(t, true)), written(t, hostilePage(t))} {
		files = append(files, inFile(t, text))
	}
	check := func(files ...string) (found []byte, err error) {
		found, err = exec.Command(checker, append([]string{"--config", filepath.Join(folder, ".htmlvalidate.json")}, files...)...).CombinedOutput()
		return regexp.MustCompile(`data:[^"]+`).ReplaceAll(found, nil), err
	}
	if found, err := check(files...); err != nil {
		t.Errorf("%v: %.3000s", err, found)
	}
	if found, err := check(inFile(t, "<!DOCTYPE html><html lang=en><head><title>x</title></head><body><p><div>x</p></body></html>")); err == nil || !bytes.Contains(found, []byte("<div>")) {
		t.Errorf("a <div> within a <p> is not found: %v: %s", err, found)
	}
}

func TestPageFiltersAndOpens(t *testing.T) {
	tab := browser(t)
	_, text := threeOnce(t)
	show(t, tab, inFile(t, text, drawnOnce["three"].beside...), 1400, "light")
	const picture = `document.querySelector(".plug .counted img")`
	if ask[bool](t, tab, picture+`.checkVisibility()`) {
		t.Error("an overlay is open to begin with")
	}
	if err := chromedp.Do(tab, chromedp.Click("#plugs > summary"), chromedp.Click(".plug .counted summary"), chromedp.WaitVisible(".plug .counted[open] img"),
		chromedp.Sleep(300*time.Millisecond)); err != nil {
		t.Fatal(err)
	}
	if natural, high := ask[float64](t, tab, picture+`.naturalWidth`), ask[float64](t, tab, picture+`.getBoundingClientRect().height`); natural < 100 || high < 50 {
		t.Errorf("the overlay has %g px and is shown %g px high", natural, high)
	}
}

// All comparisons is a line for each quantity, with what it answers; choosing a treatment unfolds what is said of it, and no more.
func TestPageFindsAComparison(t *testing.T) {
	tab := browser(t)
	p, text := threeOnce(t)
	show(t, tab, inFile(t, text), 390, "light")
	if err := chromedp.Do(tab, chromedp.Click("#intervals > summary"), chromedp.Sleep(50*time.Millisecond)); err != nil {
		t.Fatal(err)
	}
	if high := ask[float64](t, tab, `document.getElementById("intervals").getBoundingClientRect().height`); high > 3*844 {
		t.Errorf("unfolded it is %g px high, more than three screens of a phone", high)
	}
	for _, name := range []string{"Root area", "Root length", "Yellow leaf share"} {
		said := ask[string](t, tab, fmt.Sprintf(`[...document.querySelectorAll("#intervals .day[open] .group > summary")].filter(s => s.checkVisibility() && s.querySelector("h5")?.textContent === %q).map(s => s.querySelector(".says").textContent).join()`, name))
		if !regexp.MustCompile(`than|unclear|these trays only`).MatchString(said) {
			t.Errorf("of %s it says %q", name, said)
		}
	}
	choose := func(treatment string) (rows int, said string) {
		ask[bool](t, tab, fmt.Sprintf(`(() => { const s = document.querySelector("select[name=treatment]"); s.value = %q; s.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`, treatment))
		return ask[int](t, tab, `[...document.querySelectorAll("#intervals .day[open] .row")].filter(r => r.checkVisibility()).length`), ask[string](t, tab, `document.getElementById("filtered").textContent`)
	}
	want := 0
	for _, b := range newPageView(p).DayBlocks {
		for _, g := range b.Groups {
			for _, row := range g.Rows {
				if b.Last && (row.Treatment == "base feed" || row.Against == "base feed") {
					want++
				}
			}
		}
	}
	if rows, said := choose("base feed"); rows != want || want < 5 || !strings.HasSuffix(said, " comparisons") {
		t.Errorf("of base feed %d comparisons are in view, want %d; it says %q", rows, want, said)
	}
	if rows, said := choose(""); rows != 0 || said != "" {
		t.Errorf("with all treatments %d comparisons are unfolded, and it says %q", rows, said)
	}
}

// The answer, in words and drawn, is on a phone's first screen, and the plants come right after it and how far to trust it; on a laptop all of it is
// on the first.
func TestPageLeadsWithTheAnswer(t *testing.T) {
	tab := browser(t)
	_, text := threeOnce(t)
	file := inFile(t, text)
	foot := func(selector string) float64 {
		return ask[float64](t, tab, fmt.Sprintf(`(() => { const r = document.querySelector(%q).getBoundingClientRect(); return r.bottom + scrollY; })()`, selector))
	}
	shown := `#plants .picture.first-shown img`
	show(t, tab, file, 390, "light")
	if lead, picture, row := foot("h1"), foot(shown), foot("#answer .row:last-child"); lead > 400 || row > 844 || picture < row || picture > 2*844 {
		t.Errorf("the answer ends at %g px, the last interval at %g, the first plant at %g", lead, row, picture)
	}
	show(t, tab, file, 1280, "light")
	if lead, picture, row := foot("h1"), foot(shown), foot("#answer .limits"); lead > 250 || picture > 720 || row > 800 {
		t.Errorf("on a laptop the answer ends at %g px, the first plant at %g, how far to trust it at %g", lead, picture, row)
	}
	if lines := ask[int](t, tab, `document.querySelectorAll("#answer .limits li").length`); lines != 3 {
		t.Errorf("%d lines say how far to trust it, want three", lines)
	}
}

// A treatment is shown on the left of its control, leaves and roots, on the last day. Choosing another pair and another day shows those. It
// works without the script.
func TestViewerShowsTreatmentBesideControl(t *testing.T) {
	tab := browser(t)
	_, text := threeOnce(t)
	text = strings.Replace(text, pageJS, "", 1)
	if strings.Contains(text, "beforeprint") {
		t.Fatal("the script is still there")
	}
	show(t, tab, inFile(t, text), 390, "light")
	const seen = `[...document.querySelectorAll("#plants .picture img")].filter(i => i.checkVisibility()).sort((a, b) => {
		const p = a.getBoundingClientRect(), q = b.getBoundingClientRect(); return p.top - q.top || p.left - q.left; }).map(i => i.alt.split(":")[0])`
	for _, c := range []struct {
		click string
		want  []string
	}{
		{"", []string{"Base feed, leaves from above, day 17", "Water only, leaves from above, day 17", "Base feed, roots from below, day 17", "Water only, roots from below, day 17"}},
		{"#day-0", []string{"Base feed, leaves from above, day 10", "Water only, leaves from above, day 10", "Base feed, roots from below, day 10", "Water only, roots from below, day 10"}},
		{"#pair-1", []string{"Base feed + seaweed extract, leaves from above, day 10", "Base feed, leaves from above, day 10", "Base feed + seaweed extract, roots from below, day 10", "Base feed, roots from below, day 10"}},
	} {
		if c.click != "" {
			ask[bool](t, tab, fmt.Sprintf(`(document.querySelector(%q).click(), true)`, c.click))
		}
		if got := ask[[]string](t, tab, seen); !slices.Equal(got, c.want) {
			t.Errorf("after %q there are %q", c.click, got)
		}
	}
	_, sixty := sixtyOnce(t) // on one day
	show(t, tab, inFile(t, sixty), 390, "light")
	if got := ask[[]string](t, tab, seen); len(got) != 4 {
		t.Errorf("of one day there are %q", got)
	}
	show(t, tab, inFile(t, text), 390, "light")
	if sizes := ask[[]float64](t, tab, `[...document.querySelectorAll("#plants .picture img")].filter(i => i.checkVisibility()).map(i => i.getBoundingClientRect().width)`); slices.Max(sizes)-slices.Min(sizes) > 0.1 {
		t.Errorf("pictures are of different scales: %g px wide", sizes)
	}
}

// With the script the days are played one after the other, and a row of the drawing shows its pair.
func TestViewerPlaysAndFollowsTheDrawing(t *testing.T) {
	tab := browser(t)
	_, text := threeOnce(t)
	show(t, tab, inFile(t, text), 1280, "light")
	if err := chromedp.Do(tab, chromedp.Click("#play")); err != nil {
		t.Fatal(err)
	}
	if first := ask[string](t, tab, `document.querySelector(".days input:checked").value`); first != "10" {
		t.Errorf("playing begins with day %s", first)
	}
	ask[bool](t, tab, `new Promise(done => { const wait = () => document.querySelector(".days input:checked").value === "17" ? done(true) : setTimeout(wait, 50); wait(); })`)
	if said := ask[string](t, tab, `document.getElementById("play").textContent`); said != "▶ play" {
		t.Errorf("at the end the button says %q", said)
	}
	row := ask[string](t, tab, `(() => { const r = [...document.querySelectorAll("#answer .row")].find(r => r.dataset.pair.startsWith("base feed + seaweed extract")); r.click(); return r.dataset.pair; })()`)
	if got := ask[string](t, tab, `document.querySelector(".pairs input:checked").value`); got != row {
		t.Errorf("a click on %q shows %q", row, got)
	}
}

// A link in the answer leads to a comparison that is folded away.
func TestPageLinkOpensWhatItLeadsTo(t *testing.T) {
	tab := browser(t)
	p, text := threeOnce(t)
	show(t, tab, inFile(t, text), 360, "light")
	for _, c := range p.Compared.On(10).Comparisons {
		if c.Quantity == outcome.RootArea {
			ask[string](t, tab, fmt.Sprintf(`location.hash = %q`, comparisonID(c)))
			if err := chromedp.Do(tab, chromedp.WaitVisible("#"+comparisonID(c))); err != nil {
				t.Errorf("%s stays folded: %v", comparisonID(c), err)
			}
		}
	}
}

func TestPagePrints(t *testing.T) {
	tab := browser(t)
	p, text := threeOnce(t)
	show(t, tab, inFile(t, text), 1400, "dark")
	pdf, err := chromedp.Run(tab, chromedp.PrintToPDF(chromedp.PDFPaper(chromedp.PaperA4), chromedp.PDFPreferCSSPageSize(), chromedp.PDFPrintBackground()))
	if err != nil {
		t.Fatal(err)
	}
	if *shots != "" {
		if err := os.WriteFile(filepath.Join(*shots, "printed.pdf"), pdf, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.HasPrefix(pdf, []byte("%PDF-")) {
		t.Fatalf("no PDF: %.20q", pdf)
	}
	reader, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("pdftotext is not installed (Debian: poppler-utils): the printed words are not looked at")
	}
	cmd := exec.Command(reader, "-", "-")
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	words := strings.Join(strings.Fields(string(out)), " ")
	for _, want := range []string{"How far to trust this", "Growth and colour", answer.Interval(p.Compared.On(17).Comparisons[0]), p.Trial.Trays[len(p.Trial.Trays)-1].SHA256[:12]} {
		if !strings.Contains(words, want) {
			t.Errorf("the printed page lacks %q", want)
		}
	}
	if strings.Contains(words, "all treatments") {
		t.Error("the filter is printed")
	}
}

// On a phone whatever is tapped is 44 px high or more (WCAG 2.2, success criterion 2.5.5), links within a sentence aside, and tables fit.
func TestPageIsMadeForFingers(t *testing.T) {
	tab := browser(t)
	_, text := threeOnce(t)
	show(t, tab, inFile(t, text), 390, "light")
	ask[bool](t, tab, `(document.querySelectorAll("details").forEach(d => d.open = true), true)`)
	seen := `[...document.querySelectorAll(".choose label, #play, summary, nav a, p.more a, select, .photos li b a, .whole label")].filter(e => e.checkVisibility())`
	if n := ask[int](t, tab, seen+`.length`); n < 20 {
		t.Fatalf("only %d things to tap: the page lacks what is tested here", n)
	}
	for _, small := range ask[[]string](t, tab, seen+`.filter(e => e.getBoundingClientRect().height < 44).map(e => e.getBoundingClientRect().height + " px: " + e.innerText)`) {
		t.Error(small)
	}
	for _, wide := range ask[[]string](t, tab, `[...document.querySelectorAll(".scroll")].filter(e => e.scrollWidth > e.clientWidth + 1).map(e => e.ariaLabel + ": " + e.scrollWidth + " px in " + e.clientWidth)`) {
		t.Error(wide)
	}
}
