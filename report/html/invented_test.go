package html

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/html/plugs"
	"traygauge/report/testtrial"
)

// pageWithPhotos is the page of three whole trays on two days.
func pageWithPhotos(t *testing.T) Page {
	t.Helper()
	p := testtrial.Plan()
	dir, readings := testtrial.InPhotos(t, p, testtrial.WholeTrays(), 2)
	return Page{Trial: report.Collect(p, readings), Compared: compare.Of(p, readings, nil, compare.Options{}), Readings: readings, Dir: dir}
}

// sixtyTrays is the page of twenty treatments with three trays each on one day.
func sixtyTrays(t *testing.T) Page {
	t.Helper()
	p := testtrial.Plan()
	p.Treatments, p.Trays, p.ReviewDays = nil, nil, []int{10}
	var readings []reading.Reading
	for i := range 20 {
		treatment := plan.Treatment{Name: fmt.Sprintf("extract %c", 'A'+i)}
		if i == 0 {
			treatment.Name = "water only"
		} else {
			treatment.CompareWith = []string{"water only"}
		}
		p.Treatments = append(p.Treatments, treatment)
		for k := range 3 {
			tray := 1 + 3*i + k
			p.Trays = append(p.Trays, plan.Tray{Number: tray, Treatment: treatment.Name, Position: tray})
			var roots, leaves []reading.Plug
			for n := range 50 {
				size := 40 * (1 + 0.02*float64(i)) * (0.7 + float64((n*37+tray*11)%50)/80)
				name := plan.PlugName(n/10, n%10)
				roots, leaves = append(roots, testtrial.RootPlug(name, size, 0)), append(leaves, testtrial.LeafPlug(name, size*6, 1))
			}
			readings = append(readings, testtrial.Reading(fmt.Sprintf("day10/tray%d-roots.jpg", tray), tray, "roots", testtrial.Taken(10, 9, 0), roots...),
				testtrial.Reading(fmt.Sprintf("day10/tray%d-shoots.jpg", tray), tray, "shoots", testtrial.Taken(10, 9, 30), leaves...))
		}
	}
	dir, readings := testtrial.InPhotos(t, p, readings, 1)
	return Page{Trial: report.Collect(p, readings), Compared: compare.Of(p, readings, nil, compare.Options{}), Readings: readings, Dir: dir}
}

// written returns a page's text.
func written(t *testing.T, p Page) string {
	t.Helper()
	text, _ := writtenWith(t, p)
	return text
}

// writtenWith returns a page's text and the pictures beside it.
func writtenWith(t *testing.T, p Page) (text string, beside []plugs.Picture) {
	t.Helper()
	var out bytes.Buffer
	beside, lost, err := WritePage(&out, p)
	if err != nil {
		t.Fatal(err)
	}
	if p.Dir != "" && len(lost) > 0 {
		t.Errorf("pictures are lost: %q", lost)
	}
	return out.String(), beside
}

// The two invented pages are drawn once for all tests that only read them; their folders are gone by then.
var drawnOnce = map[string]struct {
	page   Page
	text   string
	beside []plugs.Picture
}{}

func once(t *testing.T, name string, draw func(*testing.T) Page) (Page, string) {
	t.Helper()
	d, done := drawnOnce[name]
	if !done {
		d.page = draw(t)
		d.text, d.beside = writtenWith(t, d.page)
		drawnOnce[name] = d
	}
	return d.page, d.text
}

func threeOnce(t *testing.T) (Page, string) { t.Helper(); return once(t, "three", pageWithPhotos) }

func sixtyOnce(t *testing.T) (Page, string) { t.Helper(); return once(t, "sixty", sixtyTrays) }

// inFile writes a page's text to a file, with the pictures beside it.
func inFile(t *testing.T, text string, beside ...plugs.Picture) string {
	t.Helper()
	dir := t.TempDir()
	name := filepath.Join(dir, "index.html")
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(dir, plugs.Folder), 0o755); err != nil {
		t.Fatal(err)
	}
	for _, picture := range beside {
		if err := os.WriteFile(filepath.Join(dir, plugs.Folder, picture.Name), picture.JPEG, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return name
}

// tablesOf returns the tables and the data package that are written beside a page, by their names.
func tablesOf(t *testing.T, trial *report.Trial, compared *outcome.Result) map[string][]byte {
	t.Helper()
	var plugs, photos, trays, comparisons, descriptor bytes.Buffer
	for _, err := range []error{report.WritePlugsCSV(&plugs, trial), report.WritePhotosCSV(&photos, trial), report.WriteTraysCSV(&trays, trial), report.WriteComparisonsCSV(&comparisons, compared)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	files := map[string][]byte{report.PlugsCSV: plugs.Bytes(), report.PhotosCSV: photos.Bytes(), report.TraysCSV: trays.Bytes(), report.ComparisonsCSV: comparisons.Bytes()}
	if err := report.WriteDataPackage(&descriptor, trial, files); err != nil {
		t.Fatal(err)
	}
	files["datapackage.json"] = descriptor.Bytes()
	return files
}
