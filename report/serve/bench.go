package serve

import (
	"context"
	"errors"
	"runtime"
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

	mu   sync.Mutex
	jobs map[string]*job // by photo
}

type job struct {
	done    chan struct{} // closed when reading and err are there
	reading measure.Reading
	err     error
}

func newBench(measure func(context.Context, string) (measure.Reading, error)) *bench {
	b := &bench{measure: measure, places: make(chan struct{}, min(2, runtime.NumCPU())), jobs: map[string]*job{}}
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
