// Package demo makes an invented kale trial to try the program on: a plan, a log, and drawn photos with known true values.
// It includes typical cases: trays that differ by treatment, one that grows fast and yellows early, one with brown roots, one
// with many empty plugs, a blurred photo and one without the card.
//
//	in    an empty folder
//	out   a whole trial, with the true values of each photo
//
// It must not depend on how photos are measured.
package demo

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"

	"traygauge/measure/logbook"
	"traygauge/measure/plan"
	"traygauge/measure/store"
	"traygauge/vision/synth"
)

// truthFolder holds what each photo shows, as known from how it was drawn: NAME.truth.json for photos/NAME.jpg.
const truthFolder = "truth"

// Options say how the photos are drawn. The zero value works.
type Options struct {
	Workers  int                                // photos drawn at the same time; 0 is one a processor
	Width    int                                // of the photos in px, three quarters of it high; 0 is 2800, about 4 px/mm
	Progress func(done, total int, name string) // called before the first photo with 0, and after each, never twice at once
}

const defaultWidth = 2800

// Write makes the trial in folder dir, which must be empty or not there yet. It always makes the same.
func Write(ctx context.Context, dir string, o Options) error {
	if err := mustBeEmpty(dir); err != nil {
		return err
	}
	p, _, err := plan.Parse(trialYAML, plan.FileName)
	if err != nil {
		return fmt.Errorf("the plan of the demo: %w", err)
	}
	shots := shotsOf(p)
	for _, s := range shots {
		for _, file := range []string{s.photoFile(dir), s.truthFile(dir)} {
			if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
				return fmt.Errorf("cannot create the trial’s folders: %w: check that you have write permission in %s", err, filepath.Dir(dir))
			}
		}
	}
	for name, text := range map[string][]byte{plan.FileName: trialYAML, logbook.FileName: logOf(p)} {
		if err := store.WriteWhole(filepath.Join(dir, name), func(w io.Writer) error { _, err := w.Write(text); return err }); err != nil {
			return err
		}
	}
	if o.Width == 0 {
		o.Width = defaultWidth
	}
	return drawAll(ctx, dir, shots, o)
}

// mustBeEmpty refuses a folder with anything in it.
func mustBeEmpty(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return fmt.Errorf("cannot use %s: %w: choose a folder that does not exist yet", dir, err)
	case len(entries) > 0:
		return fmt.Errorf("%s is not empty and was not changed: choose a folder that does not exist yet", dir)
	}
	return nil
}

// drawAll draws the shots from several workers. The first error stops it.
func drawAll(ctx context.Context, dir string, shots []shot, o Options) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	workers := o.Workers
	if workers <= 0 {
		workers = runtime.NumCPU()
	}
	if o.Progress != nil {
		o.Progress(0, len(shots), "")
	}
	next := make(chan shot)
	var wg sync.WaitGroup
	var mu sync.Mutex
	done := 0
	for range min(workers, len(shots)) {
		wg.Go(func() {
			for s := range next {
				if err := s.draw(dir, o.Width); err != nil {
					stop(err)
					continue
				}
				mu.Lock()
				done++
				if o.Progress != nil {
					o.Progress(done, len(shots), s.name)
				}
				mu.Unlock()
			}
		})
	}
	for _, s := range shots {
		if ctx.Err() != nil {
			break
		}
		next <- s
	}
	close(next)
	wg.Wait()
	if err := context.Cause(ctx); err != nil {
		return fmt.Errorf("the demo trial is incomplete: %w: delete %s before you try again", err, dir)
	}
	return nil
}

// draw makes one photo and its truth.
func (s shot) draw(dir string, width int) error {
	spec := s.spec()
	spec.Resize(width, width*3/4)
	picture, truth, err := synth.Draw(spec)
	if err != nil {
		return fmt.Errorf("%s: %w", s.name, err)
	}
	exif := synth.EXIF{Taken: s.taken, WithZone: true, Focal35: int(spec.Camera.Focal35)}
	if err := synth.WriteJPEG(s.photoFile(dir), picture, spec.JPEGQuality, exif); err != nil {
		return err
	}
	truth.Photo, truth.Date = s.name, s.taken.Format("2006-01-02")
	return truth.Write(s.truthFile(dir))
}

func (s shot) photoFile(dir string) string {
	return filepath.Join(dir, "photos", filepath.FromSlash(s.name))
}

func (s shot) truthFile(dir string) string {
	return filepath.Join(dir, truthFolder, filepath.FromSlash(strings.TrimSuffix(s.name, ".jpg")+".truth.json"))
}
