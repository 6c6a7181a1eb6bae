package logbook

import (
	"math"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/plan"
)

// departing is a plan of one tray with water and one that gets 2 mL of feed a litre from day 7, and 1.5 L of mix: 3 mL.
func departing() *plan.Plan {
	p := sown()
	p.FeedDays = []int{7, 14}
	p.Volume.MLPerTray = 1500
	p.Treatments = []plan.Treatment{{Name: "water"}, {Name: "feed", Gets: []plan.Dose{{Product: "feed", MLPerL: 2, FromDay: 7}}}}
	p.Trays = []plan.Tray{{Number: 1, Treatment: "water"}, {Number: 2, Treatment: "feed"}}
	return p
}

// What a tray was given beside its treatment is a reason for a difference: none of it may go unsaid.
func TestFeedingsThatDepartFromThePlan(t *testing.T) {
	p := departing()
	day := func(n int) string { return p.DateOf(n).Format("2006-01-02") + "T12:00:00Z" }
	for _, c := range []struct{ line, want, public string }{
		{day(7) + ",1,feeding,,,1500,", "", ""},
		{day(7) + ",2,feeding,feed,3.00,1500,", "", ""},
		{day(7) + ",2,feeding,,,1500,", "", ""},      // its mix
		{day(6) + ",2,feeding,feed,3,1500,", "", ""}, // moved by a day
		{day(7) + ",2,feeding,feed,1.2,600,", "", ""},
		{day(7) + ",2,feeding,feed,,,", "", ""},
		{day(7) + ",,feeding,feed,12,6000,", "", ""}, // all trays together
		{day(7) + ",1,feeding,feed,0,1500,", "", ""},
		{day(7) + ",1,feeding,Water,1500,1500,", "", ""}, // is no product
		{day(7) + ",2,feeding,water,1500,1500,", "fed 1500 mL water, which is not in the plan for it", ""},
		{day(7) + ",1,feeding,feed,3,1500,", "fed 3 mL feed, which is not in the plan for it", ""},
		{day(7) + ",1,feeding,feed,,,", "fed feed, which is not in the plan for it", ""},
		{day(2) + ",2,feeding,feed,3,1500,", "", ""}, // nearest to the first feeding
		{day(7) + ",2,feeding,feed,30,1500,", "fed 30 mL feed; the plan says 3 mL", ""},
		{day(7) + ",2,feeding,feed,0.3,1500,", "fed 0.3 mL feed; the plan says 3 mL", ""},
		{day(7) + ",2,feeding,feed,0,1500,", "fed 0 mL feed; the plan says 3 mL", ""},
		{day(7) + ",2,feeding,feed,3,15000,", "fed 15000 mL in total; the plan says 1500 mL|fed 3 mL feed; the plan says 30 mL", ""},
		{day(7) + ",2,feeding,algicide,3,1500,", "fed 3 mL algicide, which is not in the plan for it", "fed 3 mL of another product, which is not in the plan for it"},
		{day(7) + ",2,feeding,feed,3,1500,half was spilled", "half was spilled", "its feeding has a note (not shown)"},
	} {
		entries, findings := Parse([]byte(Header+"\n"+c.line+"\n"), FileName)
		if len(findings) > 0 {
			t.Fatalf("%s: %s", c.line, list(findings))
		}
		if c.public == "" {
			c.public = c.want
		}
		for public, want := range map[bool]string{false: c.want, true: c.public} {
			var got []string
			for _, d := range Departures(p, entries, public) {
				got = append(got, d.Words)
			}
			if strings.Join(got, "|") != want {
				t.Errorf("%s, public %v: %q, want %q", c.line, public, got, want)
			}
		}
	}
	// A feeding's products are lines of their own; the volume is on the first.
	entries, _ := Parse([]byte(Header+"\n"+day(7)+",2,feeding,other,1,15000,\n"+day(7)+",2,feeding,feed,30,,\n"), FileName)
	if slices.ContainsFunc(Departures(p, entries, false), func(d Departure) bool { return strings.Contains(d.Words, "30 mL feed") }) {
		t.Errorf("30 mL in 15 L is the plan's strength: %v", Departures(p, entries, false))
	}
}

// What is noted with most trays' feedings of a day, such as the pH, sets no tray apart from the others.
func TestNotesOfMostTraysAreOfTheDay(t *testing.T) {
	p := departing()
	p.Trays = append(p.Trays, plan.Tray{Number: 3, Treatment: "feed"})
	for notes, want := range map[string]int{"1": 1, "12": 0, "123": 0} {
		var log []Entry
		for _, tray := range notes {
			log = append(log, Entry{When: p.Sown.AddDate(0, 0, 7), Tray: int(tray - '0'), What: Feeding, AmountML: math.NaN(), WaterML: math.NaN(), Note: "pH 6.1"})
		}
		if got := Departures(p, log, false); len(got) != want {
			t.Errorf("notes of trays %s: %+v", notes, got)
		}
	}
}

// The plan's checker names the line; a product that is in no treatment has a finding of its own.
func TestLogFitsWhatTraysGet(t *testing.T) {
	p := departing()
	at := p.Sown.AddDate(0, 0, 7)
	findings := Fits(p, []Entry{{When: at, Tray: 1, What: Feeding, Product: "feed", AmountML: 3, WaterML: 1500, Line: 2}, {When: at, Tray: 2, What: Feeding, Product: "fed", AmountML: 3, WaterML: 1500, Line: 3},
		{When: at, Tray: 2, What: Feeding, Product: "feed", AmountML: 30, WaterML: 1500, Line: 4, Note: "a note is no mistake"}}, FileName)
	var lines []int
	for _, f := range findings {
		lines = append(lines, f.Line)
	}
	if !slices.Equal(lines, []int{2, 3, 4}) || !strings.Contains(findings[0].String(), "tray 1 (water) was fed 3 mL feed, which is not in the plan for it") {
		t.Errorf("%s", list(findings))
	}
}
