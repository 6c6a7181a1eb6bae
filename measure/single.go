package measure

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/store"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
	"traygauge/vision"
)

// RunOne measures one photo of the trial in folder dir, by its path below photos/, and keeps its reading and overlay as Run
// does; a reading that would come out the same is kept. Whatever is wrong with the photo ends up in the reading. Other photos may
// be measured meanwhile, also by parts of a Run; while a Run over all photos is at work the error is store.ErrLocked.
func RunOne(ctx context.Context, dir string, p *plan.Plan, photo string, o RunOptions) (reading.Reading, error) {
	r, unlock, err := runOf(ctx, dir, p, photo, o)
	if err != nil {
		return reading.Reading{}, err
	}
	defer unlock()
	r.measure(0)
	return r.answers[0].reading, r.errs()
}

// Kept returns what RunOne would return without looking at the photo's picture: the reading that was kept of it, or what is wrong with
// its file. It is not there when the photo has to be measured.
func Kept(ctx context.Context, dir string, p *plan.Plan, photo string, o RunOptions) (r reading.Reading, there bool, err error) {
	one, unlock, err := runOf(ctx, dir, p, photo, o)
	if err != nil {
		return reading.Reading{}, false, err
	}
	defer unlock()
	a := &one.answers[0]
	there = a.ready || one.reuse(a)
	return a.reading, there, one.errs()
}

// runOf prepares to measure one photo. Until unlock no Run over all photos begins.
func runOf(ctx context.Context, dir string, p *plan.Plan, photo string, o RunOptions) (r *run, unlock func(), err error) {
	f, err := trialdir.PhotoAt(dir, photo)
	if err != nil {
		return nil, nil, err
	}
	for _, folder := range []string{trialdir.ReadingsFolder, trialdir.OverlaysFolder} {
		if err := trialdir.MakeFolder(dir, folder); err != nil {
			return nil, nil, err
		}
	}
	unlock, err = store.Lock(filepath.Join(dir, trialdir.ReadingsFolder), true)
	if err != nil {
		return nil, nil, fmt.Errorf("cannot measure %s now: the readings are %w", wording.Shown(photo), err)
	}
	corrections, err := correct.Load(dir)
	if err == nil {
		r = &run{ctx: ctx, dir: dir, plan: p, settings: SettingsOf(p, o.Version), corrections: corrections, o: o, files: []trialdir.File{f}, answers: make([]answer, 1)}
		r.hash(0)
		err = r.findTwin()
	}
	if err != nil {
		unlock()
		return nil, nil, err
	}
	return r, unlock, nil
}

// findTwin answers for a single photo that has the same bytes as one before it, as findTwins does for all.
func (r *run) findTwin() error {
	a := &r.answers[0]
	info, err := os.Stat(r.files[0].Path)
	if a.reading.SHA256 == "" || err != nil {
		return nil // refused already
	}
	first, err := trialdir.PhotoWith(r.dir, a.reading.SHA256, info.Size())
	if err == nil && first != "" && first != a.reading.Photo {
		a.refuse(&vision.Refusal{Kind: reading.SamePhotoTwice, Words: "is the same photo as " + wording.Shown(first), Remedy: "remove one of the two"})
		a.twin = true
	}
	return err
}
