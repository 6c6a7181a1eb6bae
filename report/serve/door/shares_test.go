package door

import (
	"sync"
	"testing"
	"time"
)

// One phone that asks for very much at once leaves room for the others.
func TestSharesAreFair(t *testing.T) {
	s := newShares()
	var held []func()
	for range mostAtOnce {
		leave, err := s.enter(t.Context(), "greedy")
		if err != nil {
			t.Fatal(err)
		}
		held = append(held, leave)
	}
	var waits sync.WaitGroup
	waits.Go(func() {
		leave, err := s.enter(t.Context(), "greedy")
		if err != nil {
			t.Error(err)
			return
		}
		leave()
	})
	leave, err := s.enter(t.Context(), "another")
	if err != nil {
		t.Fatal(err)
	}
	leave()
	time.Sleep(10 * time.Millisecond)
	for _, leave := range held {
		leave()
	}
	waits.Wait()
}
