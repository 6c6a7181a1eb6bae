package measure

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	"traygauge/measure/correct"
	"traygauge/measure/plan"
	"traygauge/measure/store"
	"traygauge/vision"
)

// The folders of a trial.
const (
	PhotosFolder   = "photos"
	ReadingsFolder = "readings"
	OverlaysFolder = "overlays"
)

// RunOptions say how a trial's photos are measured. The zero value works.
type RunOptions struct {
	Workers int    // photos measured at the same time; 0 is two, or one on a single processor
	Version string // of the program, kept in each reading
	Again   bool   // measure also what is measured already
	Shard   Shard  // which part of the photos; the zero value is all of them

	// Progress is called before the first photo, with 0 done and no name, and after each one, never twice at once; name is
	// the photo's path below photos/.
	Progress func(done, total int, name string)

	// Each is called once for each photo, in the order of their names, as soon as all photos before it are done.
	Each func(r Reading, reused bool)

	// Draw, when not nil, makes the photo's overlay, at OverlayPath. It is called by several workers at once, while the pixels
	// are there; of the reading it gets only Photo, SHA256, Version, Settings and Grid.
	Draw func(Seen, Reading) error
}

// Result is what a trial's photos gave, in the order of their names.
type Result struct {
	Readings []Reading
	Concerns []TrialConcern // about the trial as a whole
	Skipped  []Skipped      // files in photos/ that are no photos

	Measured, Reused int // readings made and kept now, and readings kept from before
}

// Skipped is a file in photos/ that is none of a photo's formats and not named like one.
type Skipped struct {
	File string `json:"file"` // path below photos/, with "/"
	Why  string `json:"why"`
}

// Run measures the photos of the trial in folder dir by its plan and keeps a reading and an overlay of each. What was
// measured before, by the same version and with a plan that gives the same, is not measured again. Whatever is wrong with a
// photo ends up in its reading; the error is for a folder that cannot be read or written, for a trial that another run is
// measuring, and for a ctx that ended.
//
// A part of the photos (RunOptions.Shard) may be measured while others are, and writes only its own photos' files. What
// concerns the photos taken together is left to a run over all of them, which then finds them measured.
func Run(ctx context.Context, dir string, p *plan.Plan, o RunOptions) (Result, error) {
	files, skipped, err := listPhotos(dir)
	if err != nil {
		return Result{}, err
	}
	for _, folder := range []string{ReadingsFolder, OverlaysFolder} {
		if err := MakeFolder(dir, folder); err != nil {
			return Result{}, err
		}
	}
	unlock, err := store.Lock(filepath.Join(dir, ReadingsFolder), o.Shard.Of > 0)
	if err != nil {
		return Result{}, fmt.Errorf("cannot measure %s now: its readings are %w: let it finish first", dir, err)
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
		result.Reused += count(a.reused)
		result.Measured += count(a.ready && !a.reused && a.reading.SHA256 != "" && !a.twin && a.err == nil)
	}
	if err := ctx.Err(); err != nil {
		return result, fmt.Errorf("stopped with %d of %d photos done; the next run goes on from here: %w", r.done, len(r.files), err)
	}
	if o.Shard.Of > 0 {
		return result, r.errs()
	}
	result.Readings = Together(p, result.Readings)
	result.Concerns = append(acrossTrial(p, result.Readings), unusedLines(corrections)...)
	var left []string
	for _, a := range r.answers {
		left = append(left, a.left)
	}
	return result, errors.Join(r.errs(), removeStale(dir, result.Readings, left), removeParts(dir))
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

// run is one Run at work.
type run struct {
	ctx         context.Context
	dir         string
	plan        *plan.Plan
	settings    string
	corrections correct.Log
	o           RunOptions
	files       []photoFile
	answers     []answer // one for each file, in their order

	mu            sync.Mutex
	done, emitted int
}

// answer is what became of one file.
type answer struct {
	reading             Reading
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
	a.reading = Reading{Photo: f.name, Version: r.o.Version, Settings: r.settings}
	if f.refused != nil {
		a.refuse(f.refused)
		return
	}
	raw, err := vision.ReadFile(f.path)
	if err != nil {
		a.refuse(err)
		return
	}
	a.reading.SHA256 = hashOf(raw)
	a.reading.Grid = gridOf(r.corrections.Of(a.reading.SHA256))
}

// refuse turns the reading into one of a photo that cannot be measured.
func (a *answer) refuse(err error) {
	a.ready = true
	a.reading.clear()
	a.reading.Concerns = []Concern{concernOf(err)}
}

// internalError is the kind of concern of a photo at which the program itself failed.
const internalError = "internal error"

// concernOf puts an error into a concern. What is no refusal of the photo is a fault of the program's.
func concernOf(err error) Concern {
	var refusal *vision.Refusal
	if errors.As(err, &refusal) {
		return Concern{Kind: refusal.Kind, Words: refusal.Words, Remedy: refusal.Remedy, Fatal: true}
	}
	return Concern{Kind: internalError, Words: "could not be measured because of an error in this program (" + err.Error() + ")",
		Remedy: "the photo may be fine: please report this message with the program's version", Fatal: true}
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
		a.refuse(&vision.Refusal{Kind: sameTwice, Words: "is the same photo as " + Shown(before), Remedy: "remove one of the two"})
		a.twin = true
	}
}

const sameTwice = "same photo twice"

// keepShard leaves only the files of the shard.
func (r *run) keepShard() {
	var files []photoFile
	var answers []answer
	for i, a := range r.answers {
		if r.o.Shard.has(a.reading.SHA256, r.files[i].name) {
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
	old, err := loadReading(readingPath(r.dir, a.reading.SHA256))
	if err == nil && old.Photo != a.reading.Photo {
		a.left = old.Photo
	}
	if r.o.Again || err != nil || old.SHA256 != a.reading.SHA256 || old.Settings != r.settings || old.Version != r.o.Version || !sameJSON(old.Grid, a.reading.Grid) {
		return false
	}
	drawn := !old.fatal() || a.left != "" && isFile(OverlayPath(r.dir, a.left))
	if r.o.Draw != nil && drawn && !isFile(OverlayPath(r.dir, a.reading.Photo)) {
		return false
	}
	made := r.corrections.Of(old.SHA256)
	if !old.isOfDay(dayOf(made), r.plan) {
		return false // how high leaves stand goes by the day
	}
	if old.Photo != a.reading.Photo || !sameJSON(old.Corrections, made) {
		old.Photo = a.reading.Photo
		old.Correct(made)
		a.err = saveReading(r.dir, old)
	}
	a.reading, a.reused = old, true
	return true
}

// read measures one photo and keeps its reading.
func (r *run) read(a *answer, f photoFile) {
	raw, err := vision.ReadFile(f.path)
	if err != nil {
		a.reading.SHA256 = ""
		a.refuse(err)
		return
	}
	known := a.reading
	known.SHA256 = hashOf(raw) // again: the file may have changed since it was listed
	made := r.corrections.Of(known.SHA256)
	known.Grid = gridOf(made)
	var see func(Seen)
	if r.o.Draw != nil {
		see = func(s Seen) { a.err = r.o.Draw(s, known) }
	}
	a.reading = OneGiven(raw, f.changed, r.plan, Given{Corners: known.Grid, Day: dayOf(made)}, see)
	a.reading.Photo, a.reading.SHA256 = known.Photo, known.SHA256
	a.reading.Version, a.reading.Settings = known.Version, known.Settings
	a.reading.Correct(made)
	if a.err == nil { // without its overlay a reading would be taken for complete
		a.err = saveReading(r.dir, a.reading)
	}
}

// tell reports progress, and the photos that are now done in their order.
func (r *run) tell(i int) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.done++
	if r.o.Progress != nil {
		r.o.Progress(r.done, len(r.files), r.files[i].name)
	}
	r.files[i].told = true
	for ; r.emitted < len(r.files) && r.files[r.emitted].told; r.emitted++ {
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
			errs = append(errs, fmt.Errorf("%s: %w", Shown(r.files[i].name), a.err))
		}
	}
	if more > 0 {
		errs = append(errs, fmt.Errorf("and %d more photos whose results could not be written", more))
	}
	return errors.Join(errs...)
}

// MakeFolder makes a folder of the trial, which must not lead out of it.
func MakeFolder(dir, name string) error {
	path := filepath.Join(dir, name)
	switch err := os.Mkdir(path, 0o755); {
	case err == nil:
		store.SyncFolder(dir)
	case errors.Is(err, fs.ErrExist) && !isFolder(path):
		return fmt.Errorf("cannot make the folder %s: a file of that name is in %s: rename it or move it away", name, dir)
	case !isFolder(path):
		return fmt.Errorf("cannot make the folder %s: %w: check that you may write in %s", name, plainCause(err), dir)
	}
	if !staysInside(dir, path) {
		return fmt.Errorf("%s leads outside the trial's folder: make %s a folder of the trial", path, name)
	}
	return nil
}

// unusedLines says which lines of the corrections do not count.
func unusedLines(l correct.Log) []TrialConcern {
	var concerns []TrialConcern
	for _, p := range l.Problems {
		concerns = append(concerns, TrialConcern{nil, Concern{Kind: correctionNotUsed, Words: p.Error(), Remedy: "until then it has no effect"}})
	}
	return concerns
}

// longestWrite is more than writing any file takes.
const longestWrite = time.Hour

// removeParts removes what killed runs left half written.
func removeParts(dir string) error {
	return errors.Join(store.RemoveParts(filepath.Join(dir, ReadingsFolder), 0), store.RemoveParts(filepath.Join(dir, OverlaysFolder), 0),
		store.RemoveParts(dir, longestWrite)) // where other commands may be writing
}

// saveReading writes a reading where loadReading finds it.
func saveReading(dir string, reading Reading) error {
	return store.WriteWhole(readingPath(dir, reading.SHA256), sealed(reading))
}
