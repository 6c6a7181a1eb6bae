package html

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"net/http"
	"net/http/httptest"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"traygauge/measure/checks"
	"traygauge/measure/compare"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/html/share"
	"traygauge/report/testtrial"
)

var benchTrial = flag.String("trial", "", "a trial's folder that has been measured, for BenchmarkPage to take instead of its own")

// BenchmarkPage prints what a reader of the page waits for: its bytes (page-bytes), how many requests it makes until it is loaded (requests), those
// beside it that are asked for only when opened (beside-files, beside-bytes), the excerpt's bytes (embed-bytes), and the seconds until the first
// plant and until everything has come over a line of 1.6 Mbit/s and 150 ms (s-to-first-picture, s-to-all), in headless Chromium. Its trial has
// five treatments, eight trays and three reviews, with grain for plants; -args -trial demo-trial takes the demo's instead.
func BenchmarkPage(b *testing.B) {
	p := pageToWeigh(b)
	var text, excerpt bytes.Buffer
	beside, _, err := WritePage(&text, p)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := WriteEmbed(&excerpt, p, ""); err != nil {
		b.Fatal(err)
	}
	files := 0
	for _, picture := range beside {
		files += len(picture.JPEG)
	}
	var asked atomic.Int64
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		asked.Add(1)
		if r.URL.Path != "/" {
			http.NotFound(w, r)
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		w.Write(text.Bytes())
	}))
	defer server.Close()
	var first, all time.Duration
	for b.Loop() {
		asked.Store(0)
		f, a := overASlowLine(b, server.URL)
		first, all = first+f, all+a
	}
	b.ReportMetric(float64(text.Len()), "page-bytes")
	b.ReportMetric(float64(asked.Load()), "requests")
	b.ReportMetric(float64(len(beside)), "beside-files")
	b.ReportMetric(float64(files), "beside-bytes")
	b.ReportMetric(float64(excerpt.Len()), "embed-bytes")
	b.ReportMetric(first.Seconds()/float64(b.N), "s-to-first-picture")
	b.ReportMetric(all.Seconds()/float64(b.N), "s-to-all")
	b.ReportMetric(0, "ns/op") // a reader's wait is above; this is mostly Chromium's own start
}

// emulateLine slows a tab's line down. Its command has the fields of overrideNetworkState, which only tells pages of a line; the binding has its
// successor alone, which Chromium has since 2025.
var emulateLine = cdp.Command[network.OverrideNetworkStateParams, cdp.Empty]{Method: "Network.emulateNetworkConditions"}

// overASlowLine opens a page in a new browser over 1.6 Mbit/s with 150 ms there and back, and says how long the first picture of a plant, and
// the whole page, take.
func overASlowLine(b *testing.B, address string) (first, all time.Duration) {
	b.Helper()
	tab := browser(b)
	const bytesPerSecond = 1.6e6 / 8
	watch := `window.seen = 0; (function look() {
		const i = document.querySelector("#plants .first-shown img");
		if (!window.seen && i && i.checkVisibility() && i.complete && i.naturalWidth > 0) requestAnimationFrame(() => { window.seen = performance.now(); });
		if (!window.seen) setTimeout(look, 10);
	})();`
	err := chromedp.Do(tab, chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		if _, err := cdp.Call(ctx, target, emulateLine, network.OverrideNetworkStateParams{Latency: 150, DownloadThroughput: bytesPerSecond, UploadThroughput: bytesPerSecond}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, target, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: watch})
		return err
	}), chromedp.EmulateViewport(390, 844), chromedp.Navigate(address))
	if err != nil {
		b.Fatal(err)
	}
	ms := ask[[]float64](b, tab, `new Promise(done => { (function look() {
		const loaded = performance.getEntriesByType("navigation")[0].loadEventEnd;
		if (window.seen && loaded) done([window.seen, loaded]); else setTimeout(look, 20);
	})(); })`)
	return time.Duration(ms[0] * float64(time.Millisecond)), time.Duration(ms[1] * float64(time.Millisecond))
}

// pageToWeigh is the page of the trial that was named, or of five treatments in eight trays on three days.
func pageToWeigh(b *testing.B) Page {
	b.Helper()
	if *benchTrial != "" {
		p, findings, err := plan.Load(*benchTrial)
		if err != nil || p == nil {
			b.Fatal(findings, err)
		}
		readings, broken := reading.LoadReadings(*benchTrial)
		log, _, err := logbook.Load(*benchTrial)
		if err != nil || len(broken) > 0 || len(readings) == 0 {
			b.Fatalf("%d readings, %v, %v: run `traygauge measure` first", len(readings), broken, err)
		}
		readings = checks.Together(p, readings)
		return Page{Trial: report.Collect(p, readings), Compared: compare.Of(p, readings, log, compare.Options{}), Readings: readings, Log: log, Dir: *benchTrial, Share: share.File}
	}
	p := testtrial.Plan()
	p.Treatments, p.Trays, p.ReviewDays = nil, nil, []int{14, 21, 28}
	var readings []reading.Reading
	for i, name := range []string{"water only", "base feed", "sugar", "seaweed", "seaweed + sugar"} {
		t := plan.Treatment{Name: name}
		if i > 0 {
			t.CompareWith = []string{p.Treatments[0].Name}
		}
		p.Treatments = append(p.Treatments, t)
		for k := range 1 + min(1, i%4) {
			tray := len(p.Trays) + 1
			p.Trays = append(p.Trays, plan.Tray{Number: tray, Treatment: name, Position: tray})
			for _, day := range p.ReviewDays {
				var roots, leaves []reading.Plug
				for n := range 50 {
					size := float64(day) * (1 + 0.2*float64(i)) * (0.7 + float64((n*37+tray*11+k)%50)/80)
					plug := plan.PlugName(n/10, n%10)
					roots, leaves = append(roots, testtrial.RootPlug(plug, size, 3)), append(leaves, testtrial.LeafPlug(plug, size*9, 2))
				}
				readings = append(readings, testtrial.Reading(fmt.Sprintf("day%d/tray%d-roots.jpg", day, tray), tray, "roots", testtrial.Taken(day, 9, 0), roots...),
					testtrial.Reading(fmt.Sprintf("day%d/tray%d-shoots.jpg", day, tray), tray, "shoots", testtrial.Taken(day, 9, 30), leaves...))
			}
		}
	}
	dir, readings := testtrial.InGrainyPhotos(b, p, readings, 4, 14)
	return Page{Trial: report.Collect(p, readings), Compared: compare.Of(p, readings, nil, compare.Options{}), Readings: readings, Log: []logbook.Entry{}, Dir: dir, Share: share.File}
}
