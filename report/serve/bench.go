package serve

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"sync"
	"time"

	"traygauge/measure"
	"traygauge/measure/store"
)

// bench measures photos one by one as they are asked for, two at the same time or one on a single processor. Who asks for a photo that is
// being measured waits for the same answer.
type bench struct {
	measure func(context.Context, string) (measure.Reading, error)
	places  chan struct{}
	ctx     context.Context
	stop    context.CancelFunc
	working sync.WaitGroup

	mu      sync.Mutex
	jobs    map[string]*job            // by photo
	refused map[string]measure.Reading // what was said of photos that have no reading of their own, such as copies of others
	rest    bool                       // what nobody asked for is being measured
}

type job struct {
	done    chan struct{} // closed when reading and err are there
	reading measure.Reading
	err     error
}

func newBench(one func(context.Context, string) (measure.Reading, error)) *bench {
	b := &bench{measure: one, places: make(chan struct{}, min(2, runtime.NumCPU())), jobs: map[string]*job{}, refused: map[string]measure.Reading{}}
	b.ctx, b.stop = context.WithCancel(context.Background())
	return b
}

func (b *bench) close() {
	b.stop()
	b.working.Wait()
}

// start returns the work on a photo, begun now or before.
func (b *bench) start(photo string) *job {
	j, _ := b.join(photo)
	return j
}

// again returns work on a photo that began after the call: what was corrected before is in its reading.
func (b *bench) again(ctx context.Context, photo string) *job {
	j, began := b.join(photo)
	if !began && j.wait(ctx, patience) {
		j, _ = b.join(photo)
	}
	return j
}

func (b *bench) join(photo string) (j *job, began bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if j := b.jobs[photo]; j != nil {
		return j, false
	}
	j = &job{done: make(chan struct{})}
	b.jobs[photo] = j
	b.working.Go(func() {
		defer close(j.done)
		j.reading, j.err = b.do(photo)
		b.mu.Lock()
		defer b.mu.Unlock()
		delete(b.jobs, photo)
		delete(b.refused, photo)
		if j.err == nil && len(j.reading.Plugs) == 0 {
			b.refused[photo] = j.reading
		}
	})
	return j, true
}

// do waits for a place, and for a run of the measure command to end.
func (b *bench) do(photo string) (measure.Reading, error) {
	select {
	case b.places <- struct{}{}:
		defer func() { <-b.places }()
	case <-b.ctx.Done():
		return measure.Reading{}, b.ctx.Err()
	}
	for {
		r, err := b.measure(b.ctx, photo)
		if !errors.Is(err, store.ErrLocked) {
			return r, err
		}
		select {
		case <-time.After(300 * time.Millisecond):
		case <-b.ctx.Done():
			return r, err
		}
	}
}

// wait waits for the answer, but not for longer than limit.
func (j *job) wait(ctx context.Context, limit time.Duration) (measured bool) {
	select {
	case <-j.done:
		return true
	case <-ctx.Done():
	case <-time.After(limit):
	}
	return false
}

// measure measures a photo of the trial by the plan as it is now.
func (s *Server) measure(ctx context.Context, photo string) (measure.Reading, error) {
	p, err := s.plan()
	if err != nil {
		return measure.Reading{}, err
	}
	return measure.RunOne(ctx, s.o.Dir, p, photo, measure.RunOptions{Version: s.o.Version, Draw: s.o.Draw})
}

// all measures photos that nobody asked for, one after the other, so that who does ask does not wait for them. Those that were answered for
// without a reading are left out; it returns how many are left.
func (b *bench) all(photos []string) int {
	b.mu.Lock()
	defer b.mu.Unlock()
	photos = slices.DeleteFunc(photos, func(photo string) bool {
		_, said := b.refused[photo]
		return said
	})
	if len(photos) == 0 || b.rest || b.ctx.Err() != nil {
		return len(photos)
	}
	b.rest = true
	b.working.Go(func() {
		for _, photo := range photos {
			select {
			case <-b.start(photo).done:
			case <-b.ctx.Done():
			}
		}
		b.mu.Lock()
		defer b.mu.Unlock()
		b.rest = false
	})
	return len(photos)
}

// said returns what was said of a photo that has no reading of its own.
func (b *bench) said(photo string) (measure.Reading, bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	r, ok := b.refused[photo]
	return r, ok
}

// measureRest begins to measure the photos that have no reading, as those copied into the folder, and returns how many they are.
func (s *Server) measureRest(readings []measure.Reading) int {
	measured := map[string]bool{}
	for _, r := range readings {
		measured[r.Photo] = true
	}
	return s.bench.all(slices.DeleteFunc(measure.PhotoNames(s.o.Dir), func(name string) bool { return measured[name] }))
}
