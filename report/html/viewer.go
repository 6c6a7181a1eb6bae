package html

import (
	"encoding/base64"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
	"traygauge/report/html/answer"
	"traygauge/report/html/colours"
	"traygauge/report/html/plugs"
)

// viewer shows a treatment beside its control, leaves and roots, on one day at a time. Which two and which day is chosen by radio buttons
// and the style sheet alone.
type viewer struct {
	Days    []viewDay
	Pairs   []viewPair
	Columns []viewColumn
	Rules   template.CSS
	BarMM   int
	BarPct  string // of a picture's width
}

// Common returns the control that all pairs share, which is then named once for all of them; "" where they differ.
func (v *viewer) Common() string {
	if len(v.Pairs) == 0 {
		return ""
	}
	for _, pair := range v.Pairs {
		if pair.Control != v.Pairs[0].Control {
			return ""
		}
	}
	return v.Pairs[0].Control
}

type viewDay struct {
	Index, Day int
	First      bool // shown to begin with
}

type viewPair struct {
	Index              int
	Treatment, Control string
	Colour             string
	First              bool // shown to begin with
	treatment, control int  // columns; control is below 0 for none
}

// viewColumn is a treatment's column of pictures.
type viewColumn struct {
	Index              int
	Name, Gets, Colour string
	Plug               string // which is followed
	Views              []viewRow
}

type viewRow struct {
	Label    string
	View     reading.View
	Pictures []viewPicture
}

// viewPicture is one plug in one view on one day.
type viewPicture struct {
	Index          int // of the day
	First          bool
	Source, Thumb  template.HTMLAttr // "" for none
	Side           int
	Alt, Size, Not string // Not says why there is no picture
}

func viewerOf(p Page, days []int, stand []plugs.Followed, s *plugs.Pictures) *viewer {
	v := &viewer{}
	first := slices.Index(days, p.Compared.Answer.Day) // the day that was asked for, or else the last
	if first < 0 {
		first = len(days) - 1
	}
	column := map[string]int{}
	for i, t := range p.Trial.Plan.Treatments {
		if stand[i].Name == "" || p.Dir == "" {
			continue
		}
		column[t.Name] = len(v.Columns)
		v.Columns = append(v.Columns, columnOf(t, i, stand[i], len(v.Columns), days, first, s))
	}
	if len(v.Columns) == 0 {
		return nil
	}
	for i, d := range days {
		v.Days = append(v.Days, viewDay{i, d, i == first})
	}
	v.pair(p, column)
	v.BarMM, v.BarPct = plugs.ScaleBar(s.Size)
	v.Rules = v.rules()
	return v
}

func columnOf(t plan.Treatment, i int, f plugs.Followed, index int, days []int, first int, s *plugs.Pictures) viewColumn {
	c := viewColumn{Index: index, Name: t.Name, Gets: getsWords(t), Colour: colours.Class(i), Plug: fmt.Sprintf("tray %d, plug %s", f.Tray, f.Name)}
	for _, view := range []reading.View{reading.Shoots, reading.Roots} {
		row := viewRow{Label: viewWords[view], View: view}
		for k, day := range slices.Backward(days) {
			picture := viewPicture{Index: k, First: k == first, Side: s.Size.SidePx, Not: fmt.Sprintf("No usable photo of tray %d on day %d", f.Tray, day)}
			if plug, ok := f.At[plugs.Sight{Day: day, View: view}]; ok {
				file := s.In(plug)
				picture.Source, picture.Thumb = jpegSource("src", file), jpegSource("href", plugs.Thumb(file))
				picture.Size = plugs.SizeWords(plug)
				picture.Alt = fmt.Sprintf("%s, %s, day %d: %s", wording.Upper(t.Name), strings.ToLower(row.Label), day, picture.Size)
				if file == nil {
					picture.Not = "The photo is missing"
				}
			}
			row.Pictures = append(row.Pictures, picture)
		}
		if at := slices.IndexFunc(row.Pictures, func(p viewPicture) bool { return p.First }); at > 0 { // it comes first over a slow line
			shown := row.Pictures[at]
			row.Pictures = slices.Insert(slices.Delete(row.Pictures, at, at+1), 0, shown)
		}
		c.Views = append(c.Views, row)
	}
	return c
}

// pair lists what can be shown beside each other: each treatment with each of its controls; without any, each treatment by itself. The first
// clear difference of the answer is shown to begin with.
func (v *viewer) pair(p Page, column map[string]int) {
	for i, t := range p.Trial.Plan.Treatments {
		at, ok := column[t.Name]
		for _, control := range t.CompareWith {
			if beside, known := column[control]; ok && known {
				v.Pairs = append(v.Pairs, viewPair{Treatment: t.Name, Control: control, Colour: colours.Class(i), treatment: at, control: beside})
			}
		}
	}
	if len(v.Pairs) == 0 {
		for _, c := range v.Columns {
			v.Pairs = append(v.Pairs, viewPair{Treatment: c.Name, Colour: c.Colour, treatment: c.Index, control: -1})
		}
	}
	first := 0
	for _, c := range answer.Asked(p.Compared) {
		at := slices.IndexFunc(v.Pairs, func(pair viewPair) bool { return pair.Treatment == c.Treatment && pair.Control == c.Control })
		if at >= 0 && c.Verdict.Clear() {
			first = at
			break
		}
	}
	for i := range v.Pairs {
		v.Pairs[i].Index, v.Pairs[i].First = i, i == first
	}
}

// rules are the style sheet's rules that show a pair's two columns, the treatment on the left, and a day's pictures.
func (v *viewer) rules() template.CSS {
	var out strings.Builder
	for _, pair := range v.Pairs {
		if pair.First { // while the buttons below the pictures are not there yet
			fmt.Fprintf(&out, ".viewer:not(:has(.pairs :checked)) .col-%d{display:grid}\n", pair.treatment)
			if pair.control >= 0 {
				fmt.Fprintf(&out, ".viewer:not(:has(.pairs :checked)) .col-%d{display:grid;order:2}\n", pair.control)
			}
		}
		fmt.Fprintf(&out, ".viewer:has(#pair-%d:checked) .col-%d{display:grid}\n", pair.Index, pair.treatment)
		if pair.control >= 0 {
			fmt.Fprintf(&out, ".viewer:has(#pair-%d:checked) .col-%d{display:grid;order:2}\n", pair.Index, pair.control)
		}
	}
	if len(v.Days) == 1 { // nothing to choose
		out.WriteString(".viewer .picture{display:block}\n")
	}
	for _, day := range v.Days {
		fmt.Fprintf(&out, ".viewer:has(#day-%d:checked) .on-%d{display:block}\n", day.Index, day.Index)
	}
	return template.CSS(out.String())
}

// viewWords are how a view is called where pictures are shown.
var viewWords = map[reading.View]string{reading.Shoots: "Leaves from above", reading.Roots: "Roots from below"}

// jpegSource is a JPEG as a picture's source within the page. The template would write each + of it as five characters.
func jpegSource(attribute string, file []byte) template.HTMLAttr {
	if len(file) == 0 {
		return ""
	}
	return template.HTMLAttr(attribute + `="data:image/jpeg;base64,` + base64.StdEncoding.EncodeToString(file) + `"`)
}
