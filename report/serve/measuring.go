package serve

import (
	"context"
	"slices"

	"traygauge/measure/reading"
	"traygauge/measure/trialdir"
	"traygauge/report/serve/work"
)

// measure measures a photo with the current plan and gives up when ctx ends.
func (s *Server) measure(ctx context.Context, photo string) (reading.Reading, error) {
	if s.o.Program != "" {
		return work.MeasureApart(ctx, s.o.Program, s.o.Dir, photo, s.o.Version)
	}
	p, err := s.plan()
	if err != nil {
		return reading.Reading{}, err
	}
	return work.MeasureHere(ctx, s.o.Dir, p, photo, s.o.Version)
}

// measureRest begins to measure the photos without a reading, such as those copied into the folder, and returns their number.
func (s *Server) measureRest(readings []reading.Reading) int {
	measured := map[string]bool{}
	for _, r := range readings {
		measured[r.Photo] = true
	}
	return s.jobs.All(slices.DeleteFunc(trialdir.PhotoNames(s.o.Dir), func(name string) bool { return measured[name] }))
}

// measureAndName measures a photo and renames it if it shows the other side than was tapped and nothing else has to be settled.
func (s *Server) measureAndName(ctx context.Context, photo string) (reading.Reading, error) {
	r, err := s.measure(ctx, photo)
	n, ours := storedNameOf(photo)
	if err != nil || !ours || n.view == "" || !r.Usable() || r.View == n.view || r.Photo != photo {
		return r, err
	}
	p, err := s.plan()
	if err != nil || len(questionsOn(p, r)) > 0 {
		return r, err
	}
	n.view = r.View
	if err := s.rename(photo, n.String()); err != nil {
		return r, err
	}
	return s.measure(ctx, n.String())
}
