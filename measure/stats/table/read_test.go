package table

import (
	"bytes"
	"encoding/csv"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var weightByGroup = Columns{Value: "weight", By: "group"}

// Each table says the same: a 1.5, a 2.5, b 3.
func TestTheSameTableInManyForms(t *testing.T) {
	for what, text := range map[string]string{
		"commas":                   "group,weight\na,1.5\na,2.5\nb,3\n",
		"columns turned and more":  "weight,note,group\n1.5,x,a\n2.5,,a\n3,y,b\n",
		"no last line end":         "group,weight\na,1.5\na,2.5\nb,3",
		"Windows line ends":        "group,weight\r\na,1.5\r\na,2.5\r\nb,3\r\n",
		"byte order mark":          "\xef\xbb\xbfgroup,weight\na,1.5\na,2.5\nb,3\n",
		"semicolons":               "group;weight\na;1.5\na;2.5\nb;3\n",
		"decimal commas":           "group;weight\na;1,5\na;2,5\nb;3\n",
		"quoted decimal commas":    "group,weight\na,\"1,5\"\na,\"2,5\"\nb,3\n",
		"three decimals":           "group;weight\na;1,500\na;2,500\nb;0,3e1\n",
		"tabs":                     "group\tweight\na\t1.5\na\t2.5\nb\t3\n",
		"separator told":           "sep=;\ngroup;weight\na;1.5\na;2.5\nb;3\n",
		"quotes":                   "\"group\",\"weight\"\n\"a\",\"1.5\"\n\"a\",2.5\nb,3\n",
		"spaces":                   " group , weight\na , 1.5 \n a,2.5\nb,3\n",
		"another case":             "Group,WEIGHT\na,1.5\na,2.5\nb,3\n",
		"empty rows":               "group,weight\na,1.5\n\n,\na,2.5\nb,3\n,\n",
		"empty cells at the end":   "group,weight\na,1.5,,\na,2.5\nb,3,\n",
		"exponents":                "group,weight\na,15e-1\na,.25E1\nb,+3.\n",
		"nothing measured":         "group,weight\na,1.5\na,2.5\nb,NA\nb,3\nc,\nc,n/a\n",
		"a comma in another label": "group,weight\na,1.5\na,2.5\nb,3\n",
	} {
		got, err := Read(strings.NewReader(text), weightByGroup)
		if err != nil {
			t.Errorf("%s: %v", what, err)
			continue
		}
		if len(got.Rows) != 3 || got.Rows[0].Group != "a" || got.Rows[0].Value != 1.5 || got.Rows[1].Value != 2.5 || got.Rows[2].Group != "b" || got.Rows[2].Value != 3 {
			t.Errorf("%s: %+v", what, got.Rows)
		}
	}
}

func TestWhatIsLeftOutIsTold(t *testing.T) {
	got, err := Read(strings.NewReader("group,weight\na,1\na,\nb,2\nb,NA\n"), weightByGroup)
	if err != nil || !slices.Equal(got.Blank, []int{3, 5}) {
		t.Errorf("%v, %v; lines 3 and 5 hold no value", got, err)
	}
}

// Each refusal says where, what and what to do.
func TestRefusals(t *testing.T) {
	for what, c := range map[string]struct {
		text string
		want Columns
		say  []string
	}{
		"nothing":                 {"", weightByGroup, []string{"empty"}},
		"header only":             {"group,weight\n", weightByGroup, []string{`"weight" has no values`}},
		"blank cells only":        {"group,weight\na,\n", weightByGroup, []string{`"weight" has no values`}},
		"missing column":          {"group,mass\na,1\n", weightByGroup, []string{`no column "weight"`, "the columns are group, mass"}},
		"missing unit":            {"group,weight\na,1\n", Columns{"weight", "group", "tray"}, []string{`no column "tray"`}},
		"missing, by semicolons":  {"group;mass;tray\na;1;2\n", weightByGroup, []string{"the columns are group, mass, tray"}},
		"column twice":            {"group,weight,weight\na,1,2\n", weightByGroup, []string{"two columns", "rename"}},
		"one for both":            {"group,weight\na,1\n", Columns{"weight", "weight", ""}, []string{"used twice"}},
		"text for a number":       {"group,weight\na,1\na,heavy\nb,2 g\n", weightByGroup, []string{"line 3", `"heavy"`, "line 4", `"2 g"`, "write only the number"}},
		"infinite":                {"group,weight\na,Inf\n", weightByGroup, []string{"line 2", "not a number"}},
		"too large":               {"group,weight\na,1e999\n", weightByGroup, []string{"line 2", "too large"}},
		"hexadecimal":             {"group,weight\na,0x10\n", weightByGroup, []string{"not a number"}},
		"no group":                {"group,weight\n,1\n", weightByGroup, []string{"line 2", `no label in column "group"`}},
		"no unit":                 {"group,weight,tray\na,1,\n", Columns{"weight", "group", "tray"}, []string{"line 2", `no label in column "tray"`}},
		"comma and point":         {"group;weight\na;1.234,5\n", weightByGroup, []string{"line 2", "a comma and a point"}},
		"comma here, point there": {"group;weight\na;1,5\na;2.5\n", weightByGroup, []string{"line 2", "line 3", "decimal point"}},
		"thousands or decimals":   {"group;weight\na;1,234\na;2,345\n", weightByGroup, []string{"line 2", "thousands"}},
		"decimal comma unquoted":  {"group,weight\na,1,5\n", weightByGroup, []string{"line 2", "3 cells", "decimal comma"}},
		"a cell missing":          {"group,weight,tray\na,1\n", weightByGroup, []string{"line 2", "2 cells", "missing"}},
		"quote left open":         {"group,weight\na,\"1\nb,2\n", weightByGroup, []string{"line 2", "quotation mark"}},
		"quote in the header":     {"gro\"up,weight\na,1\n", weightByGroup, []string{"line 1", "quotation mark"}},
		"a workbook":              {"PK\x03\x04rest", weightByGroup, []string{"workbook", "CSV"}},
		"UTF-16":                  {"\xff\xfeg\x00", weightByGroup, []string{"UTF-16"}},
		"Latin-1":                 {"group,weight\nbl\xfcte,1\n", weightByGroup, []string{"line 2", "UTF-8"}},
		"zero bytes":              {"group,weight\na\x00,1\n", weightByGroup, []string{"line 2", "zero byte"}},
		"unknown separator":       {"sep=|\ngroup|weight\na|1\n", weightByGroup, []string{`'|'`, "semicolon"}},
		"eleven mistakes":         {"group,weight\n" + strings.Repeat("a,x\n", 13), weightByGroup, []string{"line 11", "3 more"}},
	} {
		_, err := Read(strings.NewReader(c.text), c.want)
		if err == nil {
			t.Errorf("%s: is read", what)
			continue
		}
		for _, say := range c.say {
			if !strings.Contains(err.Error(), say) {
				t.Errorf("%s: %q does not say %q", what, err, say)
			}
		}
	}
}

func TestRowsBecomeUnits(t *testing.T) {
	got, err := Read(strings.NewReader("g,t,v\na,1,10\nb,1,20\na,1,12\na,2,14\n"), Columns{"v", "g", "t"})
	if err != nil {
		t.Fatal(err)
	}
	units, offset, err := got.units()
	if err != nil || offset != 0 || len(units) != 3 || !slices.Equal(units[0].Values, []float64{10, 12}) || units[1].Group != "b" || units[2].Name != "2" {
		t.Errorf("%+v, offset %v, %v", units, offset, err)
	}
	if shared := got.Shared(); !slices.Equal(shared, []string{"1"}) {
		t.Errorf("shared: %v; unit 1 is in both groups", shared)
	}
	got, err = Read(strings.NewReader("g,v\na,10\nB,20\nA ,12\na,13\n"), Columns{"v", "g", ""})
	if err != nil {
		t.Fatal(err)
	}
	if units, _, _ := got.units(); len(units) != 4 || units[2].Name != "line 4" {
		t.Errorf("%+v: each row is a unit", units)
	}
	if alike := got.Alike(); len(alike) != 1 || alike[0] != [2]string{"a", "A"} {
		t.Errorf("alike: %v; the two spellings are one pair, in whatever order their rows come", alike)
	}
}

// Numbers that a float64 cannot tell apart keep their differences.
func TestSharedLeadingDigitsAreTakenOff(t *testing.T) {
	got, err := Read(strings.NewReader("g,v\na,1000000000000.4\na,1000000000000.3\nb,1000000000000.5\n"), Columns{"v", "g", ""})
	if err != nil {
		t.Fatal(err)
	}
	units, offset, err := got.units()
	if err != nil || offset != 1000000000000.4 || units[1].Values[0] != -0.1 || units[2].Values[0] != 0.1 {
		t.Errorf("%+v, offset %v, %v", units, offset, err)
	}
}

// Whatever is read holds finite numbers with labels, and read once more from plain commas it says the same.
func FuzzRead(f *testing.F) {
	for _, text := range []string{
		"group,weight,tray\na,1.5,1\nb,2,2\n", "group;weight;tray\na;1,5;1\n", "sep=;\ngroup;weight;tray\n", "group\tweight\ttray\na\t1e3\tx\n",
		"\xef\xbb\xbfgroup,weight,tray\n\"a\nb\",-0,1\n", "group,weight,tray\na,NA,1\na,1.0,1\n", "group,weight,tray\na,1,234,1\n", "PK\x03\x04", "\"", "sep=\"\na",
	} {
		f.Add(text)
	}
	want := Columns{"weight", "group", "tray"}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := Read(strings.NewReader(text), want)
		if err != nil {
			if err.Error() == "" {
				t.Error("an error without words")
			}
			return
		}
		var plain bytes.Buffer
		w := csv.NewWriter(&plain)
		w.Write([]string{"weight", "group", "tray"})
		for _, r := range got.Rows {
			if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) || r.Group == "" || r.Unit == "" || r.Line < 2 {
				t.Fatalf("%+v", r)
			}
			w.Write([]string{strconv.FormatFloat(r.Value, 'g', -1, 64), r.Group, r.Unit})
		}
		w.Flush()
		again, err := Read(&plain, want)
		if err != nil {
			t.Fatalf("%v, of %q", err, plain.String())
		}
		for i, r := range again.Rows {
			if first := got.Rows[i]; r.Value != first.Value || r.Group != first.Group || r.Unit != first.Unit {
				t.Fatalf("%+v, was %+v", r, first)
			}
		}
		if _, _, err := got.units(); err != nil {
			t.Fatal(err)
		}
	})
}
