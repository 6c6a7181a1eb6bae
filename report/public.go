package report

import (
	"cmp"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"

	"traygauge/measure/checks"
	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/wording"
)

// CollectPublic is Collect for publishing: what is not for everybody is left out of the readings to begin with, so that no file made from
// the trial can show it. shown are these readings, for comparing.
func CollectPublic(p *plan.Plan, readings []reading.Reading) (t *Trial, shown []reading.Reading) {
	p, shown = publishable(p, checks.Together(p.InSomeZone(), readings))
	t = collect(p, shown)
	files := map[string]string{}
	for _, r := range readings {
		files[r.SHA256] = r.Photo
	}
	t.Public = true
	for i := range t.Plugs {
		t.Plugs[i].publish(files)
	}
	for i := range t.Trays {
		t.Trays[i].publish(files)
	}
	for i := range t.Photos {
		t.Photos[i].publish(files)
	}
	return t, shown
}

// publish lets a row know its photo's path, which it does not show, and show of its time the day.
func (s *Shot) publish(files map[string]string) { s.file, s.toTheDay = files[s.SHA256], true }

// File returns the photo's path below photos/, for opening it; it is not for showing.
func (s Shot) File() string {
	if s.file != "" {
		return s.file
	}
	return s.Photo
}

// publishable returns a trial's plan and readings without what is private: notes, the photos' paths, and who corrected
// what and at what time of day. A photo goes by the first twelve digits of its SHA-256 instead, so that it can still be told from others and checked against
// its file. Reasons for corrections stay, for without them no one could judge a result; the names of all who corrected anything
// are taken out of them. Names that only a reason holds cannot be known: show Reasons to whoever publishes.
func publishable(p *plan.Plan, readings []reading.Reading) (*plan.Plan, []reading.Reading) {
	q := *p
	q.Treatments = slices.Clone(p.Treatments)
	for i := range q.Treatments {
		q.Treatments[i].Note = ""
	}
	hide := newHider(readings)
	var shown []reading.Reading
	for _, r := range readings {
		r.Photo = publicName(r.SHA256)
		r.Concerns = slices.Clone(r.Concerns)
		for i, c := range r.Concerns {
			r.Concerns[i].Words, r.Concerns[i].Remedy = hide.words(c.Words), "" // what to do is for whoever takes photos
		}
		r.Corrections = slices.Clone(r.Corrections)
		for i, c := range r.Corrections {
			r.Corrections[i] = correct.Correction{ID: c.ID, When: ToTheDay(c.When, p.Zone), What: c.What, Why: hide.words(c.Why), SHA256: c.SHA256,
				Photo: publicName(c.SHA256), Plug: c.Plug, Corners: c.Corners, Number: c.Number}
		}
		shown = append(shown, r)
	}
	slices.SortStableFunc(shown, func(a, b reading.Reading) int { return strings.Compare(a.Photo, b.Photo) })
	return &q, shown
}

// Reasons returns the reasons for corrections as readings hold them, each once.
func Reasons(readings []reading.Reading) []string {
	var reasons []string
	for _, r := range readings {
		for _, c := range r.Corrections {
			if !slices.Contains(reasons, c.Why) {
				reasons = append(reasons, c.Why)
			}
		}
	}
	return reasons
}

// publicName is what a photo goes by in public.
func publicName(sha string) string { return sha[:min(12, len(sha))] }

// hider puts other words in the place of names that are not for everybody.
type hider struct {
	find *regexp.Regexp // nil when there is nothing to hide
	by   map[string]string
}

func newHider(readings []reading.Reading) hider {
	h := hider{by: map[string]string{}}
	photo := func(name, sha string) {
		name, is := strings.ToLower(name), "photo "+publicName(sha)
		if was, known := h.by[name]; known && was != is {
			is = "another photo" // two of that name in different folders
		}
		h.by[name] = is
	}
	names := func(name, sha string) { // as they are, and as messages show them
		for _, n := range []string{name, path.Base(name)} {
			photo(n, sha)
			photo(wording.Shown(n), sha)
		}
	}
	for _, r := range readings {
		names(r.Photo, r.SHA256)
		for _, c := range r.Corrections {
			if c.Photo != "" {
				names(c.Photo, c.SHA256)
			}
			for _, name := range append(strings.Fields(c.Who), c.Who) {
				if len([]rune(name)) > 1 {
					h.by[strings.ToLower(name)] = "somebody"
				}
			}
		}
	}
	h.find = anyOf(slices.Collect(maps.Keys(h.by)))
	return h
}

// anyOf finds any of the names as a word of its own; nil for none.
func anyOf(names []string) *regexp.Regexp {
	if len(names) == 0 {
		return nil
	}
	slices.SortFunc(names, func(a, b string) int { // the longest first, so that a path goes before its last part
		return cmp.Or(cmp.Compare(len(b), len(a)), strings.Compare(a, b))
	})
	for i, name := range names {
		names[i] = regexp.QuoteMeta(name)
	}
	return regexp.MustCompile(`(?i)(^|[^\pL\pN])(` + strings.Join(names, "|") + `)($|[^\pL\pN])`)
}

// words returns s with all names replaced. Names that share the mark between them need a second look.
func (h hider) words(s string) string {
	if h.find == nil {
		return s
	}
	for range 2 {
		s = h.find.ReplaceAllStringFunc(s, func(found string) string {
			parts := h.find.FindStringSubmatch(found)
			return parts[1] + h.by[strings.ToLower(parts[2])] + parts[3]
		})
	}
	return s
}
