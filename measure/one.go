package measure

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"traygauge/measure/checks"
	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/vision"
	"traygauge/vision/card"
)

// Seen is what was found in one photo, for drawing; it is valid only inside the call that hands it out.
type Seen struct {
	Photo  *vision.Photo
	Scene  *vision.Scene     // nil when no card was found
	Tray   vision.Tray       // as the plan has it
	Grid   vision.Grid       // where its cells lie
	Roots  []vision.RootPlug // roots view
	Canopy *vision.Canopy    // shoots view
}

// One measures a single photo's bytes by the plan. Whatever is wrong with the photo ends up in the reading's Concerns, never
// in an error. changed is the file's own time, which is taken where the photo names none; given is what people settled about it. The caller fills in what only it
// knows: Photo, SHA256, Version and Settings. see, when not nil, is called once with what was measured, while the pixels are still there.
func One(raw []byte, changed time.Time, p *plan.Plan, given reading.Given, see func(Seen, reading.Reading)) reading.Reading {
	r := reading.Blank()
	r.Grid = given.Corners
	takeTime(&r, vision.Meta{}, changed, given.Day, p)
	photo, err := vision.Decode(raw)
	if err != nil {
		r.Concerns = append(r.Concerns, concernOf(err))
		return r
	}
	defer photo.Close()
	takeTime(&r, photo.Meta, changed, given.Day, p)
	for _, d := range photo.Doubts {
		r.Doubt(d.Kind, d.Remedy, "%s", d.Words)
	}
	r.WidthPx, r.HeightPx = photo.Width, photo.Height
	seen := Seen{Photo: photo}
	look(&r, &seen, p)
	if see != nil {
		see(seen, r)
	}
	return r
}

// look finds the card and measures what its face says.
func look(r *reading.Reading, seen *Seen, p *plan.Plan) {
	scene, err := vision.FindCard(seen.Photo, vision.CardOptions{RuleMM: p.Card.RuleMM, Lenses: p.Lenses})
	if err != nil {
		r.Concerns = append(r.Concerns, concernOf(err))
		return
	}
	seen.Scene = scene
	r.View = reading.View(scene.Face.String())
	if scene.Lens != nil {
		r.Lens = scene.Lens.Words()
	}
	takeTags(r, scene)
	r.SettleTray(0)
	middle := scene.TrayPoint(p.Tray.LengthMM/2, p.Tray.WidthMM/2)
	r.PxPerMM = reading.Number(scene.Plane.PxPerMM(middle))
	r.TiltDeg = reading.Number(scene.Plane.TiltDeg)
	if scene.Plane.HeightMM > 0 {
		r.HeightMM = reading.Number(scene.Plane.HeightMM)
	}
	r.ResidualPx, r.ResidualMM = reading.Number(scene.Plane.ResidualPx), reading.Number(scene.Plane.ResidualMM)
	r.MTF50PerMM = reading.Number(scene.Edge.MTF50PerMM)
	r.PaperLightPct, r.ClippedPct = reading.Number(100*scene.Light.Level), reading.Number(100*scene.Light.ClippedShare)
	concerns := checks.Judge(scene, float64(r.PxPerMM))
	r.Concerns = append(r.Concerns, concerns...)
	if r.Fatal() {
		return
	}
	if scene.Face == card.Roots {
		err = takeRoots(r, seen, p)
	} else {
		err = takeLeaves(r, seen, p)
	}
	if err != nil {
		r.Concerns = append(r.Concerns, concernOf(err))
		return
	}
	shown := checks.Photo{Scene: scene, Tray: seen.Tray, Grid: seen.Grid, Plugs: seen.Roots, Plan: p, Reading: r}
	if seen.Canopy != nil {
		shown.Leaf = &seen.Canopy.Leaf
	}
	checks.Hold(shown)
	for i := range r.Plugs {
		if r.Grid != nil {
			r.Plugs[i].Flags = append(r.Plugs[i].Flags, reading.GridByHand)
		}
	}
}

func trayOf(p *plan.Plan) vision.Tray {
	t := p.Tray
	return vision.Tray{Rows: t.Rows, Columns: t.Columns, LengthMM: t.LengthMM, WidthMM: t.WidthMM, PitchMM: t.PitchMM,
		FirstU: t.FirstU, FirstV: t.FirstV, PlugMM: t.PlugBottomMM}
}

// trayIn returns the tray's shape and, where someone set it, the place of its plugs in this photo.
func trayIn(r *reading.Reading, s *vision.Scene, p *plan.Plan) (vision.Tray, error) {
	t := trayOf(p)
	if r.Grid == nil {
		return t, nil
	}
	var corners [4]vision.Px
	for i, c := range r.Grid {
		corners[i] = vision.Px{X: c[0], Y: c[1]}
	}
	grid, err := vision.GivenGrid(s, t, corners)
	t.Grid = &grid
	return t, err
}

func takeRoots(r *reading.Reading, seen *Seen, p *plan.Plan) error {
	tray, err := trayIn(r, seen.Scene, p)
	if err != nil {
		return err
	}
	plugs, grid, err := vision.Roots(seen.Scene, tray)
	if err != nil {
		return err
	}
	seen.Roots, seen.Tray, seen.Grid = plugs, tray, grid
	noteGrid(r, seen.Scene, tray, grid)
	coloured := checkColourCast(r, seen.Scene, "browning")
	cut := 0
	for _, f := range plugs {
		g := reading.EmptyPlug(plan.PlugName(f.Row, f.Col))
		g.Place = placeOf(seen.Scene, &seen.Scene.Plane, f.Outline)
		switch {
		case f.Cut:
			g.State, g.Flags = reading.Hidden, []string{reading.CutOff}
			cut++
		case f.Empty:
			g.State = reading.Empty
		default:
			g.RootAreaMM2, g.RootAreaUMM2 = reading.Number(f.RootMM2), expanded(&g, "root_area_mm2", rootBudget(seen.Scene, p, f))
			g.PlugAreaMM2, g.PlugAreaUMM2 = reading.Number(f.PlugMM2), expanded(&g, "plug_area_mm2", plugBudget(seen.Scene, p, f))
			g.RootLengthMM, g.RootLengthUMM = reading.Number(f.LengthMM), expanded(&g, "root_length_mm", lengthBudget(seen.Scene, p, f))
			if f.PlugMM2 > 0 {
				g.RootCoverPct = reading.Number(math.Min(100, 100*f.RootMM2/f.PlugMM2))
			}
			if f.RootMM2 > 0 && !coloured {
				g.RootBrowningPct = reading.Number(math.Min(100, 100*f.BrownMM2/f.RootMM2))
				g.RootBrownUPct = expanded(&g, "root_browning_pct", brownBudget(f))
			}
		}
		r.Plugs = append(r.Plugs, g)
	}
	noteCut(r, cut)
	return nil
}

func takeLeaves(r *reading.Reading, seen *Seen, p *plan.Plan) error {
	tray, err := trayIn(r, seen.Scene, p)
	if err != nil {
		return err
	}
	height, sure := p.Tray.LeafHeightOn(p.DayOf(r.Taken))
	if c := checks.LeavesAtTheCamera(seen.Scene, height); c != nil {
		return c
	}
	if !sure {
		r.Concerns = append(r.Concerns, checks.LeavesGrewOn(p.DayOf(r.Taken), height))
	}
	canopy, grid, err := vision.Leaves(seen.Scene, tray, vision.LeafOptions{
		HeightMM: height, ChlorosisHueDeg: p.Limits.ChlorosisHueDeg, ChlorosisChroma: p.Limits.ChlorosisChroma})
	if err != nil {
		return err
	}
	seen.Canopy, seen.Tray, seen.Grid = canopy, tray, grid
	noteGrid(r, seen.Scene, tray, grid)
	if height != 0 && !canopy.HeightUsed {
		r.Doubt(reading.LeafHeightNotUsed, "take the photo with the phone’s own camera app, which stores the focal length",
			"the photo does not record its focal length, so the leaf height of %g mm could not be taken into account", height)
	} else if c := checks.FocalOfTheWholePicture(seen.Photo, height); c != nil {
		r.Concerns = append(r.Concerns, *c)
	}
	coloured := checkColourCast(r, seen.Scene, "yellowing")
	r.CanopyCoverPct = reading.Number(canopy.CoverPct)
	cut := 0
	leaves, _ := seen.Scene.Plane.Raised(height) // unchanged where the height could not be allowed for
	for _, f := range canopy.Plants {
		g := reading.EmptyPlug(plan.PlugName(f.Row, f.Col))
		g.Place = placeOf(seen.Scene, &leaves, f.Cell)
		switch {
		case f.Cut:
			g.State, g.Flags = reading.Hidden, []string{reading.CutOff}
			cut++
		case f.Covered:
			g.State, g.Flags = reading.Hidden, []string{reading.UnderNeighbours}
		case f.Empty:
			g.State = reading.Empty
		default:
			g.Place = placeOf(seen.Scene, &leaves, []vision.Px{f.Centre}) // tall plants near the tray's edge are seen beside their cell
			g.LeafAreaMM2, g.LeafAreaUMM2 = reading.Number(f.LeafMM2), expanded(&g, "leaf_area_mm2", leafBudget(seen.Scene, p, f, height))
			if !coloured {
				g.ChloroticPct = reading.Number(math.Min(100, 100*f.YellowMM2/f.LeafMM2))
				g.ChlorUPct = expanded(&g, "chlorotic_pct", yellowBudget(f))
				g.LeafHueDeg, g.LeafHueUDeg = reading.Number(f.HueDeg), expanded(&g, "leaf_hue_deg", hueBudget(f.Own))
				g.DGCI, g.DGCIU = reading.Number(f.DGCI), expanded(&g, "dgci", darkGreenBudget(f.Own))
			}
			if f.Shared {
				g.Flags = append(g.Flags, reading.GrownTogether)
			}
		}
		r.Plugs = append(r.Plugs, g)
	}
	noteCut(r, cut)
	return nil
}

// checkColourCast reports whether the light was coloured, and then says so: what depends on hue is not measured.
func checkColourCast(r *reading.Reading, s *vision.Scene, byHue string) bool {
	if s.Light.Coloured {
		r.Doubt(reading.ColouredLight, "take photos under white light; the areas can be used, "+byHue+" was not measured", "%s", s.Light.Words)
	}
	return s.Light.Coloured
}

// noteGrid keeps where the plugs lie.
func noteGrid(r *reading.Reading, s *vision.Scene, t vision.Tray, g vision.Grid) {
	r.PlugsAt = new(correct.Corners)
	for i, q := range vision.GridCorners(s, t, g) {
		r.PlugsAt[i] = [2]float64{math.Round(10*q.X) / 10, math.Round(10*q.Y) / 10}
	}
	if !g.Fitted {
		r.Doubt(reading.PlugsNotSeen, "check on the overlay that the plug names are in the right places; put the card flush against the tray",
			"the plugs could not be distinguished from the tray, so their positions come from the card alone")
	}
}

// noteCut tells of n plugs that are not wholly in the photo. Where most are not, the card hardly lies where it belongs.
func noteCut(r *reading.Reading, n int) {
	switch {
	case n == 0:
	case 2*n > len(r.Plugs):
		r.Concerns = append(r.Concerns, reading.Concern{Kind: reading.TrayCutOff, Fatal: true, Words: fmt.Sprintf("%d of %d plugs are not completely in the photo", n, len(r.Plugs)),
			Remedy: "check that the right face of the card is up and that its arrow touches the tray’s A1 corner, step back until the whole tray is in view, and take the photo again"})
	default:
		r.Doubt(reading.TrayCutOff, "step back until the whole tray is in view", "%d plugs are not completely in the photo", n)
	}
}

// expanded keeps a value's budget and returns its expanded uncertainty.
func expanded(g *reading.Plug, value string, b reading.Budget) reading.Number {
	if g.Budgets == nil {
		g.Budgets = map[string]reading.Budget{}
	}
	g.Budgets[value] = b.Kept()
	return reading.Number(b.Expanded())
}

// takeTime settles when the photo was taken: as it says itself, in its own zone or the plan's; else when its file was last
// changed. A day assigned by hand keeps the time of day.
func takeTime(r *reading.Reading, m vision.Meta, changed time.Time, day *int, p *plan.Plan) {
	zone := p.Sown.Location()
	r.Taken, r.TakenFrom, r.ZoneFrom = changed.In(zone).Truncate(time.Second), reading.FromFile, reading.FromPlan
	if t, ok := m.Time(zone); ok {
		r.Taken, r.TakenFrom = t, reading.FromPhoto
		if m.HasZone() {
			r.ZoneFrom = reading.FromPhoto
		}
	}
	if day != nil {
		clock := r.Taken.In(zone)
		date := p.DateOf(*day)
		r.Taken = time.Date(date.Year(), date.Month(), date.Day(), clock.Hour(), clock.Minute(), clock.Second(), 0, zone)
		r.TakenFrom, r.ZoneFrom = reading.FromHand, reading.FromPlan
	}
}

// takeTags notes the tags in view, the nearest to the card first.
func takeTags(r *reading.Reading, s *vision.Scene) {
	c := s.CardOutline()
	x, y := (c[0].X+c[2].X)/2, (c[0].Y+c[2].Y)/2
	tags := slices.Clone(s.Tags)
	slices.SortStableFunc(tags, func(a, b vision.Tag) int {
		far := func(t vision.Tag) float64 { return math.Hypot(t.Corners[0].X-x, t.Corners[0].Y-y) }
		return cmp.Compare(far(a), far(b))
	})
	for _, t := range tags {
		if !slices.Contains(r.Tags, t.Tray) {
			r.Tags = append(r.Tags, t.Tray)
		}
	}
}
