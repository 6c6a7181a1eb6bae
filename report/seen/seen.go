// Package seen makes the overlay of a photo from what vision found in it.
//
//	in    what was found in a photo, and its reading
//	out   the photo's overlay in the trial's folder
//
// It must not depend on how overlays are drawn, and makes no judgements.
package seen

import (
	"fmt"
	"slices"
	"strings"

	"traygauge/measure"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
	"traygauge/report/overlay"
	"traygauge/vision"
)

// Draw draws what was counted on the photo and writes it where measure.OverlayPath says.
func Draw(dir string, s measure.Seen, r reading.Reading) error {
	o := overlayOf(s, r)
	if r.Grid != nil {
		o.Subtitle += "; grid set by hand"
	}
	return overlay.Draw(trialdir.OverlayPath(dir, r.Photo), s.Photo.Reduced(overlay.LongSide), s.Photo.Bounds().Max, o)
}

// overlayOf puts what was seen into what is drawn.
func overlayOf(s measure.Seen, r reading.Reading) overlay.Overlay {
	o := overlay.Overlay{Title: wording.Shown(r.Photo), Subtitle: "no card found, so nothing was measured"}
	if s.Scene == nil {
		return o
	}
	o.Subtitle = "card found, nothing measured"
	o.Title = strings.Join(append([]string{wording.Shown(r.Photo)}, sceneWords(s.Scene)...), ", ")
	card := s.Scene.CardOutline()
	o.Card = points(card[:])
	for _, m := range s.Scene.Corners {
		o.Markers = append(o.Markers, points(m[:]))
	}
	if len(s.Scene.Tags) > 0 {
		o.Tag = points(s.Scene.Tags[0].Corners[:])
	}
	switch {
	case s.Canopy != nil:
		addCanopy(&o, s.Canopy, r)
	case len(s.Roots) > 0:
		addRoots(&o, s.Roots, r)
	}
	if r.Fatal() && len(o.Plugs) > 0 { // what was seen shows why; its figures count nowhere
		o.Subtitle, o.Figure = "this photo cannot be used: nothing shown here is counted in the results", ""
		for i := range o.Plugs {
			o.Plugs[i].Value = ""
		}
	}
	return o
}

// sceneWords names the trays whose tags are in view, and the card's face.
func sceneWords(s *vision.Scene) []string {
	var words []string
	for _, tag := range s.Tags {
		words = append(words, fmt.Sprintf("tray %d", tag.Tray))
	}
	return append(words, s.Face.String())
}

// addRoots adds the plugs of the roots view and their roots. What is brown lies over the root that it is a part of.
func addRoots(o *overlay.Overlay, plugs []vision.RootPlug, r reading.Reading) {
	total, counted := 0.0, 0
	for i, p := range plugs {
		mark := overlay.PlugMark{Name: plan.PlugName(p.Row, p.Col), State: stateOf(p.Empty, p.Cut || hidden(r, i)), Outline: points(p.Outline), Below: true}
		if mark.State == reading.Planted {
			mark.Value = fmt.Sprintf("%.0f", p.RootMM2)
			total += p.RootMM2
			counted++
			addLayer(o, overlay.RootLayer, p.Root)
		}
		o.Plugs = append(o.Plugs, mark)
	}
	for i, p := range plugs {
		if !hidden(r, i) {
			addLayer(o, overlay.BrownRootLayer, p.Brown)
		}
	}
	o.Figure = "root area in mm²"
	o.Subtitle = fmt.Sprintf("root counted on %s, %.0f mm² in all", wording.Counted(counted, "plug", "plugs"), total)
}

// addCanopy adds the plants of the shoots view, each named where it grows from, and their leaves.
func addCanopy(o *overlay.Overlay, c *vision.Canopy, r reading.Reading) {
	total, counted := 0.0, 0
	for i, p := range c.Plants {
		mark := overlay.PlugMark{Name: plan.PlugName(p.Row, p.Col), State: stateOf(p.Empty, p.Cut || p.Covered || hidden(r, i)), Outline: points(p.Cell)}
		if mark.State == reading.Planted {
			mark.Value = fmt.Sprintf("%.0f", p.LeafMM2)
			total += p.LeafMM2
			counted++
		}
		o.Plugs = append(o.Plugs, mark)
	}
	addLayer(o, overlay.LeafLayer, c.Leaf)
	addLayer(o, overlay.YellowLeafLayer, c.Yellow)
	o.Figure = "leaf area in mm²"
	o.Subtitle = fmt.Sprintf("leaf counted on %s, %.0f mm² in all, %.1f %% of the tray", wording.Counted(counted, "plant", "plants"), total, c.CoverPct)
}

// addLayer adds a layer that shows anything at all, so that the legend names only what is there.
func addLayer(o *overlay.Overlay, kind overlay.LayerKind, s vision.Share) {
	if slices.ContainsFunc(s.A, func(a uint8) bool { return a > 0 }) {
		o.Layers = append(o.Layers, overlay.Layer{Kind: kind, Share: s})
	}
}

// hidden reports whether a check found that a plug is not to be seen well enough. A photo that cannot be used has no plugs.
func hidden(r reading.Reading, plug int) bool {
	return plug < len(r.Plugs) && r.Plugs[plug].State == reading.Hidden
}

func stateOf(empty, cut bool) reading.State {
	switch {
	case cut:
		return reading.Hidden
	case empty:
		return reading.Empty
	}
	return reading.Planted
}

func points(px []vision.Px) []overlay.Point {
	list := make([]overlay.Point, len(px))
	for i, p := range px {
		list[i] = overlay.Point(p)
	}
	return list
}
