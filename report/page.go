package report

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"traygauge/measure"
	"traygauge/measure/compare"
	"traygauge/measure/plan"
)

// Page is what the page is made from.
type Page struct {
	Trial    *Trial
	Compared *compare.Result
	Readings []measure.Reading // those that Trial and Compared come from
	Dir      string            // the trial's folder, where photos and overlays are; "" for a page without pictures
	Public   bool              // the others come from CollectPublic; the page leads to no file
}

//go:embed page/page.html
var pageHTML string

//go:embed page/page.css
var pageCSS string

//go:embed page/page.js
var pageJS string

var pageTemplate = template.Must(template.New("page").Funcs(template.FuncMap{
	"pair":    func(g intervalGroup, day int) dayGroup { return dayGroup{day, g} },
	"upper":   func(s string) string { return strings.TrimSuffix(upperFirst(s), ".") },
	"slice12": publicName,
}).Parse(pageHTML))

// dayGroup is what the template draws a quantity from.
type dayGroup struct {
	Day   int
	Group intervalGroup
}

// WritePage writes the trial as one file that needs no other: the answer with its limits, what it rests on, and the way back to each
// photo. Its numbers are those of the CSV files and of the terminal. What went wrong with single pictures is returned and costs
// only them.
func WritePage(w io.Writer, p Page) (lost []string, err error) {
	v := newPageView(p)
	var out bytes.Buffer
	if err := pageTemplate.Execute(&out, v); err != nil {
		return nil, fmt.Errorf("cannot make the page: %w", err)
	}
	_, err = w.Write(out.Bytes())
	return v.lost, err
}

// pageView is what the template shows.
type pageView struct {
	Title, Crop string
	Style       template.CSS
	Script      template.JS
	Public      bool

	Day      int // the last review; below 0 for none
	Date     string
	Days     []int
	Answer   compare.Answer
	Lead     string // the answer without its quantity and day
	Faces    []face
	Main     []intervalGroup // the main question's, one or none
	Answers  []answerLine
	Doses    []doseBlock
	Places   []compare.Place
	Outliers []compare.Outlier
	Without  []compare.Without
	Limits   []string
	MustKnow []string
	Got      []gotRow
	Names    []string // of treatments, for the filter
	Compared []string // quantities, for the filter

	DayBlocks []dayBlock
	Growth    []growthBlock
	Strips    []strip
	BarMM     int
	BarPct    string // of a picture's width
	Colour    []colourRow
	Evidence  []evidenceDay
	Unused    []passageRow

	Corrections, Settings []passageRow
	TrialLimits           []string
	Definitions, Words    []term
	Cautions              []string

	lost []string
}

func newPageView(p Page) *pageView {
	pl := p.Trial.Plan
	v := &pageView{
		Title: pl.Title, Crop: pl.Crop, Public: p.Public, Day: p.Compared.LastDay, Days: p.Compared.Days, Limits: p.Compared.Limits, MustKnow: p.Compared.MustKnow, Answer: p.Compared.Answer, Doses: doseBlocks(p.Compared), Places: p.Compared.Places, Outliers: p.Compared.Outliers, Without: p.Compared.Without,
		Style:  template.CSS(":root{" + lightColours.css() + "}\n@media screen and (prefers-color-scheme: dark){:root{" + darkColours.css() + "}}\n" + pageCSS),
		Script: template.JS(pageJS), Definitions: termsOf(definitions), Words: termsOf(states), Cautions: resultCautions,
		Settings: rowsOf(settingsOf(p.Trial)), Corrections: rowsOf(correctionsOf(p.Trial)), TrialLimits: limitsOf(p.Trial),
	}
	if v.Title == "" {
		v.Title = "Trial"
	}
	if v.Day >= 0 && !pl.Sown.IsZero() {
		v.Date = pl.DateOf(v.Day).Format("2 January 2006")
	}
	today := p.Compared.On(v.Day)
	v.Lead, v.Answers = leadOf(v.Answer), answers(today)
	for _, t := range pl.Treatments {
		v.Names = append(v.Names, t.Name)
		v.Got = append(v.Got, gotRow{t.Name, getsWords(t), strings.Join(t.CompareWith, "; "), numbers(trayNumbers(pl, t.Name))})
	}
	v.DayBlocks, v.Compared = dayBlocks(p)
	v.Main = mainGroup(p)
	for i := range v.Main {
		v.Main[i].Leads = true
	}
	v.Growth = growthBlocks(p.Trial)
	v.Colour = colourRows(today)
	shown := newShowing(p)
	v.Strips = strips(p, shown, v.Day)
	v.Faces = faces(p, v.Strips)
	v.BarMM, v.BarPct = scaleBar(shown.size)
	v.Evidence = evidence(p, shown, v.Day)
	for _, u := range UnusedPhotos(p.Trial) {
		v.Unused = append(v.Unused, passageRow{u.Photo, u.Why})
	}
	v.lost = shown.lost
	return v
}

// leadOf is the answer without the quantity and day, which its heading says.
func leadOf(a compare.Answer) string {
	_, lead, found := strings.Cut(a.Short, fmt.Sprintf(", day %d: ", a.Day))
	if !found {
		return a.Short
	}
	return upperFirst(lead)
}

func upperFirst(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// face is the plug that stands for a treatment beside the answer.
type face struct {
	Treatment, Words, Alt string
	Plain                 template.URL
	Side                  int
}

// faces takes from each treatment's typical plugs the first, in the view that the answer's quantity is seen in, with the mean of its
// trays.
func faces(p Page, strips []strip) []face {
	view := viewOf(p.Compared.Answer.Quantity)
	var list []face
	for _, s := range strips {
		if len(s.Plugs) == 0 || s.side != view || s.Plugs[0].Plain == "" {
			continue
		}
		plug, words := s.Plugs[0], ""
		for _, f := range p.Compared.Figures {
			if f.Treatment == s.Treatment && f.Quantity == s.Quantity && f.Day == p.Compared.LastDay {
				words = "mean " + withU(f.Mean, measure.Missing) + " " + f.Unit
			}
		}
		list = append(list, face{s.Treatment, words, plug.Alt, plug.Plain, plug.Side})
	}
	return list
}

// list joins words: "a", "a and b", "a, b and c".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func trayNumbers(p *plan.Plan, treatment string) []int {
	var ns []int
	for _, t := range traysOf(p, treatment) {
		ns = append(ns, t.Number)
	}
	return ns
}

// gotRow says what a treatment is.
type gotRow struct{ Name, Gets, Against, Trays string }

func getsWords(t plan.Treatment) string {
	var words []string
	for _, d := range t.Gets {
		w := fmt.Sprintf("%s %s mL/L", d.Product, plain(d.MLPerL))
		if d.Written != "" && !strings.HasSuffix(d.Written, "mL/L") { // as the label and the plan have it, with the conversion
			w = fmt.Sprintf("%s %s (%s mL/L)", d.Product, d.Written, toPlace(d.MLPerL, placeOf(d.MLPerL, 2)))
		}
		if d.FromDay > 0 {
			w += fmt.Sprintf(" from day %d", d.FromDay)
		}
		words = append(words, w)
	}
	if len(words) == 0 {
		return "nothing but water"
	}
	return strings.Join(words, "; ")
}

// answerLine is one clear difference beside the main question.
type answerLine struct {
	Words     string
	ID, About string // of the comparison below
}

// answers lists a day's clear differences that the plan did not ask for.
func answers(r *compare.Result) []answerLine {
	var lines []answerLine
	for _, match := range r.Matches() {
		for _, c := range match {
			clear := c.Verdict == compare.More || c.Verdict == compare.Less
			if clear && c.Told() && !answered(r, c) {
				lines = append(lines, answerLine{c.Sentence, comparisonID(c), c.Match() + ", " + c.Quantity})
			}
		}
	}
	return lines
}

// answered reports whether a comparison is one of those that the answer is made of.
func answered(r *compare.Result, c compare.Comparison) bool {
	return c.Day == r.Answer.Day && c.Quantity == r.Answer.Quantity
}

// colourRow is a tray's growth and colour.
type colourRow struct {
	Tray                                          int
	Treatment, Against, Root, Leaf, Yellow, Brown string
	Says, Why                                     string
}

func colourRows(r *compare.Result) []colourRow {
	var rows []colourRow
	for _, g := range r.Trays {
		row := colourRow{Tray: g.Tray, Treatment: g.Treatment, Against: g.Control, Says: string(g.Growing), Why: g.Why,
			Root: with("× ", digits(g.RootRatio, 2), ""), Leaf: with("× ", digits(g.LeafRatio, 2), ""),
			Yellow: with("", digits(g.ChloroticPct, 0), " %"), Brown: with("", digits(g.BrowningPct, 0), " %")}
		if row.Says == "" {
			row.Says = "not sorted"
		}
		rows = append(rows, row)
	}
	return rows
}

// with puts words around a figure, and nothing around none.
func with(before, figure, after string) string {
	if figure == "" {
		return ""
	}
	return before + figure + after
}

// passageRow and term are what the template may read of passage and definition, whose fields are the house's own.
type (
	passageRow struct{ Heading, Words string }
	term       struct{ Quantity, Unit, Says string }
)

func rowsOf(passages []passage) []passageRow {
	var rows []passageRow
	for _, p := range passages {
		rows = append(rows, passageRow{p.heading, p.words})
	}
	return rows
}

func termsOf(definitions []definition) []term {
	var terms []term
	for _, d := range definitions {
		terms = append(terms, term{d.quantity, d.unit, d.words})
	}
	return terms
}
