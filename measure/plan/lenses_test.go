package plan

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"traygauge/vision/lens"
)

func someLens() lens.Profile {
	p := lens.Profile{Key: lens.Key{Camera: "Maker Phone 1", Focal35: 26, Aspect: 4.0 / 3}, Focal: 0.6, MiddleX: 0.004, K1: -0.05, K2: 0.01, Photos: 12}
	for i := range p.Covariance {
		p.Covariance[i][i] = 1e-8
	}
	return p
}

func TestAPlanHasTheLensesBesideIt(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, text []byte) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write(FileName, Template("Kale", sown))
	if p, _, err := Load(dir); err != nil || p.Lenses != nil {
		t.Fatalf("without profiles: %v, %v", p.Lenses, err)
	}
	text, err := json.Marshal(Lenses{Lenses: []lens.Profile{someLens()}})
	if err != nil {
		t.Fatal(err)
	}
	write(LensesName, text)
	if p, _, err := Load(dir); err != nil || len(p.Lenses) != 1 || p.Lenses[0] != someLens() {
		t.Fatalf("got %v, %v", p, err)
	}
	write(LensesName, text[:len(text)/2])
	if p, _, err := Load(dir); err == nil || !strings.Contains(err.Error(), "lens.json: is damaged") || !strings.Contains(err.Error(), "traygauge lens") {
		t.Errorf("half a file: %v, %v", p, err)
	}
}

func TestWhatCannotBeALensIsRefused(t *testing.T) {
	for words, spoil := range map[string]func(*lens.Profile){
		"not name its lens": func(p *lens.Profile) { p.Camera = "" },
		"possible lens":     func(p *lens.Profile) { p.Focal = 0 },
		"is not a possible": func(p *lens.Profile) { p.MiddleX = 3 },
		"no uncertainty":    func(p *lens.Profile) { p.Covariance[1][1] = -1 },
		"does not name":     func(p *lens.Profile) { p.Aspect = 0 },
		"(Maker Phone 1)":   func(p *lens.Profile) { p.Focal = 1e9 },
	} {
		p := someLens()
		spoil(&p)
		text, err := json.Marshal(Lenses{Lenses: []lens.Profile{p}})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := parseLenses(text); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%q: %v", words, err)
		}
	}
}

// Whatever the file holds, it gives lenses that a photo can be looked at through, or an error.
func FuzzParseLenses(f *testing.F) {
	good, err := json.Marshal(Lenses{Lenses: []lens.Profile{someLens()}})
	if err != nil {
		f.Fatal(err)
	}
	f.Add(good)
	f.Add([]byte(`{"lenses":[{"camera":"a","focal_35mm":26,"width_by_height":1.3,"focal_diagonals":0.6,"k1":1e300,"k2":-1e300}]}`))
	f.Add([]byte(`{"lenses":null}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		profiles, err := parseLenses(text)
		if err != nil {
			return
		}
		for _, p := range profiles {
			for _, l := range append(p.Spread(400, 300, 6), p.In(400, 300, 1)) {
				c := l.Over(400, 300)
				if c == nil {
					continue
				}
				if x, y := c.Bent(c.Straight(30, 40)); !(x > 29.9 && x < 30.1 && y > 39.9 && y < 40.1) {
					t.Errorf("(30, 40) comes back as (%v, %v) through %+v", x, y, l)
				}
			}
		}
	})
}
