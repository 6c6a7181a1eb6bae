package door

import (
	"context"
	"sync"
)

// mostAtOnce is how many requests of one browser are answered at the same time; the others wait. Browsers open six connections to a server.
const mostAtOnce = 8

// shares limits how much of the server one browser can occupy.
type shares struct {
	mu     sync.Mutex
	places map[string]chan struct{} // by session
}

func newShares() *shares { return &shares{places: map[string]chan struct{}{}} }

// enter waits for one of a session's places; leave frees it.
func (s *shares) enter(ctx context.Context, key string) (leave func(), err error) {
	s.mu.Lock()
	places := s.places[key]
	if places == nil {
		if len(s.places) > 4*mostSessions { // of sessions that ended long ago; those in use keep theirs by holding it
			clear(s.places)
		}
		places = make(chan struct{}, mostAtOnce)
		s.places[key] = places
	}
	s.mu.Unlock()
	select {
	case places <- struct{}{}:
		return func() { <-places }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}
