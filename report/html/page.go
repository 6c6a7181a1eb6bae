// Package html writes the web page of a trial, and an excerpt to embed in another page.
//
//	in    a Page: a report.Trial, its comparisons, the log and the trial's folder
//	out   one HTML file with everything that the answer needs, and the pictures beside it
//
// It must not depend on how anything was measured or compared, or on what is private: report.CollectPublic removes private data.
// Templates, style and script are in page/; text, axes, colours, plugs and the picture to share are in subpackages.
package html

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report"
	"traygauge/report/html/answer"
	"traygauge/report/html/colours"
	"traygauge/report/html/plugs"
	"traygauge/report/table"
)

// Page is what the page is made from.
type Page struct {
	Trial    *report.Trial
	Compared *outcome.Result
	Readings []reading.Reading // those that Trial and Compared come from
	Log      []logbook.Entry   // the trial's log, nil for none
	Dir      string            // the trial's folder, where photos and overlays are; "" for a page without pictures
	Public   bool              // the others come from CollectPublic; the page leads to no file of the trial
	Address  Address           // where the page will be published
	Share    string            // the picture to share, beside the page; "" for none
	Of       string            // the treatment that the picture is of; "" for the plan's first with a control
}

//go:embed page/*.html
var pageTemplates embed.FS

//go:embed page/page.css
var pageCSS string

//go:embed page/page.js
var pageJS string

var pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{
	"pair":    func(g intervalGroup, day int) dayGroup { return dayGroup{day, g} },
	"counted": wording.Counted,
	"joined":  func(words []string) string { return strings.Join(words, "; ") },
	"upper":   func(s string) string { return strings.TrimSuffix(wording.Upper(s), ".") },
	"pairOf":  func(grid string, row intervalRow) drawnInterval { return drawnInterval{grid, row} },
}).ParseFS(pageTemplates, "page/*.html"))

// dayGroup is what the template draws a quantity from.
type dayGroup struct {
	Day   int
	Group intervalGroup
}

// drawnInterval is what the template draws a dot and a bar from.
type drawnInterval struct {
	Grid string
	Row  intervalRow
}

// WritePage writes the trial as a page: the answer, plants beside each other, and how far to trust it; then what it rests on, and the way
// back to each photo. All that the answer needs is in the page itself; beside are pictures that it asks for when someone opens them, to
// be put into plugs.Folder beside it. Its numbers are those of the CSV files and of the terminal. What went wrong with single pictures is
// returned and costs only them.
func WritePage(w io.Writer, p Page) (beside []plugs.Picture, lost []string, err error) {
	v := newPageView(p)
	var out bytes.Buffer
	if err := pageTemplate.ExecuteTemplate(&out, "page.html", v); err != nil {
		return nil, nil, fmt.Errorf("cannot make the page: %w", err)
	}
	_, err = w.Write(plusAsOne(out.Bytes()))
	return v.beside, v.lost, err
}

// plusAsOne writes each plus as one character. The template escapes it for browsers that took UTF-7 for what it is not; the page names its
// encoding, and in text and in quotes a plus means nothing else.
func plusAsOne(page []byte) []byte { return bytes.ReplaceAll(page, []byte("&#43;"), []byte("+")) }

// pageView is what the template shows.
type pageView struct {
	Title, Crop, Headline, Deck string
	Style                       template.CSS
	Script                      template.JS
	Public                      bool
	Address                     Address
	Share                       string
	Icon                        template.HTMLAttr

	Day         int // the last review; below 0 for none
	Date        string
	Answer      outcome.Answer
	Viewer      *viewer
	Plot        *dotPlot
	Trust       []string
	Answers     []answerLine
	AnswersMore int // that are under All comparisons alone
	Doses       []doseBlock
	Places      []outcome.Place
	Outliers    []outcome.Outlier
	Without     []outcome.Without
	Limits      []string
	Got         []gotRow
	Names       []string // of treatments, for the filter

	DayBlocks  []dayBlock
	Growth     []growthBlock
	Events     []event // those with a mark
	EventsMore int     // that have none
	Fed        bool    // the log has feedings
	Strips     []strip
	Colour     []colourRow
	Evidence   []evidenceDay
	Unused     []report.Passage

	Corrections, Settings []report.Passage
	TrialLimits           []string
	Definitions, Words    []report.Definition
	Cautions              []string

	beside []plugs.Picture
	lost   []string
}

func newPageView(p Page) *pageView {
	pl := p.Trial.Plan
	v := newAnswerView(p)
	v.Limits, v.Doses, v.Places, v.Outliers, v.Without = p.Compared.Limits, doseBlocks(p.Compared), p.Compared.Places, p.Compared.Outliers, p.Compared.Without
	v.Script, v.Definitions, v.Words, v.Cautions = template.JS(pageJS), report.Definitions, report.States, report.ResultCautions(p.Public)
	v.Settings, v.Corrections, v.TrialLimits = report.SettingsOf(p.Trial), report.CorrectionsOf(p.Trial), report.LimitsOf(p.Trial)
	today := p.Compared.On(v.Day)
	if v.Answers = answers(today); len(v.Answers) > mostAnswers {
		v.Answers, v.AnswersMore = v.Answers[:mostAnswers], len(v.Answers)-mostAnswers
	}
	for _, t := range pl.Treatments {
		v.Names = append(v.Names, t.Name)
		v.Got = append(v.Got, gotRow{t.Name, getsWords(t), strings.Join(t.CompareWith, "; "), strings.Join(strings.Fields(report.TrayList(trayNumbers(pl, t.Name))), ", ")})
	}
	v.DayBlocks = dayBlocks(p)
	v.Colour = colourRows(today)
	days, stand := plugs.Days(p.Trial, p.Compared), plugs.Standing(p.Trial, p.Compared)
	shown := plugs.Take(p.Trial, p.Readings, p.Dir, v.Day, stand)
	v.Viewer = viewerOf(p, days, stand, shown)
	if v.Viewer != nil {
		v.Style += v.Viewer.Rules
	}
	events := eventsOf(p)
	for _, e := range events {
		switch {
		case e.fed:
			v.Fed = true
		case e.Mark != "":
			v.Events = append(v.Events, e)
		default:
			v.EventsMore++
		}
	}
	v.Growth = growthBlocks(p, v.Viewer, events)
	v.Strips = strips(p.Trial, shown, v.Day)
	v.Evidence = evidence(p, shown, v.Day)
	for _, u := range report.UnusedPhotos(p.Trial) {
		v.Unused = append(v.Unused, report.Passage{Heading: u.Photo, Words: u.Why})
	}
	v.beside, v.lost = shown.Beside, shown.Lost
	return v
}

// newAnswerView holds what the page and its excerpt for other pages both show.
func newAnswerView(p Page) *pageView {
	pl := p.Trial.Plan
	v := &pageView{
		Title: pl.Title, Crop: pl.Crop, Public: p.Public, Address: p.Address, Share: p.Share, Icon: icon(),
		Day: p.Compared.LastDay, Answer: p.Compared.Answer, Headline: answer.Headline(p.Compared), Plot: answerPlot(p), Trust: trustLines(p),
		Style: template.CSS(colours.CSS() + pageCSS),
	}
	if v.Title == "" {
		v.Title = "Trial"
	}
	if v.Day >= 0 && !pl.Sown.IsZero() {
		v.Date = pl.DateOf(v.Day).Format("2 January 2006")
	}
	v.Deck = deck(p)
	return v
}

// deck says below the headline what was asked and of how much.
func deck(p Page) string {
	a := p.Compared.Answer
	if p.Compared.LastDay < 0 {
		return ""
	}
	asked := fmt.Sprintf("%s on day %d", wording.Upper(a.Quantity), a.Day)
	switch q := p.Trial.Plan.MainQuestion; {
	case a.Planned:
		asked += ", the question set in the plan before the data came in"
	case q.Planned():
		asked += fmt.Sprintf("; the plan’s main question, %s on day %d, cannot be answered yet, so everything here is exploratory", q.Quantity, q.Day)
	default:
		asked += "; the plan has no main question, so everything here is exploratory"
	}
	return fmt.Sprintf("%s. %s, %s.", asked, wording.Upper(wording.CountedInWords(len(p.Trial.Plan.Treatments), "treatment", "treatments")), wording.CountedInWords(len(p.Trial.Plan.Trays), "tray", "trays"))
}

func trayNumbers(p *plan.Plan, treatment string) []int {
	ns := p.TraysOf(treatment)
	slices.Sort(ns)
	return ns
}

// gotRow says what a treatment is.
type gotRow struct{ Name, Gets, Against, Trays string }

func getsWords(t plan.Treatment) string {
	var words []string
	for _, d := range t.Gets {
		w := fmt.Sprintf("%s %s mL/L", d.Product, table.Plain(d.MLPerL))
		if d.Written != "" && !strings.HasSuffix(d.Written, "mL/L") { // as the label and the plan have it, with the conversion
			w = fmt.Sprintf("%s %s (%s mL/L)", d.Product, d.Written, wording.ToPlace(d.MLPerL, wording.PlaceOf(d.MLPerL, 2)))
		}
		if d.FromDay > 0 {
			w += fmt.Sprintf(" from day %d", d.FromDay)
		}
		words = append(words, w)
	}
	if len(words) == 0 {
		return "water only"
	}
	return strings.Join(words, "; ")
}

// answerLine is one clear difference beside the main question.
type answerLine struct {
	Words     string
	ID, About string // of the comparison below
}

// mostAnswers is how many clear differences beside the main question are said in words.
const mostAnswers = 5

// answers lists a day's clear differences that the plan did not ask for.
func answers(r *outcome.Result) []answerLine {
	var lines []answerLine
	for _, match := range r.Matches() {
		for _, c := range match {
			if c.Verdict.Clear() && c.Told() && !report.Answered(r, c) {
				lines = append(lines, answerLine{fmt.Sprintf("%s (95 %% interval %s)", strings.TrimSuffix(answer.Sentence(c), "."), answer.Interval(c)), comparisonID(c), c.Match() + ", " + c.Quantity})
			}
		}
	}
	return lines
}

// colourRow is a tray's growth and colour.
type colourRow struct {
	Tray                                          int
	Treatment, Against, Root, Leaf, Yellow, Brown string
	Says, Why                                     string
}

func colourRows(r *outcome.Result) []colourRow {
	var rows []colourRow
	for _, g := range r.Trays {
		row := colourRow{Tray: g.Tray, Treatment: g.Treatment, Against: g.Control, Says: string(g.Growing), Why: g.Why,
			Root: with("", table.Digits(g.RootRatio, 2), " ×"), Leaf: with("", table.Digits(g.LeafRatio, 2), " ×"),
			Yellow: with("", table.Digits(g.ChloroticPct, 0), " %"), Brown: with("", table.Digits(g.BrowningPct, 0), " %")}
		switch {
		case row.Against == "":
			row.Says, row.Why = row.Why, g.Gaps()
		case row.Says == "":
			row.Says, row.Why = "not classified", withGaps(g)
		}
		rows = append(rows, row)
	}
	return rows
}

// withGaps is why a tray is not classified, and how many plants it has where these are few.
func withGaps(g outcome.TrayGrowth) string {
	if gaps := g.Gaps(); gaps != "" {
		return g.Why + ", " + gaps
	}
	return g.Why
}

// with puts words around a figure, and nothing around none.
func with(before, figure, after string) string {
	if figure == "" {
		return ""
	}
	return before + figure + after
}
