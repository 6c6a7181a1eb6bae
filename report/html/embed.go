package html

import (
	"bytes"
	"fmt"
	"html/template"
	"io"
	"slices"

	"traygauge/measure/compare/outcome"
	"traygauge/measure/plan"
	"traygauge/measure/wording"
	"traygauge/report"
	"traygauge/report/html/answer"
	"traygauge/report/html/colours"
	"traygauge/report/html/plugs"
)

// embedView is what the excerpt shows beside the answer.
type embedView struct {
	*pageView
	Faces  []embedFace
	BarMM  int
	BarPct string
}

// embedFace is one side's picture.
type embedFace struct {
	Name, Colour, Alt, Size string
	Source                  template.HTMLAttr
	Side                    int
}

// WriteEmbed writes an excerpt of the page as one small file without a script, to be shown within another page: the answer, one picture each
// of a treatment and its control at one scale, all treatments' intervals, and how far to trust them. Which treatment is settled by
// answer.Beforehand. Where the page's address is known, a link leads there.
func WriteEmbed(w io.Writer, p Page, treatment string) (lost []string, err error) {
	c, err := answer.Beforehand(p.Trial.Plan, p.Compared, treatment)
	if err != nil {
		return nil, err
	}
	v := embedView{pageView: newAnswerView(p)}
	size := plugs.CropSize(p.Trial, 2)
	v.BarMM, v.BarPct = plugs.ScaleBar(size)
	v.Faces, lost = embedFaces(p, c, size)
	var out bytes.Buffer
	if err := pageTemplate.ExecuteTemplate(&out, "embed.html", v); err != nil {
		return lost, fmt.Errorf("cannot make the excerpt: %w", err)
	}
	_, err = w.Write(plusAsOne(out.Bytes()))
	return lost, err
}

// embedFaces cuts out the plugs that stand for both sides of a comparison, in the view that its quantity is seen in.
func embedFaces(p Page, c outcome.Comparison, size report.CropSize) (faces []embedFace, lost []string) {
	if p.Dir == "" {
		return nil, nil
	}
	days := plugs.Days(p.Trial, p.Compared)
	if !slices.Contains(days, c.Day) {
		days = append(days, c.Day)
		slices.Sort(days)
	}
	for _, name := range []string{c.Treatment, c.Control} {
		f, _ := plugs.Follow(p.Trial, p.Compared, name, days)
		plug, ok := f.At[plugs.Sight{Day: c.Day, View: plugs.ViewOf(c.Quantity)}]
		if !ok {
			continue
		}
		file := report.Crops(p.Dir, []report.PlugRow{plug}, size)[0]
		if file == nil {
			lost = append(lost, fmt.Sprintf("plug %s of %s is not shown in the excerpt: its photo is missing or has been replaced", plug.Name, wording.Shown(plug.File())))
			continue
		}
		at := slices.IndexFunc(p.Trial.Plan.Treatments, func(t plan.Treatment) bool { return t.Name == name })
		words := fmt.Sprintf("Tray %d, plug %s: %s", plug.Tray, plug.Name, plugs.SizeWords(plug))
		faces = append(faces, embedFace{Name: name, Colour: colours.Class(at), Alt: fmt.Sprintf("%s, day %d: %s", wording.Upper(name), plug.Day, words), Size: words,
			Source: jpegSource("src", file), Side: size.SidePx})
	}
	return faces, lost
}
