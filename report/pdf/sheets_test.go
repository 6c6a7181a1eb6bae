package pdf

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/disintegration/imaging"

	"traygauge/measure/plan"
	"traygauge/report/testtrial"
	"traygauge/vision/card"
)

func TestSheetsSameBytes(t *testing.T) {
	var first, second bytes.Buffer
	for _, w := range []*bytes.Buffer{&first, &second} {
		if err := Sheets(w, testtrial.Plan(), Options{}); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("the same plan gave different bytes")
	}
}

func TestSheetPlaces(t *testing.T) {
	p := testtrial.Plan()
	for n := 20; n < 40; n++ { // 23 trays: a second page of tags after 18
		p.Trays = append(p.Trays, plan.Tray{Number: n, Treatment: "water only"})
	}
	places, err := places(p, Options{Paper: "letter"})
	if err != nil {
		t.Fatal(err)
	}
	onPage := map[string][]int{}
	for _, at := range places {
		onPage[at.Kind] = append(onPage[at.Kind], at.Page)
		right, bottom := at.X+card.TagWidth, at.Y+card.TagHeight
		if at.Kind == "tag" && (at.X < 10 || right > 205.9 || at.Y < 30 || bottom > 262) {
			t.Errorf("tag %d lies at (%v, %v), too near the edge of the page or over its foot", at.Tray, at.X, at.Y)
		}
	}
	// Roots, shoots, two pages of tags, one bench map, and 22 of water only, their sum and the two others make 26 lines
	// on each of 3 feeding days: two pages each.
	if fmt.Sprint(onPage["roots face"], onPage["shoots face"]) != "[1] [2]" || len(onPage["tag"]) != 23 ||
		onPage["tag"][17] != 3 || onPage["tag"][18] != 4 || len(onPage["check line"]) != 11 {
		t.Errorf("pages are %v", onPage)
	}
}

func TestSheetsRefuse(t *testing.T) {
	p := testtrial.Plan()
	if err := Sheets(&bytes.Buffer{}, p, Options{Paper: "a5"}); err == nil {
		t.Error("a5 was taken")
	}
	p.Trays[0].Number = card.MostTrays + 1
	if err := Sheets(&bytes.Buffer{}, p, Options{}); err == nil {
		t.Error("a tray without a tag was taken")
	}
}

func TestFeedingRows(t *testing.T) {
	p := testtrial.Plan()
	p.Trays = append(p.Trays, plan.Tray{Number: 3, Treatment: "base feed"})
	products, rows := feedingRows(p, 7)
	if len(products) != 1 || len(rows) != 5 {
		t.Fatalf("day 7 has products %v in %d lines; seaweed extract begins on day 10", products, len(rows))
	}
	_, rows = feedingRows(p, 10)
	// 2 mL/L in 1.5 L are 3 mL; two trays need 6. 0.5 mL/L in 1.5 L are 0.75 mL.
	if got := rows[1].doses[0].words(rows[1].mixML); rows[1].tray.Number != 3 || got != "3.00" {
		t.Errorf("tray %d gets %s", rows[1].tray.Number, got)
	}
	if got := rows[3].doses[0].words(rows[3].mixML); rows[3].trays != 2 || got != "6.00" {
		t.Errorf("both trays get %s", got)
	}
	if got := rows[4].doses[1].words(rows[4].mixML); got != "0.75" {
		t.Errorf("seaweed extract is %s mL", got)
	}
	if got := rows[0].doses[0].words(rows[0].mixML); got != "–" {
		t.Errorf("water only gets %s", got)
	}
	// From day 14 on the base feed is 3 mL/L instead: 4.5 mL.
	p.Treatments[1].Gets = append(p.Treatments[1].Gets, plan.Dose{Product: "base feed", MLPerL: 3, FromDay: 14})
	_, rows = feedingRows(p, 14)
	if got := rows[1].doses[0].words(rows[1].mixML); got != "4.50" {
		t.Errorf("after the dose changed, tray %d gets %s", rows[1].tray.Number, got)
	}
}

// TestMarkersOnPaper compares the edges of every printed marker's black square with the card's geometry.
func TestMarkersOnPaper(t *testing.T) {
	for paper, dpi := range map[string]int{"a4": 600, "letter": 300} {
		options := Options{Paper: paper}
		places, err := places(testtrial.Plan(), options)
		if err != nil {
			t.Fatal(err)
		}
		pages := rasterise(t, testtrial.Plan(), options, dpi, 3)
		for _, at := range places {
			var squares []card.Rect
			switch at.Kind {
			case "roots face", "shoots face":
				m := card.Markers()
				squares = m[:]
			case "tag":
				squares = []card.Rect{card.TagMarker}
			}
			for _, r := range squares {
				want := move(r, card.Pt{X: at.X, Y: at.Y})
				got := blackSquare(pages[at.Page-1], want, float64(dpi)/25.4)
				for _, d := range []float64{got.Min.X - want.Min.X, got.Min.Y - want.Min.Y, got.Max.X - want.Max.X, got.Max.Y - want.Max.Y} {
					if !(math.Abs(d) < 0.05) {
						t.Errorf("%s, %s %d: the square is at %v, want %v", paper, at.Kind, at.Tray, got, want)
						break
					}
				}
			}
		}
	}
}

// TestMarkerModulesOnPaper looks at the middle of every module, and between black neighbours for gaps.
func TestMarkerModulesOnPaper(t *testing.T) {
	const dpi, pxPerMM = 300, 300 / 25.4
	page := rasterise(t, testtrial.Plan(), Options{}, dpi, 1)[0]
	places, _ := places(testtrial.Plan(), Options{})
	var at card.Pt
	for _, p := range places {
		if p.Kind == "roots face" {
			at = card.Pt{X: p.X, Y: p.Y}
		}
	}
	for i, r := range card.Markers() {
		id := card.Roots.MarkerIDs()[i]
		r = move(r, at)
		module := (r.Max.X - r.Min.X) / card.Modules
		level := func(col, row float64) uint8 {
			return levelAt(page, int((r.Min.X+col*module)*pxPerMM), int((r.Min.Y+row*module)*pxPerMM))
		}
		for row := range card.Modules {
			for col := range card.Modules {
				want := uint8(0)
				if card.White(id, row, col) {
					want = 255
				}
				if got := level(float64(col)+0.5, float64(row)+0.5); got != want {
					t.Errorf("marker %d, module %d %d is %d, want %d", id, row, col, got, want)
				}
				if col+1 < card.Modules && card.White(id, row, col) == card.White(id, row, col+1) {
					if got := level(float64(col)+1, float64(row)+0.5); got != want {
						t.Errorf("marker %d: a gap of %d right of module %d %d", id, got, row, col)
					}
				}
				if row+1 < card.Modules && card.White(id, row, col) == card.White(id, row+1, col) {
					if got := level(float64(col)+0.5, float64(row)+1); got != want {
						t.Errorf("marker %d: a gap of %d below module %d %d", id, got, row, col)
					}
				}
			}
		}
	}
}

// rasterise returns the first pages of the sheets.
func rasterise(t *testing.T, p *plan.Plan, o Options, dpi, pages int) []image.Image {
	t.Helper()
	program, err := exec.LookPath("pdftoppm")
	if err != nil {
		t.Skip("pdftoppm is not installed")
	}
	dir := t.TempDir()
	file, err := os.Create(filepath.Join(dir, "sheets.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if err := Sheets(file, p, o); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(program, "-png", "-gray", "-r", fmt.Sprint(dpi), "-l", fmt.Sprint(pages), file.Name(), filepath.Join(dir, "page")).CombinedOutput()
	if err != nil {
		t.Fatalf("pdftoppm: %v: %s", err, out)
	}
	names, _ := filepath.Glob(filepath.Join(dir, "page*.png"))
	var pictures []image.Image
	for _, name := range names {
		picture, err := imaging.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		pictures = append(pictures, picture)
	}
	return pictures
}

func levelAt(page image.Image, x, y int) uint8 {
	return color.GrayModel.Convert(page.At(x, y)).(color.Gray).Y
}

// blackSquare finds the black square near want by scanning from the white around it inwards, in the middle of its black
// border's length.
func blackSquare(page image.Image, want card.Rect, pxPerMM float64) card.Rect {
	c := want.Centre()
	return card.Rect{
		Min: card.Pt{
			X: darkens(page, want.Min.X-2, c.Y, 1, 0, pxPerMM),
			Y: darkens(page, c.X, want.Min.Y-2, 0, 1, pxPerMM),
		},
		Max: card.Pt{
			X: darkens(page, want.Max.X+2, c.Y, -1, 0, pxPerMM),
			Y: darkens(page, c.X, want.Max.Y+2, 0, -1, pxPerMM),
		},
	}
}

// darkens walks from (x, y) in mm to where the level first falls through one half, and returns that coordinate in mm. A
// pixel's level holds at its middle; between two the edge is found on a straight line.
func darkens(page image.Image, x, y float64, dx, dy int, pxPerMM float64) float64 {
	px, py := int(x*pxPerMM), int(y*pxPerMM)
	before := 255.0
	for range int(4 * pxPerMM) {
		level := float64(levelAt(page, px, py))
		if level < 127.5 {
			back := (127.5 - level) / (before - level)
			at := float64(px*dx*dx+py*dy*dy) + 0.5 - back*float64(dx+dy)
			return at / pxPerMM
		}
		before = level
		px, py = px+dx, py+dy
	}
	return math.NaN()
}

// A treatment's name may hold signs that the sheets' font cannot: they are printed as a box, and the sheets are made all the same.
func TestSheetsOfNamesWithEmoji(t *testing.T) {
	p := testtrial.Plan()
	for i, treatment := range p.Treatments {
		name := "🌿 " + treatment.Name + " 海藻"
		for k := range p.Trays {
			if p.Trays[k].Treatment == treatment.Name {
				p.Trays[k].Treatment = name
			}
		}
		p.Treatments[i].Name = name
	}
	p.Title = "Kale 🌿"
	var out bytes.Buffer
	if err := Sheets(&out, p, Options{}); err != nil || out.Len() == 0 {
		t.Errorf("%d bytes, %v", out.Len(), err)
	}
}
