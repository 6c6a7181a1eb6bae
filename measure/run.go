// Package measure turns the photos and the plan of a trial into quantities with error bars.
//
//	in    a trial's folder with its plan, or one photo
//	out   readings with error bars, concerns about each photo and about all photos as a set
//
// It must not depend on how treatments are compared or who shows the figures.
package measure

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"

	"traygauge/measure/checks"
	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/reading"
	"traygauge/measure/store"
	"traygauge/measure/trialdir"
	"traygauge/measure/wording"
	"traygauge/vision"
)

// RunOptions say how a trial's photos are measured. The zero value works.
type RunOptions struct {
	Workers int            // photos measured at the same time; 0 is two, or one on a single processor
	Version string         // of the program, kept in each reading
	Again   bool           // measure also what is measured already
	Shard   trialdir.Shard // which part of the photos; the zero value is all of them

	// Progress is called before the first photo, with 0 done and no name, and after each one, never twice at once; name is
	// the photo's path below photos/.
	Progress func(done, total int, name string)

	// Each is called once for each photo, in the order of their names, as soon as all photos before it are done.
	Each func(r reading.Reading, reused bool)

	// Draw, when not nil, makes the photo's overlay, at OverlayPath. It is called by several workers at once, while the pixels
	// are there; of the reading it gets only Photo, SHA256, Version, Settings and Grid.
	Draw func(Seen, reading.Reading) error
}

// Result is what a trial's photos gave, in the order of their names.
type Result struct {
	Readings []reading.Reading
	Concerns []reading.TrialConcern // about the trial as a whole
	Skipped  []trialdir.Skipped     // files in photos/ that are no photos
	Removed  []string               // photos whose figures counted until now and were taken out, because their files are gone

	Measured, Reused int // readings made and kept now, and readings kept from before
}

// Run measures the photos of the trial in folder dir by its plan and keeps a reading and an overlay of each. What was
// measured before, by the same version and with a plan that gives the same, is not measured again. Whatever is wrong with a
// photo ends up in its reading; the error is for a folder that cannot be read or written, for a trial that another run is
// measuring, and for a ctx that ended.
//
// A part of the photos (RunOptions.Shard) may be measured while others are, and writes only its own photos' files. What
// concerns the photos taken together is left to a run over all of them, which then finds them measured.
func Run(ctx context.Context, dir string, p *plan.Plan, o RunOptions) (Result, error) {
	files, skipped, err := trialdir.ListPhotos(dir)
	if err != nil {
		return Result{}, err
	}
	for _, folder := range []string{trialdir.ReadingsFolder, trialdir.OverlaysFolder} {
		if err := trialdir.MakeFolder(dir, folder); err != nil {
			return Result{}, err
		}
	}
	unlock, err := store.Lock(filepath.Join(dir, trialdir.ReadingsFolder), o.Shard.Of > 0)
	if err != nil {
		return Result{}, fmt.Errorf("cannot measure %s now: its readings are %w: wait until it has finished", dir, err)
	}
	defer unlock()
	corrections, err := correct.Load(dir)
	if err != nil {
		return Result{}, err
	}
	r := run{ctx: ctx, dir: dir, plan: p, settings: SettingsOf(p, o.Version), corrections: corrections, o: o, files: files}
	r.answers = make([]answer, len(files))
	r.inParallel(r.hash)
	r.findTwins()
	r.keepShard()
	if o.Progress != nil {
		o.Progress(0, len(r.files), "")
	}
	r.inParallel(r.measure)
	result := Result{Skipped: skipped}
	for _, a := range r.answers {
		if a.ready {
			result.Readings = append(result.Readings, a.reading)
		}
		switch {
		case a.reused:
			result.Reused++
		case a.ready && a.reading.SHA256 != "" && !a.twin && a.err == nil:
			result.Measured++
		}
	}
	if err := ctx.Err(); err != nil {
		return result, stoppedError{r.done, len(r.files), err}
	}
	if o.Shard.Of > 0 {
		return result, r.errs()
	}
	result.Readings = checks.Together(p, result.Readings)
	result.Concerns = append(checks.AcrossTrial(p, result.Readings), unusedLines(corrections)...)
	kept, err := readingFiles(dir)
	switch {
	case err != nil:
		return result, errors.Join(r.errs(), err)
	case len(files) == 0 && len(kept) > 0:
		return result, fmt.Errorf("%s has no photos, but %s: put the photos back, or reconnect their drive; the readings were not changed",
			filepath.Join(dir, trialdir.PhotosFolder), wording.Counted(len(kept), "photo was measured before", "photos were measured before"))
	}
	var left []string
	for _, a := range r.answers {
		left = append(left, a.left)
	}
	result.Removed, err = removeStale(dir, kept, result.Readings, left)
	return result, errors.Join(r.errs(), err, trialdir.RemoveParts(dir))
}

// stoppedError says how far a run came before it was stopped. Its words leave out why: the runtime's "context canceled" would tell people nothing.
type stoppedError struct {
	done, photos int
	why          error
}

func (e stoppedError) Error() string {
	return fmt.Sprintf("stopped after %d of %d photos; the next run continues from here", e.done, e.photos)
}

func (e stoppedError) Unwrap() error { return e.why }

// run is one Run at work.
type run struct {
	ctx         context.Context
	dir         string
	plan        *plan.Plan
	settings    string
	corrections correct.Log
	o           RunOptions
	files       []trialdir.File
	answers     []answer // one for each file, in their order

	mu            sync.Mutex
	done, emitted int
}

// answer is what became of one file.
type answer struct {
	reading             reading.Reading
	ready, reused, twin bool
	left                string // what the photo was called before, if it was renamed
	err                 error
}

func (r *run) workers() int {
	if r.o.Workers > 0 {
		return r.o.Workers
	}
	return min(2, runtime.NumCPU())
}

// inParallel calls step with the number of each file, from as many workers as there may be.
func (r *run) inParallel(step func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(r.workers(), len(r.files)) {
		wg.Go(func() {
			for i := range next {
				step(i)
			}
		})
	}
	for i := range r.files {
		if r.ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wg.Wait()
}

// hash fills in what is known of a file before it is measured.
func (r *run) hash(i int) {
	a, f := &r.answers[i], r.files[i]
	a.reading = reading.Reading{Photo: f.Name, Version: r.o.Version, Settings: r.settings}
	if f.Refused != nil {
		a.refuse(f.Refused)
		return
	}
	raw, err := vision.ReadFile(f.Path)
	if err != nil {
		a.refuse(err)
		return
	}
	a.reading.SHA256 = trialdir.HashOf(raw)
	a.reading.Grid = reading.GridOf(r.corrections.Of(a.reading.SHA256))
}

// refuse turns the reading into one of a photo that cannot be measured.
func (a *answer) refuse(err error) {
	a.ready = true
	a.reading.Clear()
	a.reading.Concerns = []reading.Concern{concernOf(err)}
}

// concernOf puts an error into a concern. What is no refusal of the photo is a fault of the program's.
func concernOf(err error) reading.Concern {
	var refusal *vision.Refusal
	if errors.As(err, &refusal) {
		return reading.Concern{Kind: refusal.Kind, Words: refusal.Words, Remedy: refusal.Remedy, Fatal: true}
	}
	return reading.Concern{Kind: reading.InternalError, Words: "could not be measured because of an error in this program (" + err.Error() + ")",
		Remedy: "the photo may be fine; please report this message and the program’s version", Fatal: true}
}

// findTwins answers for each photo that has the same bytes as one before it.
func (r *run) findTwins() {
	first := map[string]string{}
	for i := range r.answers {
		a := &r.answers[i]
		if a.reading.SHA256 == "" {
			continue
		}
		before, seen := first[a.reading.SHA256]
		if !seen {
			first[a.reading.SHA256] = a.reading.Photo
			continue
		}
		a.refuse(&vision.Refusal{Kind: reading.SamePhotoTwice, Words: "is the same photo as " + wording.Shown(before), Remedy: "remove one of the two"})
		a.twin = true
	}
}

// keepShard leaves only the files of the shard.
func (r *run) keepShard() {
	var files []trialdir.File
	var answers []answer
	for i, a := range r.answers {
		if r.o.Shard.Has(a.reading.SHA256, r.files[i].Name) {
			files, answers = append(files, r.files[i]), append(answers, a)
		}
	}
	r.files, r.answers = files, answers
}

// measure gives the reading of one file: refused already, kept from before, or made now.
func (r *run) measure(i int) {
	a := &r.answers[i]
	if !a.ready && !r.reuse(a) {
		r.read(a, r.files[i])
	}
	a.ready = true
	r.tell(i)
}

// reuse takes the reading of an earlier run when it would come out the same.
func (r *run) reuse(a *answer) bool {
	old, err := reading.LoadOne(reading.Path(r.dir, a.reading.SHA256))
	if err == nil && old.Photo != a.reading.Photo {
		a.left = old.Photo
	}
	if r.o.Again || err != nil || old.SHA256 != a.reading.SHA256 || old.Settings != r.settings || old.Version != r.o.Version || !reading.SameJSON(old.Grid, a.reading.Grid) {
		return false
	}
	drawn := !old.Fatal() || a.left != "" && trialdir.IsFile(trialdir.OverlayPath(r.dir, a.left))
	if r.o.Draw != nil && drawn && !trialdir.IsFile(trialdir.OverlayPath(r.dir, a.reading.Photo)) {
		return false
	}
	made := r.corrections.Of(old.SHA256)
	if !old.IsOfDay(reading.DayOf(made), r.plan) {
		return false // how high leaves stand goes by the day
	}
	if old.Photo != a.reading.Photo || !reading.SameJSON(old.Corrections, made) {
		old.Photo = a.reading.Photo
		old.Correct(made)
		a.err = reading.Save(r.dir, old)
	}
	a.reading, a.reused = old, true
	return true
}

// read measures one photo and keeps its reading.
func (r *run) read(a *answer, f trialdir.File) {
	raw, err := vision.ReadFile(f.Path)
	if err != nil {
		a.reading.SHA256 = ""
		a.refuse(err)
		return
	}
	known := a.reading
	known.SHA256 = trialdir.HashOf(raw) // again: the file may have changed since it was listed
	made := r.corrections.Of(known.SHA256)
	known.Grid = reading.GridOf(made)
	var see func(Seen, reading.Reading)
	if r.o.Draw != nil {
		see = func(s Seen, measured reading.Reading) {
			measured.Photo = known.Photo
			a.err = r.o.Draw(s, measured)
		}
	}
	a.reading = One(raw, f.Changed, r.plan, reading.Given{Corners: known.Grid, Day: reading.DayOf(made)}, see)
	a.reading.Photo, a.reading.SHA256 = known.Photo, known.SHA256
	a.reading.Version, a.reading.Settings = known.Version, known.Settings
	a.reading.Correct(made)
	if a.err == nil { // without its overlay a reading would be taken for complete
		a.err = reading.Save(r.dir, a.reading)
	}
}

// tell reports progress, and the photos that are now done in their order.
func (r *run) tell(i int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.done++
	if r.o.Progress != nil {
		r.o.Progress(r.done, len(r.files), r.files[i].Name)
	}
	r.files[i].Reported = true
	for ; r.emitted < len(r.files) && r.files[r.emitted].Reported; r.emitted++ {
		if r.o.Each != nil {
			r.o.Each(r.answers[r.emitted].reading, r.answers[r.emitted].reused)
		}
	}
}

// errs joins what could not be written, the first few of it: a full disk need not be reported a hundred times.
func (r *run) errs() error {
	const most = 3
	var errs []error
	more := 0
	for i, a := range r.answers {
		switch {
		case a.err == nil:
		case len(errs) == most:
			more++
		default:
			errs = append(errs, fmt.Errorf("%s: %w", wording.Shown(r.files[i].Name), a.err))
		}
	}
	if more > 0 {
		errs = append(errs, fmt.Errorf("and %s with results that could not be written", wording.Counted(more, "more photo", "more photos")))
	}
	return errors.Join(errs...)
}

// unusedLines says which lines of the corrections do not count.
func unusedLines(l correct.Log) []reading.TrialConcern {
	var concerns []reading.TrialConcern
	for _, p := range l.Problems {
		concerns = append(concerns, reading.TrialConcern{Concern: reading.Concern{Kind: reading.CorrectionNotUsed, Words: p.Error(), Remedy: "it has no effect until then"}})
	}
	return concerns
}

// readingFiles returns the names of the trial's files of readings.
func readingFiles(dir string) (names []string, err error) {
	entries, err := os.ReadDir(filepath.Join(dir, trialdir.ReadingsFolder))
	if err != nil {
		return nil, fmt.Errorf("cannot list the readings: %w", err)
	}
	for _, e := range entries {
		if reading.FileName.MatchString(e.Name()) {
			names = append(names, e.Name())
		}
	}
	return names, nil
}

// removeStale removes those of the kept files of readings whose photos are no longer in the trial, so that no result uses them, with their overlays. It also removes
// the overlays that renamed photos left behind under their former names; other files in overlays/ are not ours. It returns the photos whose figures counted,
// but for those whose names another photo has now.
func removeStale(dir string, kept []string, readings []reading.Reading, formerNames []string) (removed []string, err error) {
	keep, keepOverlay, named := map[string]bool{}, map[string]bool{}, map[string]bool{}
	for _, r := range readings {
		named[r.Photo] = true
		keep[r.SHA256+".json"] = true
		keepOverlay[trialdir.OverlayPath(dir, r.Photo)] = true
	}
	for _, name := range kept {
		if keep[name] {
			continue
		}
		path := filepath.Join(dir, trialdir.ReadingsFolder, name)
		if old, err := reading.LoadOne(path); err == nil {
			formerNames = append(formerNames, old.Photo)
			if old.Usable() && old.ExcludedBy() == nil && !named[old.Photo] {
				removed = append(removed, old.Photo)
			}
		}
		if err := os.Remove(path); err != nil {
			return removed, fmt.Errorf("cannot remove the reading of a missing photo: %w", err)
		}
	}
	for _, name := range formerNames {
		if path := trialdir.OverlayPath(dir, name); name != "" && !keepOverlay[path] && trialdir.IsFile(path) {
			if err := os.Remove(path); err != nil {
				return removed, fmt.Errorf("cannot remove the overlay of a missing photo: %w", err)
			}
		}
	}
	slices.Sort(removed)
	return removed, nil
}
