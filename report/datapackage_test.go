package report

import (
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"traygauge/measure/compare"
	"traygauge/measure/compare/outcome"
	"traygauge/report/table"
	"traygauge/report/testtrial"
)

// packaged returns a trial's tables and their descriptor, by file name.
func packaged(t *testing.T, trial *Trial, compared *outcome.Result) map[string][]byte {
	t.Helper()
	var plugs, photos, trays, comparisons, descriptor bytes.Buffer
	for _, err := range []error{WritePlugsCSV(&plugs, trial), WritePhotosCSV(&photos, trial), WriteTraysCSV(&trays, trial), WriteComparisonsCSV(&comparisons, compared)} {
		if err != nil {
			t.Fatal(err)
		}
	}
	files := map[string][]byte{PlugsCSV: plugs.Bytes(), PhotosCSV: photos.Bytes(), TraysCSV: trays.Bytes(), ComparisonsCSV: comparisons.Bytes()}
	if err := WriteDataPackage(&descriptor, trial, files); err != nil {
		t.Fatal(err)
	}
	files["datapackage.json"] = descriptor.Bytes()
	return files
}

func TestDataPackage(t *testing.T) {
	p := testtrial.Plan()
	hostile := testtrial.Reading("=1+1 \"<b>\".jpg", 1, "roots", testtrial.Taken(10, 9, 0), testtrial.RootPlug("A1", 12.5, 3))
	_, private, all, _ := testtrial.Public(t)
	public, shown := CollectPublic(private, all)
	for name, readings := range map[string]struct {
		trial    *Trial
		compared *outcome.Result
	}{
		"in public":   {public, compare.Of(public.Plan, shown, nil, compare.Options{})},
		"few photos":  {Collect(p, append(testtrial.Readings(), hostile)), compare.Of(p, append(testtrial.Readings(), hostile), nil, compare.Options{AllPairs: true})},
		"whole trays": {Collect(p, testtrial.WholeTrays()), compare.Of(p, testtrial.WholeTrays(), nil, compare.Options{})},
		"nothing":     {Collect(p, nil), compare.Of(p, nil, nil, compare.Options{})},
	} {
		files := packaged(t, readings.trial, readings.compared)
		for _, problem := range packageProblems(files) {
			t.Errorf("%s: %s", name, problem)
		}
	}
}

// A descriptor that says something else than its table must be found out, or the test above would prove nothing.
func TestDataPackageProblemsAreFound(t *testing.T) {
	p := testtrial.Plan()
	for what, spoil := range map[string]func(map[string][]byte){
		"type":       func(f map[string][]byte) { spoilText(f, PlugsCSV, ",30.00,", ",thirty,") },
		"constraint": func(f map[string][]byte) { spoilText(f, PlugsCSV, ",planted,", ",sown,") },
		"header":     func(f map[string][]byte) { spoilText(f, PhotosCSV, "tilt_deg", "tilt") },
		"hash":       func(f map[string][]byte) { f[TraysCSV] = append(f[TraysCSV], '\n') },
		"no type":    func(f map[string][]byte) { spoilText(f, "datapackage.json", `"type": "number"`, `"type": "float"`) },
		"key": func(f map[string][]byte) {
			spoilText(f, "datapackage.json", `"primaryKey": [`, `"primaryKey": ["none", `)
		},
	} {
		files := packaged(t, Collect(p, testtrial.Readings()), compare.Of(p, testtrial.Readings(), nil, compare.Options{}))
		spoil(files)
		if len(packageProblems(files)) == 0 {
			t.Errorf("%s: nothing found", what)
		}
	}
}

func spoilText(files map[string][]byte, name, old, new string) {
	files[name] = bytes.Replace(files[name], []byte(old), []byte(new), 1)
}

func TestEveryColumnHasAMeaning(t *testing.T) {
	check := func(table string, names []string, meanings map[string]meaning) {
		for _, name := range names {
			if meanings[name].words == "" {
				t.Errorf("%s: nothing says what %s means", table, name)
			}
		}
		for name := range meanings {
			if !slices.Contains(names, name) {
				t.Errorf("%s has no column %s", table, name)
			}
		}
	}
	check(PlugsCSV, namesOf(PlugColumns), plugMeanings)
	check(TraysCSV, namesOf(TrayColumns), trayMeanings)
	check(PhotosCSV, namesOf(photoColumns), photoMeanings)
	check(ComparisonsCSV, namesOf(ComparisonColumns), comparisonMeanings)
}

func namesOf[Row any](columns []table.Column[Row]) []string {
	var names []string
	for _, c := range columns {
		names = append(names, c.Name)
	}
	return names
}

// packageProblems checks a descriptor and its tables against Data Package, Data Resource and Table Schema 2.0: what must be there, what
// it may be, and that every value of every table is of its field's type and within its constraints.
func packageProblems(files map[string][]byte) (problems []string) {
	say := func(format string, args ...any) { problems = append(problems, fmt.Sprintf(format, args...)) }
	var p struct {
		Resources []struct {
			Name, Path, Type, Format, Encoding, Hash string
			Bytes                                    *int
			Schema                                   struct {
				Fields []struct {
					Name, Type, Format, Title, Description string
					Constraints                            map[string]any
				}
				PrimaryKey  []string
				ForeignKeys []struct {
					Fields    []string
					Reference struct {
						Resource string
						Fields   []string
					}
				}
				MissingValues []string
			}
		}
		Name      string
		Generator struct{ Versions, Networks []string }
		Licenses  []struct{ Name string }
	}
	if err := json.Unmarshal(files["datapackage.json"], &p); err != nil {
		return []string{err.Error()}
	}
	name := regexp.MustCompile(`^[-a-z0-9._/]+$`) // the name pattern that version 1 required and version 2 recommends
	if !name.MatchString(p.Name) {
		say("the package's name is %q", p.Name)
	}
	if len(p.Generator.Networks) != 2 || p.Generator.Networks[0] == "" {
		say("what measured the photos is not named: %v", p.Generator)
	}
	cells := map[string]map[string]map[string]bool{} // by resource, column and text
	if len(p.Resources) == 0 {
		say("a package must have a resource")
	}
	seen := map[string]bool{}
	for _, r := range p.Resources {
		text, ok := files[r.Path]
		switch {
		case !ok:
			say("%s is not there", r.Path)
			continue
		case filepath.IsAbs(r.Path) || strings.Contains(r.Path, ".."):
			say("%s leads elsewhere", r.Path)
		case seen[r.Name] || !name.MatchString(r.Name):
			say("resource name %q", r.Name)
		case r.Type != "table" || r.Encoding != "utf-8":
			say("%s is of type %q, encoding %q", r.Path, r.Type, r.Encoding)
		}
		seen[r.Name] = true
		if sum := sha256.Sum256(text); r.Hash != "sha256:"+hex.EncodeToString(sum[:]) || r.Bytes == nil || *r.Bytes != len(text) {
			say("%s has another size or hash", r.Path)
		}
		rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
		if err != nil || len(rows) == 0 {
			say("%s: %v", r.Path, err)
			continue
		}
		if len(rows[0]) != len(r.Schema.Fields) {
			say("%s has %d columns and %d fields", r.Path, len(rows[0]), len(r.Schema.Fields))
			continue
		}
		column := map[string]int{}
		cells[r.Name] = map[string]map[string]bool{}
		for i, f := range r.Schema.Fields {
			held := map[string]bool{}
			for _, row := range rows[1:] {
				held[row[i]] = true
			}
			cells[r.Name][f.Name] = held
			if f.Name != rows[0][i] {
				say("%s: field %q is column %q", r.Path, f.Name, rows[0][i])
			}
			if _, twice := column[f.Name]; twice || f.Title == "" || f.Description == "" {
				say("%s: field %q is there twice or not described", r.Path, f.Name)
			}
			column[f.Name] = i
			for constraint := range f.Constraints {
				if !slices.Contains(constraintsFor[f.Type], constraint) {
					say("%s: a %s cannot be constrained by %s", f.Name, f.Type, constraint)
				}
			}
			for n, row := range rows[1:] {
				missing := slices.Contains(r.Schema.MissingValues, row[i])
				if why := castProblem(row[i], missing, f.Type, f.Constraints); why != "" {
					say("%s line %d: %s is %q: %s", r.Path, n+2, f.Name, row[i], why)
				}
			}
		}
		keys := map[string]bool{}
		for _, row := range rows[1:] {
			key := ""
			for _, field := range r.Schema.PrimaryKey {
				i, ok := column[field]
				if !ok {
					say("%s: the key's %q is no field", r.Path, field)
					break
				}
				key += row[i] + "\x00"
			}
			if len(r.Schema.PrimaryKey) > 0 && keys[key] {
				say("%s: two rows with the key %q", r.Path, key)
			}
			keys[key] = true
		}
	}
	for _, r := range p.Resources {
		for _, k := range r.Schema.ForeignKeys {
			for text := range cells[r.Name][k.Fields[0]] {
				if text != "" && !cells[k.Reference.Resource][k.Reference.Fields[0]][text] {
					say("%s: %s %q is not in %s", r.Name, k.Fields[0], text, k.Reference.Resource)
				}
			}
		}
	}
	return problems
}

// Names that a table's column must not have: pandas takes them for its own after a point (table.flags), as typed from memory of the
// attributes of its DataFrame and Series, and R takes none that is not a plain name.
func TestColumnsCanBeReached(t *testing.T) {
	taken := strings.Fields("T abs add agg align all any append apply array at attrs axes bool clip columns combine copy corr count cov cummax cummin cumprod cumsum " +
		"describe diff div dot drop dtype dtypes empty eq equals eval explode ffill filter first flags floordiv ge get groupby gt head hist iat iloc index info insert " +
		"isin isna items iterrows join keys kurt last le loc lookup lt mad map mask max mean median melt merge min mod mode mul name ndim ne nlargest pct_change pipe " +
		"pivot plot pop pow prod quantile query radd rank rename replace resample rolling round sample sem set_axis shape shift size skew squeeze stack std style sub " +
		"sum swapaxes tail take transform transpose truncate unstack update values var view where xs")
	plain := regexp.MustCompile(`^[a-z][a-z0-9_]*$`)
	for _, name := range slices.Concat(namesOf(PlugColumns), namesOf(photoColumns), namesOf(TrayColumns), namesOf(ComparisonColumns)) {
		if slices.Contains(taken, name) || !plain.MatchString(name) {
			t.Errorf("%s cannot be reached as a column's name", name)
		}
	}
}

// constraintsFor are the constraints that Table Schema 2.0 knows for the types used here.
var constraintsFor = map[string][]string{
	"string":   {"required", "unique", "enum", "pattern", "minLength", "maxLength"},
	"number":   {"required", "unique", "enum", "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"},
	"integer":  {"required", "unique", "enum", "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"},
	"boolean":  {"required", "enum"},
	"datetime": {"required", "unique", "enum", "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"},
	"date":     {"required", "unique", "enum", "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum"},
}

// castProblem says why a cell's text is no value of its field.
func castProblem(text string, missing bool, kind string, c map[string]any) string {
	if missing {
		if c["required"] == true {
			return "required"
		}
		return ""
	}
	value, err := 0.0, error(nil)
	switch kind {
	case "string":
		value = 0
	case "integer":
		var whole int64
		whole, err = strconv.ParseInt(text, 10, 64)
		value = float64(whole)
	case "number":
		value, err = strconv.ParseFloat(text, 64)
	case "boolean":
		_, err = strconv.ParseBool(text)
	case "datetime":
		_, err = time.Parse(time.RFC3339, text)
	case "date":
		_, err = time.Parse(time.DateOnly, text)
	default:
		return "no type of the standard: " + kind
	}
	if err != nil {
		return err.Error()
	}
	if words, ok := c["enum"].([]any); ok && !slices.Contains(words, any(text)) {
		return "not one of the words allowed"
	}
	if least, ok := c["minimum"].(float64); ok && value < least {
		return "below the minimum"
	}
	if most, ok := c["maximum"].(float64); ok && value > most {
		return "above the maximum"
	}
	return ""
}

// A reader that knows nothing of this program: Python's csv module, told by the schema what is a number.
func TestPythonReadsTheTables(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("python3 is not installed: the tables are read by Go's csv reader only")
	}
	p := testtrial.Plan()
	dir := t.TempDir()
	trial := Collect(p, testtrial.WholeTrays())
	for name, text := range packaged(t, trial, compare.Of(p, testtrial.WholeTrays(), nil, compare.Options{})) {
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	out, err := exec.Command(python, "-c", `
import csv, json, sys
package = json.load(open(sys.argv[1] + "/datapackage.json", encoding="utf-8"))
for r in package["resources"]:
    kinds = {f["name"]: f["type"] for f in r["schema"]["fields"]}
    total = rows = 0
    for row in csv.DictReader(open(sys.argv[1] + "/" + r["path"], newline="", encoding=r["encoding"])):
        rows += 1
        for name, text in row.items():
            if kinds[name] in ("number", "integer") and text != "":
                value = float(text)
                total += value if name == "root_area_mm2" else 0
    print(r["name"], rows, "%.2f" % total)
`, dir).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	sum := 0.0
	for _, r := range trial.Plugs {
		if n := r.measured(r.RootAreaMM2, "roots"); n.Known() {
			sum += table.Rounded(n, table.AreaDecimals)
		}
	}
	// 12 photos of 50 plugs: 600 rows; three trays on two days.
	if want := fmt.Sprintf("plugs 600 %.2f\nphotos 12 0.00\n", sum); !strings.HasSuffix(string(out), want) || !strings.HasPrefix(string(out), "trays 6 0.00\n") {
		t.Errorf("Python read\n%swant\n%s", out, want)
	}
}
