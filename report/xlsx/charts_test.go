package xlsx

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"maps"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/html"
	"traygauge/report/testtrial"
)

// partsOf returns a workbook's parts by name.
func partsOf(t *testing.T, file []byte) map[string][]byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		t.Fatal(err)
	}
	parts := map[string][]byte{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if parts[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
		r.Close()
	}
	return parts
}

func fileOf(t *testing.T, trial *report.Trial, o Options) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := Write(&out, trial, o); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// chartXML is what the tests read of a chart.
type chartXML struct {
	Title []string `xml:"chart>title>tx>rich>p>r>t"`
	Bars  []serXML `xml:"chart>plotArea>barChart>ser"`
	Dots  []serXML `xml:"chart>plotArea>lineChart>ser"`
	Lines []serXML `xml:"chart>plotArea>scatterChart>ser"`
}

type serXML struct {
	Names   string       `xml:"cat>strRef>f"`
	Values  string       `xml:"val>numRef>f"`
	X       string       `xml:"xVal>strRef>f"`
	Y       string       `xml:"yVal>numRef>f"`
	ErrBars []errBarsGot `xml:"errBars"`
	Parts   []struct {
		XMLName xml.Name
	} `xml:",any"`
}

type errBarsGot struct {
	Kind struct {
		Val string `xml:"val,attr"`
	} `xml:"errValType"`
	Plus  string `xml:"plus>numRef>f"`
	Minus string `xml:"minus>numRef>f"`
}

func chartsOf(t *testing.T, file []byte) []chartXML {
	t.Helper()
	parts := partsOf(t, file)
	var charts []chartXML
	for n := 1; parts[fmt.Sprintf("xl/charts/chart%d.xml", n)] != nil; n++ {
		var c chartXML
		if err := xml.Unmarshal(parts[fmt.Sprintf("xl/charts/chart%d.xml", n)], &c); err != nil {
			t.Fatalf("chart %d: %v", n, err)
		}
		charts = append(charts, c)
	}
	return charts
}

var spanOf = regexp.MustCompile(`^'Chart data'!\$([A-Z]+)\$(\d+):\$([A-Z]+)\$(\d+)$`)

// TestChartsDrawWhatWasCompared follows each chart to its cells: a dot is a tray, the error bars of ratios
// reach over the interval, and the lines go through the treatments' means.
func TestChartsDrawWhatWasCompared(t *testing.T) {
	p, readings := twoTraysEach()
	r := compare.Of(p, readings, nil, compare.Options{})
	trial := report.Collect(p, readings)
	book := reopenWith(t, trial, Options{Compared: r})
	cells := func(span string) (texts []string) {
		m := spanOf.FindStringSubmatch(span)
		if m == nil {
			t.Fatalf("%q is no span of cells", span)
		}
		first, _ := strconv.Atoi(m[2])
		last, _ := strconv.Atoi(m[4])
		for row := first; row <= last; row++ {
			text, err := book.GetCellValue(chartSheet, m[1]+strconv.Itoa(row))
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, text)
		}
		return texts
	}
	number := func(text string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatalf("%q is no number", text)
		}
		return v
	}
	var titles []string
	for _, c := range chartsOf(t, fileOf(t, trial, Options{Compared: r})) {
		titles = append(titles, c.Title[0])
		if strings.Contains(c.Title[0], " by tray, ") { // one dot a tray, and nothing else
			trayDots(t, r, c, cells)
			continue
		}
		for _, s := range append(c.Bars, c.Dots...) {
			if len(s.ErrBars) != 1 || s.ErrBars[0].Kind.Val != "cust" {
				t.Fatalf("%s has error bars %+v", c.Title, s.ErrBars)
			}
			names, values, up, down := cells(s.Names), cells(s.Values), cells(s.ErrBars[0].Plus), cells(s.ErrBars[0].Minus)
			for i, name := range names {
				low, high := number(values[i])-number(down[i]), number(values[i])+number(up[i])
				wantValue, wantLow, wantHigh := chartedTruth(t, r, c.Title[0], name)
				for _, pair := range [][2]float64{{number(values[i]), wantValue}, {low, wantLow}, {high, wantHigh}} {
					if math.Abs(pair[0]-pair[1]) > 0.0101 { // two roundings to the second decimal
						t.Errorf("%s: %s is drawn at %g from %g to %g, want %g from %g to %g", c.Title[0], name, number(values[i]), low, high, wantValue, wantLow, wantHigh)
						break
					}
				}
			}
		}
		for i, s := range c.Lines {
			if days := cells(s.X); fmt.Sprint(days) != "[10 17]" || len(s.ErrBars) != 0 {
				t.Errorf("%s is drawn over the days %v", c.Title[0], days)
			}
			treatment := p.Treatments[i].Name
			for k, day := range []int{10, 17} {
				quantity := strings.ToLower(strings.TrimSuffix(c.Title[0], " over time"))
				if got, want := number(cells(s.Y)[k]), float64(figuresOf(t, r, quantity, treatment, day).Mean); math.Abs(got-want) > 0.0051 {
					t.Errorf("%s: %s is at %g on day %d, want %g", c.Title[0], treatment, got, day, want)
				}
			}
		}
		if len(c.Bars)+len(c.Dots)+len(c.Lines) == 0 {
			t.Errorf("%s draws nothing", c.Title)
		}
	}
	want := []string{"Leaf area, times that of its control, day 17", "Leaf area by tray, day 17", "Root area, times that of its control, day 17", "Root area by tray, day 17",
		"Root area over time", "Leaf area over time", "Yellow leaf share by tray, day 17"} // the main question's first
	if !slices.Equal(titles, want) {
		t.Errorf("charts are %q", titles)
	}
}

// trayDots checks that a chart draws each tray of each treatment once.
func trayDots(t *testing.T, r *outcome.Result, c chartXML, cells func(string) []string) {
	t.Helper()
	quantity := strings.ToLower(strings.TrimSuffix(c.Title[0], " by tray, day 17"))
	drawn := map[string][]string{}
	for _, s := range c.Dots {
		if len(s.ErrBars) > 0 {
			t.Errorf("%s has bars", c.Title[0])
		}
		for i, name := range cells(s.Names) {
			if v := cells(s.Values)[i]; v != "" {
				drawn[name] = append(drawn[name], v)
			}
		}
	}
	n := 0
	for _, f := range r.Figures {
		if f.Day != 17 || f.Quantity != quantity {
			continue
		}
		var want []string
		for _, tray := range f.Trays {
			want = append(want, strconv.FormatFloat(float64(tray.Value), 'f', 2, 64))
			n++
		}
		if !slices.Equal(drawn[f.Treatment], want) {
			t.Errorf("%s draws %v of %s, want %v", c.Title[0], drawn[f.Treatment], f.Treatment, want)
		}
	}
	if n == 0 {
		t.Errorf("%s: no trays", c.Title[0])
	}
}

func figuresOf(t *testing.T, r *outcome.Result, quantity, treatment string, day int) outcome.Figures {
	t.Helper()
	for _, f := range r.Figures {
		if f.Quantity == quantity && f.Treatment == treatment && f.Day == day {
			return f
		}
	}
	t.Fatalf("no figures of %s in %s on day %d", treatment, quantity, day)
	return outcome.Figures{}
}

// chartedTruth is what a chart has to draw for one of its names, from the comparisons' result.
func chartedTruth(t *testing.T, r *outcome.Result, title, name string) (value, low, high float64) {
	t.Helper()
	if quantity, is := strings.CutSuffix(title, ", times that of its control, day 17"); is {
		for _, c := range r.Comparisons {
			if c.Day == 17 && strings.EqualFold(c.Quantity, quantity) && label(c.Match()) == name {
				return float64(c.Estimate), float64(c.Lower), float64(c.Upper)
			}
		}
		t.Fatalf("%s draws %q", title, name)
	}
	t.Fatalf("%s draws %q", title, name)
	return 0, 0, 0
}

// The parts of a series stand in the order that ISO/IEC 29500-1, 21.2.2.170 (CT_BarSer, CT_LineSer, CT_ScatterSer) demands: a program
// that checks it refuses the file otherwise.
func TestChartsKeepTheStandardsOrder(t *testing.T) {
	order := []string{"idx", "order", "tx", "spPr", "invertIfNegative", "marker", "dPt", "dLbls", "trendline", "errBars", "cat", "xVal", "val", "yVal", "smooth"}
	p, readings := twoTraysEach()
	for n, part := range partsOf(t, fileOf(t, report.Collect(p, readings), Options{Compared: compare.Of(p, readings, nil, compare.Options{})})) {
		if !strings.HasPrefix(n, "xl/charts/chart") {
			continue
		}
		at, depth, series := -1, 0, 0
		for d := xml.NewDecoder(bytes.NewReader(part)); ; {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", n, err)
			}
			switch e := token.(type) {
			case xml.StartElement:
				switch {
				case e.Name.Local == "ser":
					at, depth = -1, 1
					series++
				case depth == 1:
					now := slices.Index(order, e.Name.Local)
					if now <= at {
						t.Errorf("%s: <%s> is not where it belongs", n, e.Name.Local)
					}
					at = now
					depth++
				case depth > 1:
					depth++
				}
			case xml.EndElement:
				depth = max(depth-1, 0)
			}
		}
		if series == 0 {
			t.Errorf("%s has no series", n)
		}
	}
}

func TestRatioAxisHoldsItsBars(t *testing.T) {
	for _, c := range []struct{ lowest, highest, low, high float64 }{
		{0.9, 1.1, 0.5, 2}, {0.45, 3.2, 0.25, 4}, {0.25, 4, 0.25, 4}, {1, 1, 0.5, 2}, {0, 1e9, 1.0 / 64, 64},
	} {
		if low, high := ratioEnds(c.lowest, c.highest); low != c.low || high != c.high {
			t.Errorf("ratios from %g to %g are drawn from %g to %g, want %g to %g", c.lowest, c.highest, low, high, c.low, c.high)
		}
	}
	for v, want := range map[float64]float64{0: 1, 0.7: 0.8, 1: 1, 180: 200, 2100: 2500, 8.5: 10, 99: 100} {
		if got := upTo(v); math.Abs(got-want) > 1e-9*want {
			t.Errorf("an axis of %g ends at %g, want %g", v, got, want)
		}
	}
}

// The same trial gives the same bytes, with pictures, too. Several times: what comes out of a map may be in the same order twice.
func TestWorkbookWithPicturesSameBytes(t *testing.T) {
	p, readings := twoTraysEach()
	dir, with := testtrial.InPhotos(t, p, readings, 1)
	r := compare.Of(p, with, nil, compare.Options{})
	o := Options{Compared: r, Crops: func(plugs []report.PlugRow, s report.CropSize) [][]byte { return report.Crops(dir, plugs, s) }}
	first := fileOf(t, report.Collect(p, with), o)
	for range 5 {
		if !bytes.Equal(first, fileOf(t, report.Collect(p, slices.Clone(with)), o)) {
			t.Fatal("the same trial gave different bytes")
		}
	}
	pictures := 0
	for name, part := range partsOf(t, first) {
		if strings.HasPrefix(name, "xl/media/") {
			pictures++
			if bytes.Contains(part, []byte("Exif")) || bytes.Contains(part, []byte(testtrial.SecretPlace)) {
				t.Errorf("%s holds more than pixels", name)
			}
		}
	}
	if pictures == 0 {
		t.Error("no picture is in the workbook")
	}
}

func TestTraySheetShowsTheTypicalPlug(t *testing.T) {
	p, readings := testtrial.Plan(), testtrial.WholeTrays()
	dir, with := testtrial.InPhotos(t, p, readings, 1)
	trial := report.Collect(p, with)
	book := reopenWith(t, trial, Options{Crops: func(plugs []report.PlugRow, s report.CropSize) [][]byte { return report.Crops(dir, plugs, s) }})
	// On the last day, 17; the picture's column is the third behind the last of ten, its row the third of its block.
	for at, view := range map[string]reading.View{"M": reading.Roots} {
		want := trial.Typical(7, 17, view, 1)[0]
		if got, _ := book.GetCellValue("Tray 7", at+"3"); got != "Typical plug: "+want.Name {
			t.Errorf("the heading is %q, want plug %s", got, want.Name)
		}
		pictures, err := book.GetPictures("Tray 7", at+"5")
		if err != nil || len(pictures) != 1 || !strings.Contains(pictures[0].Format.AltText, "Plug "+want.Name+" of tray 7 on day 17") {
			t.Errorf("pictures are %+v, %v", pictures, err)
		}
	}
	// Without photos there is a sheet all the same.
	if got, _ := reopen(t, trial).GetCellValue("Tray 7", "M3"); got != "" {
		t.Errorf("without pictures the heading is %q", got)
	}
}

func TestPublicWorkbookLeavesOutWhatIsNotForEverybody(t *testing.T) {
	dir, p, readings, secrets := testtrial.Public(t)
	crops := func(plugs []report.PlugRow, s report.CropSize) [][]byte { return report.Crops(dir, plugs, s) }
	trial, shown := report.CollectPublic(p, readings)
	pictures := 0
	for name, part := range partsOf(t, fileOf(t, trial, Options{Compared: compare.Of(trial.Plan, shown, nil, compare.Options{}), Crops: crops})) {
		if strings.HasPrefix(name, "xl/media/") {
			pictures++
		}
		for _, secret := range append(secrets, testtrial.SecretPlace) {
			if bytes.Contains(part, []byte(secret)) {
				t.Errorf("%s holds %q", name, secret)
			}
		}
	}
	if pictures == 0 {
		t.Error("the typical plugs' pictures are missing")
	}
	private := partsOf(t, fileOf(t, report.Collect(p, readings), Options{}))
	if all := bytes.Join(slices.Collect(maps.Values(private)), nil); !bytes.Contains(all, []byte("Josefina Fontes")) {
		t.Error("not even the workbook for oneself says who corrected")
	}
}

// printed returns the text of the pages that LibreOffice prints of a workbook.
func printed(t *testing.T, file []byte) []string {
	t.Helper()
	for _, program := range []string{"soffice", "pdftotext"} {
		if _, err := exec.LookPath(program); err != nil {
			t.Skipf("%s is not installed", program)
		}
	}
	dir := t.TempDir()
	book := filepath.Join(dir, "trial.xlsx")
	if err := os.WriteFile(book, file, 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("soffice", "-env:UserInstallation=file://"+filepath.Join(dir, "profile"), "--headless", "--convert-to", "pdf", "--outdir", dir, book).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	text, err := exec.Command("pdftotext", "-layout", filepath.Join(dir, "trial.pdf"), "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	return strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
}

// LibreOffice opens the workbook and prints it on fewer than ten pages: answer, chart and figures on the first. The sheet of one tray has its print
// area cleared, as someone does who wants it on paper: it takes one page.
func TestLibreOfficePrintsTheWorkbook(t *testing.T) {
	p, readings := twoTraysEach()
	r := compare.Of(p, readings, nil, compare.Options{})
	book := reopenWith(t, report.Collect(p, readings), Options{Compared: r})
	if err := book.DeleteDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", Scope: "Tray 27"}); err != nil {
		t.Fatal(err)
	}
	var file bytes.Buffer
	if err := book.Write(&file); err != nil {
		t.Fatal(err)
	}
	pages := printed(t, file.Bytes())
	text := strings.Join(pages, "\n")
	for _, want := range []string{"Kale, spring", "What this trial cannot show", "Root area by tray, day 17", "Yellow leaf share by tray, day 17", "Tray 27 – base feed", "In figures", "Growth and colour"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in print", want)
		}
	}
	for _, want := range []string{r.Answer.Note, "Leaf area, times that of its control", "In figures"} {
		if !strings.Contains(strings.Join(strings.Fields(pages[0]), " "), want) {
			t.Errorf("%q is not on the first page", want)
		}
	}
	if n := strings.Count(text, "Tray 27 – base feed"); n != 1 || strings.Contains(text, "Tray 7 – base feed") || len(pages)-n >= 10 {
		t.Errorf("%d pages, %d of them of the tray whose print area is cleared", len(pages), n)
	}
	for _, never := range []string{"#REF!", "#NAME?", "#VALUE!", "###", "Err:", "NaN"} {
		if strings.Contains(text, never) {
			t.Errorf("%q is in print", never)
		}
	}
}

// Twenty-four treatments are no more pages: what is beyond the fifth page of the result is for the screen.
func TestLibreOfficePrintsALargeWorkbook(t *testing.T) {
	p, readings := manyTreatments(24)
	r := compare.Of(p, readings, nil, compare.Options{})
	pages := printed(t, fileOf(t, report.Collect(p, readings), Options{Compared: r}))
	if len(pages) >= 10 {
		t.Errorf("%d pages", len(pages))
	}
}

// manyTreatments is a trial of so many treatments against the first, in two trays of four plugs each.
func manyTreatments(n int) (*plan.Plan, []reading.Reading) {
	p := testtrial.Plan()
	p.Treatments, p.Trays = nil, nil
	var readings []reading.Reading
	for i := range n {
		name := fmt.Sprintf("treatment %d", i+1)
		treatment := plan.Treatment{Name: name}
		if i > 0 {
			treatment.CompareWith = []string{"treatment 1"}
		}
		p.Treatments = append(p.Treatments, treatment)
		for k := range 2 {
			tray := 2*i + k + 1
			p.Trays = append(p.Trays, plan.Tray{Number: tray, Treatment: name, Position: tray})
			var roots, leaves []reading.Plug
			for j := range 4 {
				size := 20 + float64(i) + 3*float64(k) + 5*float64(j)
				roots = append(roots, testtrial.RootPlug(plan.PlugName(0, j), size, 2))
				leaves = append(leaves, testtrial.LeafPlug(plan.PlugName(0, j), 10*size, 5))
			}
			readings = append(readings, testtrial.Reading(fmt.Sprintf("roots%d.jpg", tray), tray, "roots", testtrial.Taken(17, 9, tray), testtrial.Placed(roots...)...),
				testtrial.Reading(fmt.Sprintf("leaves%d.jpg", tray), tray, "shoots", testtrial.Taken(17, 10, tray), testtrial.Placed(leaves...)...))
		}
	}
	return p, readings
}

// The growth chart has the colours that the page gives to the treatments on white paper.
func TestWorkbookHasThePagesColours(t *testing.T) {
	trial := report.Collect(testtrial.Plan(), testtrial.WholeTrays())
	var page bytes.Buffer
	if _, _, err := html.WritePage(&page, html.Page{Trial: trial, Compared: compare.Of(trial.Plan, testtrial.WholeTrays(), nil, compare.Options{})}); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, found := range regexp.MustCompile(`--t(\d+):#(\w+);`).FindAllStringSubmatch(page.String(), -1) {
		if seen[found[1]] { // dark
			continue
		}
		seen[found[1]] = true
		i, _ := strconv.Atoi(found[1])
		if want := strings.ToUpper(found[2]); lineLooks[i].colour != want {
			t.Errorf("treatment %d is %s in the workbook and %s on the page", i, lineLooks[i].colour, want)
		}
	}
	if len(seen) < 12 {
		t.Errorf("the page has %d colours of treatments", len(seen))
	}
}
