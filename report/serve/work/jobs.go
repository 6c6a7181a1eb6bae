// Package work measures photos while people wait: a few at a time, with phones taking turns and slow photos in a separate queue. Each photo is measured
// in its own process if the program file is available.
//
//	in    names of photos, who waits for them, how one is measured
//	out   readings, what a photo waits for, copies of pictures that browsers do not show
//
// It must not depend on requests and pages.
package work

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"time"

	"traygauge/measure/reading"
	"traygauge/measure/store"
)

const (
	quickTime = 10 * time.Second // limit at a quick place; then the photo goes to the slow place
	slowTime  = 2 * time.Minute  // limit there; then the photo is refused

	// VerdictTimeout is how long a page is kept waiting for a verdict before it has to ask again.
	VerdictTimeout = 20 * time.Second
)

// Jobs measures photos on request, two at a time, or one on a single processor. Requests for a photo that is being measured share the
// answer. A photo that takes too long is stopped and measured again at the slow place, so that a picture made to be slow does not delay
// the others.
type Jobs struct {
	measure         func(context.Context, string) (reading.Reading, error)
	queue           *queue
	copies          copies
	quickTime, slow time.Duration
	ctx             context.Context
	stop            context.CancelFunc
	working         sync.WaitGroup

	mu      sync.Mutex
	jobs    map[string]*Job            // by photo
	refused map[string]reading.Reading // photos without a reading of their own, such as copies of others
	rest    bool                       // photos that nobody asked for are being measured
}

// Job is the work on one photo.
type Job struct {
	photo   string
	done    chan struct{} // closed when reading and err are set
	Reading reading.Reading
	Err     error

	mu     sync.Mutex
	ticket *ticket // while it waits
	state  jobState
}

type jobState int

const (
	jobWaits jobState = iota
	jobMeasures
	jobIsSlow
	jobIsLocked // the measure command is running in the trial
)

func New(one func(context.Context, string) (reading.Reading, error)) *Jobs {
	b := &Jobs{measure: one, queue: newQueue(min(2, runtime.NumCPU())), quickTime: quickTime, slow: slowTime, jobs: map[string]*Job{}, refused: map[string]reading.Reading{}}
	b.ctx, b.stop = context.WithCancel(context.Background())
	return b
}

func (b *Jobs) Close() {
	b.stop()
	b.working.Wait()
}

// Start returns the job for a photo, new or running, for a phone that waits for it.
func (b *Jobs) Start(photo, phone string) *Job {
	j, began := b.join(photo, verdictWork, phone)
	if !began {
		j.mu.Lock()
		t := j.ticket
		j.mu.Unlock()
		if t != nil {
			b.queue.hurry(t, phone)
		}
	}
	return j
}

// Again returns a job that began after the call, so that its reading has the corrections made before.
func (b *Jobs) Again(ctx context.Context, photo, phone string) *Job {
	j, began := b.join(photo, verdictWork, phone)
	if !began && j.Wait(ctx, VerdictTimeout) {
		j, _ = b.join(photo, verdictWork, phone)
	}
	return j
}

func (b *Jobs) join(photo string, w work, phone string) (j *Job, began bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if j := b.jobs[photo]; j != nil {
		return j, false
	}
	j = &Job{photo: photo, done: make(chan struct{}), ticket: &ticket{work: w, phone: phone}}
	b.jobs[photo] = j
	b.working.Go(func() {
		defer close(j.done)
		j.Reading, j.Err = b.do(j)
		b.mu.Lock()
		defer b.mu.Unlock()
		delete(b.jobs, photo)
		delete(b.refused, photo)
		if j.Err == nil && len(j.Reading.Plugs) == 0 {
			b.refused[photo] = j.Reading
		}
	})
	return j, true
}

// do measures a photo at a quick place and, if that takes too long, at the slow place.
func (b *Jobs) do(j *Job) (reading.Reading, error) {
	b.mu.Lock()
	said, before := b.refused[j.photo]
	b.mu.Unlock()
	if before && slices.ContainsFunc(said.Concerns, func(c reading.Concern) bool { return c.Kind == reading.TooSlow }) {
		return said, nil
	}
	r, err := b.at(j, b.quickTime)
	if errors.Is(err, errTooLong) {
		j.mu.Lock()
		j.ticket = &ticket{work: slowWork, phone: j.ticket.phone}
		j.mu.Unlock()
		r, err = b.at(j, b.slow)
	}
	if errors.Is(err, errTooLong) {
		r, err = reading.Reading{Photo: j.photo, Concerns: []reading.Concern{{Kind: reading.TooSlow, Fatal: true,
			Words: fmt.Sprintf("measuring it takes longer than %.0f seconds", b.slow.Seconds()), Remedy: "take the photo again with 12 to 50 megapixels"}}}, nil
	}
	return r, err
}

var errTooLong = errors.New("takes too long to measure")

// at measures a photo at a place, for at most limit. It waits for a running measure command to end.
func (b *Jobs) at(j *Job, limit time.Duration) (reading.Reading, error) {
	j.be(jobWaits)
	for locked := false; ; locked = true {
		leave, err := b.queue.enter(b.ctx, j.ticket)
		if err != nil {
			return reading.Reading{}, err
		}
		if !locked {
			j.be(map[bool]jobState{true: jobIsSlow, false: jobMeasures}[j.ticket.work == slowWork])
		}
		ctx, stop := context.WithTimeout(b.ctx, limit)
		r, err := b.measure(ctx, j.photo)
		late := ctx.Err() != nil && b.ctx.Err() == nil
		stop()
		leave()
		switch {
		case errors.Is(err, store.ErrLocked):
			j.be(jobIsLocked)
			select {
			case <-time.After(300 * time.Millisecond):
			case <-b.ctx.Done():
				return r, err
			}
		case err != nil && late:
			return r, errTooLong
		default:
			return r, err
		}
	}
}

func (j *Job) be(state jobState) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.state = state
}

// Wait waits for the answer, at most for limit.
func (j *Job) Wait(ctx context.Context, limit time.Duration) (measured bool) {
	select {
	case <-j.done:
		return true
	case <-ctx.Done():
	case <-time.After(limit):
	}
	return false
}

// Why says what an unmeasured photo is waiting for.
func (b *Jobs) Why(j *Job) string {
	j.mu.Lock()
	state, t := j.state, j.ticket
	j.mu.Unlock()
	switch state {
	case jobMeasures:
		return ""
	case jobIsSlow:
		return "This photo takes a long time. It is measured separately."
	case jobIsLocked:
		return "The measure command is running on the computer. This photo comes next."
	}
	switch n, slow := b.queue.ahead(t); {
	case slow:
		return "This photo takes a long time. Others go first."
	case n == 0:
		return "It is next."
	case n == 1:
		return "One photo comes first."
	default:
		return fmt.Sprintf("%d photos come first.", n)
	}
}

// All measures photos that no one asked for, one after the other, so that requests do not wait for them. It skips photos that were refused
// and returns how many are left.
func (b *Jobs) All(photos []string) int {
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
			j, _ := b.join(photo, restWork, "")
			select {
			case <-j.done:
			case <-b.ctx.Done():
			}
		}
		b.mu.Lock()
		defer b.mu.Unlock()
		b.rest = false
	})
	return len(photos)
}

// Said returns the answer for a photo that has no reading of its own.
func (b *Jobs) Said(photo string) (reading.Reading, bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	r, ok := b.refused[photo]
	return r, ok
}
