package measure

import (
	"encoding/json"
	"os"
	"testing"

	"traygauge/vision/card"
)

func TestDump(t *testing.T) {
	out := os.Getenv("DUMP")
	if out == "" {
		t.Skip()
	}
	f, _ := os.Create(out)
	defer f.Close()
	enc := json.NewEncoder(f)
	row := func(kind, photo string, r Reading, truth truthFile) {
		for _, c := range r.Concerns {
			enc.Encode(map[string]any{"photo": photo, "kind": kind, "concern": c.Kind, "fatal": c.Fatal})
		}
		if r.fatal() {
			return
		}
		for _, p := range r.Plugs {
			c, ok := truth.Cells[p.Name]
			if !ok {
				continue
			}
			enc.Encode(map[string]any{"photo": photo, "kind": kind, "name": p.Name, "state": p.State, "view": r.View, "true": c, "plug": p, "budgets": p.Budgets})
		}
	}
	for _, v := range []struct {
		face  card.Face
		kinds []kindOfPhoto
	}{{card.Roots, rootKinds}, {card.Shoots, leafKinds}} {
		for _, k := range v.kinds {
			for i := range 5 {
				s := k.sceneOf(v.face, i)
				p := planFor(s.Tray, s.LeafHeight)
				p.Card.RuleMM = 100 * s.PrintScale
				r, truth := measured(t, s, p, true)
				row(k.name, k.name, r, truth)
			}
		}
	}
}
