package work

import (
	"cmp"
	"context"
	"slices"
	"sync"
)

// work is a kind of work on photos, the most urgent first.
type work int

const (
	verdictWork work = iota // somebody waits for the verdict
	restWork                // nobody has asked for it yet
	pictureWork             // converting a picture for browsers
	slowWork                // took too long at a quick place
)

// queue limits how many photos are worked on at once, because each takes much memory: a few quick places, and one slow place beside them.
// Waiting work is served by urgency, then the phone that was served longest ago, so twenty photos of one phone do not delay the only photo of
// another. Pictures are converted one at a time, and only when no verdict is waiting.
type queue struct {
	mu       sync.Mutex
	quick    int // free quick places
	slow     int
	pictures int // conversions in progress
	waiting  []*ticket
	served   map[string]int // by phone: the turn in which it was last served
	turns    int
}

// ticket is a piece of work that waits for a place.
type ticket struct {
	work  work
	phone string
	turn  int // of its arrival
	ready chan struct{}
}

// mostServed is for how many phones it is remembered when they were served last.
const mostServed = 200

func newQueue(quick int) *queue { return &queue{quick: quick, slow: 1, served: map[string]int{}} }

// enter waits for a place; leave frees it.
func (q *queue) enter(ctx context.Context, t *ticket) (leave func(), err error) {
	q.mu.Lock()
	q.turns++
	t.turn, t.ready = q.turns, make(chan struct{})
	q.waiting = append(q.waiting, t)
	q.letIn()
	q.mu.Unlock()
	select {
	case <-t.ready:
	case <-ctx.Done():
		q.mu.Lock()
		defer q.mu.Unlock()
		select {
		case <-t.ready: // both at the same moment
			q.giveBack(t)
		default:
			q.waiting = slices.DeleteFunc(q.waiting, func(o *ticket) bool { return o == t })
		}
		return nil, ctx.Err()
	}
	return func() {
		q.mu.Lock()
		defer q.mu.Unlock()
		q.giveBack(t)
	}, nil
}

func (q *queue) giveBack(t *ticket) {
	switch t.work {
	case slowWork:
		q.slow++
	case pictureWork:
		q.pictures--
		q.quick++
	default:
		q.quick++
	}
	q.letIn()
}

// letIn assigns the free places.
func (q *queue) letIn() {
	slices.SortStableFunc(q.waiting, q.before)
	for {
		i := slices.IndexFunc(q.waiting, q.fits)
		if i < 0 {
			break
		}
		t := q.waiting[i]
		q.waiting = slices.Delete(q.waiting, i, i+1)
		switch t.work {
		case slowWork:
			q.slow--
		case pictureWork:
			q.pictures++
			q.quick--
		default:
			q.quick--
		}
		q.turns++
		q.served[t.phone] = q.turns
		close(t.ready)
		slices.SortStableFunc(q.waiting, q.before)
	}
	if len(q.waiting) == 0 && len(q.served) > mostServed {
		clear(q.served)
	}
}

func (q *queue) before(a, b *ticket) int {
	return cmp.Or(cmp.Compare(a.work, b.work), cmp.Compare(q.served[a.phone], q.served[b.phone]), cmp.Compare(a.turn, b.turn))
}

// fits reports whether there is a place for t.
func (q *queue) fits(t *ticket) bool {
	switch t.work {
	case slowWork:
		return q.slow > 0
	case pictureWork:
		return q.quick > 0 && q.pictures == 0
	}
	return q.quick > 0
}

// ahead returns how many tickets are before t, and whether t waits for the slow place.
func (q *queue) ahead(t *ticket) (n int, slow bool) {
	q.mu.Lock()
	defer q.mu.Unlock()
	slices.SortStableFunc(q.waiting, q.before)
	return max(0, slices.Index(q.waiting, t)), t.work == slowWork
}

// hurry raises the urgency of work that a phone now waits for.
func (q *queue) hurry(t *ticket, phone string) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if t.work == restWork && slices.Contains(q.waiting, t) {
		t.work, t.phone = verdictWork, phone
		q.letIn()
	}
}
