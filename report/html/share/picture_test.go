package share

import (
	"bytes"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/report"
	"traygauge/report/html/answer"
	"traygauge/report/testtrial"
)

var shots = flag.String("shots", "", "a folder to save pictures in")

// invented is the trial of three whole trays on two days, with photos.
func invented(t *testing.T) Source {
	t.Helper()
	p := testtrial.Plan()
	dir, readings := testtrial.InPhotos(t, p, testtrial.WholeTrays(), 2)
	return Source{Trial: report.Collect(p, readings), Compared: compare.Of(p, readings, nil, compare.Options{}), Dir: dir}
}

// The picture travels without its page: an accident of a tray that is compared in it is named, within the two lines, and one of another tray is not.
func TestPictureNamesAccidents(t *testing.T) {
	from := invented(t)
	of := *from.Compared
	of.Without = []outcome.Without{{What: outcome.Accident, Tray: 3}, {What: outcome.Accident, Tray: 5}, {What: outcome.OddFeeding, Tray: 1}, {What: outcome.BenchLine}}
	from.Compared = &of
	c := outcome.Comparison{Kind: outcome.AgainstControl, Quantity: "leaf area", Inference: outcome.Trays, TrayNumbers: []int{2, 3}, ControlTrays: []int{1}}
	for range 5 {
		of.Comparisons = append(of.Comparisons, c)
	}
	line := limitsLine(from, c)
	if !strings.Contains(line, "the log notes an accident to tray 3; the log notes an unusual feeding of tray 1;") || strings.Contains(line, "5;") {
		t.Error(line)
	}
	c.TrayNumbers = []int{2}
	if line := limitsLine(from, c); strings.Contains(line, "accident") {
		t.Error(line)
	}
	d, err := newDrawing(color.RGBA{})
	if err != nil {
		t.Fatal(err)
	}
	defer d.close()
	if lines := wrapped(d.small, line, width-2*margin, 2); strings.Join(lines, " ") != line {
		t.Errorf("cut: %q", lines)
	}
}

func TestPicture(t *testing.T) {
	from := invented(t)
	for _, of := range []string{"", "base feed + seaweed extract"} {
		var out bytes.Buffer
		if err := Write(&out, from, of); err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(out.Bytes(), []byte(testtrial.SecretPlace)) || bytes.Contains(out.Bytes(), []byte("eXIf")) {
			t.Error("the picture holds more than its pixels")
		}
		picture, err := png.Decode(&out)
		if err != nil {
			t.Fatal(err)
		}
		if picture.Bounds().Size() != image.Pt(1200, 630) {
			t.Errorf("the picture is %v", picture.Bounds())
		}
		if *shots != "" {
			file, err := os.Create(filepath.Join(*shots, fmt.Sprintf("picture-%d.png", len(of))))
			if err != nil {
				t.Fatal(err)
			}
			err = png.Encode(file, picture)
			file.Close()
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	for of, want := range map[string]string{"tomato": "base feed and base feed + seaweed extract", "water only": "is not a treatment with a control"} {
		if err := Write(&bytes.Buffer{}, from, of); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", of, err)
		}
	}
	const emoji = "kale 🥬👩‍🌾"
	p := testtrial.Plan()
	p.Treatments = []plan.Treatment{{Name: "water only"}, {Name: emoji, CompareWith: []string{"water only"}}}
	p.Trays = []plan.Tray{{Number: 1, Treatment: "water only"}, {Number: 2, Treatment: emoji}}
	readings := []reading.Reading{testtrial.Reading("a.jpg", 1, reading.Roots, testtrial.Taken(10, 9, 0), testtrial.RootPlug("A1", 10, 0), testtrial.RootPlug("A2", 12, 0)),
		testtrial.Reading("b.jpg", 2, reading.Roots, testtrial.Taken(10, 9, 1), testtrial.RootPlug("A1", 20, 0), testtrial.RootPlug("A2", 23, 0))}
	if err := Write(&bytes.Buffer{}, Source{Trial: report.Collect(p, readings), Compared: compare.Of(p, readings, nil, compare.Options{})}, emoji); err != nil {
		t.Errorf("a name with emoji: %v", err)
	}
}

// What the picture shows is settled by the plan: the first treatment with a control, root area, the last review.
func TestPictureIsOfWhatWasSettledBeforehand(t *testing.T) {
	from := invented(t)
	c, err := answer.Beforehand(from.Trial.Plan, from.Compared, "")
	if err != nil || c.Treatment != "base feed" || c.Quantity != outcome.RootArea || c.Day != 17 {
		t.Errorf("%v: %s, %s, day %d", err, c.Treatment, c.Quantity, c.Day)
	}
	if line := limitsLine(from, c); !strings.Contains(line, "tray 7 against tray 1") || !strings.Contains(line, "no conclusion about the treatment") || !strings.Contains(line, "one of 2 comparisons") {
		t.Errorf("limits: %s", line)
	}
}
