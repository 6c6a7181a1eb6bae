package plan

import (
	"bytes"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"traygauge/measure/finding"
)

func templatePlan(t *testing.T) *Plan {
	t.Helper()
	p, _, err := Parse(Template("x", sown), FileName)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// A seed draws the same for everybody and for ever: a report may quote it. These places were drawn when the drawing was
// written; a change of them makes every written-down seed worthless.
func TestDrawPlacesForEver(t *testing.T) {
	p := templatePlan(t)
	got := p.DrawPlaces(4711)
	want := map[int]int{1: 7, 2: 9, 3: 2, 4: 3, 5: 6, 6: 5, 7: 1, 8: 10, 9: 4, 10: 8}
	if !maps.Equal(got, want) {
		t.Errorf("seed 4711 draws %v, want %v", got, want)
	}
	if maps.Equal(got, p.DrawPlaces(4712)) {
		t.Error("two seeds draw the same")
	}
}

// Every tray is as likely to stand anywhere: of 10 000 draws tray 1 gets each of ten places 1000 times, give or take
// 4·√(10000·0.1·0.9) = 120.
func TestDrawPlacesIsFair(t *testing.T) {
	p := templatePlan(t)
	var count [11]int
	for seed := range 10000 {
		places := p.DrawPlaces(seed + 1)
		count[places[1]]++
		if seed < 100 && !slices.Equal(slices.Sorted(maps.Values(places)), []int{1, 2, 3, 4, 5, 6, 7, 8, 9, 10}) {
			t.Fatalf("seed %d leaves a place out: %v", seed+1, places)
		}
	}
	for place, n := range count[1:] {
		if math.Abs(float64(n)-1000) > 120 {
			t.Errorf("tray 1 got place %d %d times of 10000", place+1, n)
		}
	}
}

// What is printed for the plan can be put there, whatever the treatments are called, and then has nothing to complain of.
// Places changed by hand are reported.
func TestPlacesYAML(t *testing.T) {
	text := string(Template("x", sown))
	head, rest, _ := strings.Cut(text, "trays:\n")
	_, tail, _ := strings.Cut(rest, "\nvolume_ml_per_tray")
	for _, name := range []string{"water only", "no", "5 % more, {or} less", `a "quoted" one`, "häufig: doppelt", "seaweed #2"} {
		renamed := strings.ReplaceAll(head, "\n  water only:", "\n  "+yamlName(name)+":")
		renamed = strings.ReplaceAll(renamed, "compare_with: water only", "compare_with: "+yamlName(name))
		p := templatePlan(t)
		for i := range p.Trays {
			if p.Trays[i].Treatment == "water only" {
				p.Trays[i].Treatment = name
			}
		}
		whole := renamed + string(p.PlacesYAML(99)) + "\nvolume_ml_per_tray" + tail
		got, findings, err := Parse([]byte(whole), FileName)
		if err != nil {
			t.Fatalf("%s: %v\n%s", name, err, whole)
		}
		if got.PlacesSeed != 99 || got.Trays[0].Treatment != name {
			t.Errorf("%s: seed %d, tray 1 gets %q", name, got.PlacesSeed, got.Trays[0].Treatment)
		}
		for _, f := range findings {
			if strings.Contains(f.Message, "places_seed") {
				t.Errorf("%s: %v", name, f)
			}
		}
		swapped := bytes.Replace([]byte(whole), []byte("places_seed: 99"), []byte("places_seed: 98"), 1)
		if _, findings, err := Parse(swapped, FileName); err != nil || !slices.ContainsFunc(findings, func(f finding.Finding) bool {
			return f.Severity == finding.Warning && strings.HasPrefix(f.Message, "places_seed 98 gives other positions")
		}) {
			t.Errorf("%s: another seed is not told: %v %v", name, findings, err)
		}
	}
}
