package work

import (
	"context"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"traygauge/measure/reading"
)

// Many requests for the copy of one picture wait for the same one, which is made when a verdict's place is free, and is kept.
func TestACopyIsMadeOnce(t *testing.T) {
	b := New(func(context.Context, string) (reading.Reading, error) { return reading.Reading{}, nil })
	defer b.Close()
	q := b.queue
	leave, err := q.enter(t.Context(), &ticket{work: verdictWork})
	if err != nil {
		t.Fatal(err)
	}
	for q.quick > 0 { // all places are taken
		if _, err := q.enter(t.Context(), &ticket{work: verdictWork}); err != nil {
			t.Fatal(err)
		}
	}
	var drawn atomic.Int32
	draw := func() ([]byte, error) {
		done, err := q.enter(t.Context(), &ticket{work: pictureWork})
		if err != nil {
			return nil, err
		}
		defer done()
		drawn.Add(1)
		return []byte("a picture"), nil
	}
	var asked sync.WaitGroup
	for range 6 {
		asked.Go(func() {
			if got, err := b.copies.of(t.Context(), "IMG_1.HEIC", draw); err != nil || string(got) != "a picture" {
				t.Errorf("%q, %v", got, err)
			}
		})
	}
	for q.length() == 0 {
		time.Sleep(time.Millisecond)
	}
	if n := q.length(); n != 1 {
		t.Errorf("%d copies of one picture wait to be made", n)
	}
	leave()
	asked.Wait()
	if _, err := b.copies.of(t.Context(), "IMG_1.HEIC", draw); err != nil || drawn.Load() != 1 {
		t.Errorf("it was drawn %d times, %v", drawn.Load(), err)
	}
}
