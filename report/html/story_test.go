package html

import (
	"html"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/report"
	"traygauge/report/html/answer"
	"traygauge/report/testtrial"
)

// loggedPage is the page of three trays with a log: a lamp for all, an accident of tray 7, feedings on days 7 and 11.
func loggedPage(t *testing.T, public bool) Page {
	t.Helper()
	p := testtrial.Plan()
	log := []logbook.Entry{
		{When: testtrial.Taken(12, 8, 0), What: "lamp", Note: "raised by Josefina"}, {When: testtrial.Taken(14, 20, 0), Tray: 7, What: "note", Note: "Josefina knocked it over"},
		{When: testtrial.Taken(7, 10, 0), Tray: 7, What: logbook.Feeding, Product: "base feed"}, {When: testtrial.Taken(7, 10, 0), Tray: 7, What: logbook.Feeding, Product: "sugar"},
		{When: testtrial.Taken(11, 10, 0), Tray: 7, What: logbook.Feeding}, {When: testtrial.Taken(11, 10, 4), Tray: 12, What: logbook.Feeding},
	}
	dir, readings := testtrial.InPhotos(t, p, testtrial.WholeTrays(), 2)
	page := Page{Trial: report.Collect(p, readings), Readings: readings, Log: log, Dir: dir, Public: public}
	if public {
		page.Trial, page.Readings = report.CollectPublic(p, readings)
	}
	page.Compared = compare.Of(page.Trial.Plan, page.Readings, log, compare.Options{Public: public})
	return page
}

// Pictures, curve, feedings and what the log notes stand on one axis, which begins with the first feeding: days 7 to 17, so that day 12 is in the
// middle.
func TestGrowthIsOneStory(t *testing.T) {
	p := loggedPage(t, false)
	v := newPageView(p)
	if len(v.Growth) < 2 || v.Growth[0].Quantity != outcome.LeafArea || v.Growth[1].Quantity != outcome.RootArea {
		t.Fatalf("growth is %+v", v.Growth)
	}
	panels := v.Growth[0].Panels
	at := slices.IndexFunc(panels, func(g growthPanel) bool { return g.Treatment == "base feed" })
	g := panels[at]
	dots := g.Lines[len(g.Lines)-1].Dots
	if len(g.Pictures) != 2 || len(dots) != 2 || g.Pictures[0].X != dots[1].X || g.Pictures[1].X != dots[0].X {
		t.Errorf("pictures at %v, figures at %v", g.Pictures, dots)
	}
	if want := []string{"14.00%", "43.60%"}; !slices.Equal(g.Feedings, want) { // (11 − 7)/10 of the 74 % between 14 and 88 %
		t.Errorf("fed at %q, want %q", g.Feedings, want)
	}
	if len(g.Marks) != 2 || g.Marks[0].Label != "1" || g.Marks[0].At != "51.00%" || g.Marks[1].Label != "2" {
		t.Errorf("marks are %+v", g.Marks)
	}
	if water := panels[slices.IndexFunc(panels, func(g growthPanel) bool { return g.Treatment == "water only" })]; len(water.Marks) != 1 || len(water.Feedings) != 0 {
		t.Errorf("water only, which was not fed and had no accident, has marks %+v and feedings %q", water.Marks, water.Feedings)
	}
	text := html.UnescapeString(written(t, p))
	for _, want := range []string{"Day 12, all trays: lamp: raised by Josefina", "Day 14, tray 7: Josefina knocked it over", "Tray 7 (base feed), day 14: Josefina knocked it over"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// In public the same marks stay, and that words are left out is said.
func TestPublicStoryKeepsItsMarks(t *testing.T) {
	own, public := newPageView(loggedPage(t, false)), newPageView(loggedPage(t, true))
	for i := range own.Growth[0].Panels {
		if a, b := own.Growth[0].Panels[i], public.Growth[0].Panels[i]; !slices.Equal(a.Marks, b.Marks) || !slices.Equal(a.Feedings, b.Feedings) {
			t.Errorf("%s: %v becomes %v", a.Treatment, a.Marks, b.Marks)
		}
	}
	text := html.UnescapeString(written(t, loggedPage(t, true)))
	for _, want := range []string{"Day 12, all trays: lamp (log entry not shown)", "Tray 7 (base feed), day 14: something happened to it that was not part of the treatment", "Not published: notes, the wording of log entries"} {
		if !strings.Contains(text, want) {
			t.Errorf("the public page lacks %q", want)
		}
	}
	if strings.Contains(text, "Josefina") || strings.Contains(text, "knocked") {
		t.Error("the log's words are public")
	}
}

// A tray that was fed by the log what the plan does not give it is no fair control: the page says so beside the answer, in public as well.
func TestFeedingAgainstThePlanIsNamed(t *testing.T) {
	for _, public := range []bool{false, true} {
		p := loggedPage(t, public)
		p.Log = []logbook.Entry{{When: testtrial.Taken(11, 10, 0), Tray: 1, What: logbook.Feeding, Product: "base feed", AmountML: 3, WaterML: math.NaN()}}
		p.Compared = compare.Of(p.Trial.Plan, p.Readings, p.Log, compare.Options{Public: public})
		const words = "fed 3 mL base feed, which is not in the plan for it"
		if lines := trustLines(p); !strings.HasPrefix(lines[1], "Tray 1 (water only), day 11: "+words) {
			t.Errorf("public %v: %q", public, lines[1])
		}
		limits := func(l string) bool { return strings.Contains(l, "ray 1 (water only), log of day 11: "+words) }
		if text := html.UnescapeString(written(t, p)); !slices.ContainsFunc(p.Compared.Limits, limits) || !strings.Contains(text, "Day 11, tray 1: "+words) {
			t.Errorf("public %v: not among the limits %q, or not in the list of the log", public, p.Compared.Limits)
		}
		if !slices.ContainsFunc(p.Compared.Without, func(w outcome.Without) bool { return w.Tray == 1 }) && len(p.Compared.Answer.Lines) > 0 {
			t.Errorf("public %v: the answer without tray 1 is missing", public)
		}
	}
}

// Three lines say how far to trust the answer, with an accident and without, and with a log and without.
func TestThreeLinesOfTrust(t *testing.T) {
	p := loggedPage(t, false)
	quiet, silent := p, p
	quiet.Log, silent.Log = p.Log[2:], nil
	for _, k := range []struct {
		page Page
		want string
	}{{p, "Tray 7 (base feed), day 14: Josefina knocked it over."}, {quiet, "The log records no accident to a single tray."}, {silent, "The trial has no log, so accidents are unknown."}} {
		k.page.Compared = compare.Of(p.Trial.Plan, p.Readings, k.page.Log, compare.Options{})
		lines := trustLines(k.page)
		if len(lines) != 3 || !strings.HasPrefix(lines[1], k.want) || !strings.HasPrefix(lines[0], "Each treatment has only one tray") || !strings.Contains(lines[2], "label") {
			t.Errorf("%q", lines)
		}
	}
}

// Sentences begin with capitals and nothing is quaint: words that readers stumbled over are gone.
func TestPageSpeaksPlainly(t *testing.T) {
	_, text := threeOnce(t)
	for _, quaint := range []string{"cannot tell", "What limits it", "drawn below", "gave nothing<", "Every photo, and what it gave", "stand in comparisons.csv", "it has no control", "trays treated alike vary by", "× 2."} {
		if strings.Contains(text, quaint) {
			t.Errorf("the page says %q", quaint)
		}
	}
	for _, tag := range []string{"<p>", "<li>", "<dd>", "<h2", "<h3>", "<h4>"} {
		for _, part := range strings.Split(text, tag)[1:] {
			if tag == "<h2" {
				_, part, _ = strings.Cut(part, ">")
			}
			part = strings.TrimLeft(part, " \n")
			if len(part) > 0 && part[0] >= 'a' && part[0] <= 'z' {
				t.Errorf("%s begins in lower case: %.60s", tag, part)
			}
		}
	}
}

// The pictures begin with the day that the plan asks for, which is not always the last.
func TestViewerBeginsWithTheDayAskedFor(t *testing.T) {
	p := loggedPage(t, false)
	p.Trial.Plan.MainQuestion = plan.Question{Quantity: outcome.LeafArea, Day: 10, WorthPct: 20, Line: 1}
	p.Compared = compare.Of(p.Trial.Plan, p.Readings, p.Log, compare.Options{})
	v := newPageView(p).Viewer
	if !v.Days[0].First || v.Days[1].First || !v.Columns[0].Views[0].Pictures[0].First || v.Columns[0].Views[0].Pictures[0].Index != 0 {
		t.Errorf("days %+v, first picture of day %d", v.Days, v.Columns[0].Views[0].Pictures[0].Index)
	}
	c, err := answer.Beforehand(p.Trial.Plan, p.Compared, "")
	if err != nil || c.Day != 10 || c.Quantity != outcome.LeafArea {
		t.Errorf("the picture to share is of %s on day %d (%v)", c.Quantity, c.Day, err)
	}
}

// What is the same for all comparisons of a quantity is said once for all of them: means with their error bars, how trays vary, what limits
// them. On a phone a comparison takes a few lines, all of it unfolded: names, drawing, figures, test.
func TestComparisonsAreAFewLinesEach(t *testing.T) {
	p := pageWithPhotos(t)
	for _, b := range newPageView(Page{Trial: p.Trial, Compared: p.Compared, Readings: p.Readings}).DayBlocks {
		for _, g := range b.Groups {
			if len(g.Shared.Means) != len(p.Trial.Plan.Treatments) {
				t.Errorf("day %d, %s: means are %+v", b.Day, g.Quantity, g.Shared.Means)
			}
			for _, m := range g.Shared.Means {
				if slices.Contains(everyDay, g.Quantity) && !regexp.MustCompile(`^[0-9.]+ ± [0-9.]+ mm²$`).MatchString(m.Mean) {
					t.Errorf("day %d, %s of %s: the mean is %q", b.Day, g.Quantity, m.Treatment, m.Mean)
				}
			}
			if once := slices.Compact(slices.Sorted(slices.Values(g.Shared.Limits))); len(once) != len(g.Shared.Limits) {
				t.Errorf("day %d, %s: limits are said more than once: %q", b.Day, g.Quantity, g.Shared.Limits)
			}
		}
	}
	tab := browser(t)
	_, text := threeOnce(t)
	show(t, tab, inFile(t, text), 390, "light")
	ask[bool](t, tab, `(document.querySelectorAll("details").forEach(d => d.open = true), true)`)
	heights := ask[[]float64](t, tab, `[...document.querySelectorAll("#intervals .row")].map(r => r.getBoundingClientRect().height)`)
	if len(heights) < 5 || slices.Max(heights) > 6*24 {
		t.Errorf("comparisons are %g px high", heights)
	}
}
