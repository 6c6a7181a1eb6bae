package serve

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
	"time"

	"traygauge/measure"
	"traygauge/measure/store"
)

// Who asks for a photo that is being measured waits for the same answer; while another program measures, all wait.
func TestBench(t *testing.T) {
	var asked atomic.Int32
	finish := make(chan struct{})
	var locked atomic.Bool
	locked.Store(true)
	b := newBench(func(ctx context.Context, photo string) (measure.Reading, error) {
		if locked.Load() {
			return measure.Reading{}, store.ErrLocked
		}
		asked.Add(1)
		<-finish
		return measure.Reading{Photo: photo}, nil
	})
	one, two := b.start("a.jpg"), b.start("a.jpg")
	if one != two || one.wait(context.Background(), 50*time.Millisecond) {
		t.Error("measured while another program does")
	}
	locked.Store(false)
	go func() {
		for asked.Load() == 0 {
			time.Sleep(time.Millisecond)
		}
		close(finish)
	}()
	again := b.again(context.Background(), "a.jpg")
	if again == one || !again.wait(context.Background(), 10*time.Second) || again.reading.Photo != "a.jpg" || asked.Load() != 2 {
		t.Errorf("measured %d times; after a correction it has to be once more", asked.Load())
	}
	b.close()
	late := b.start("b.jpg")
	if !late.wait(context.Background(), 10*time.Second) || late.err != nil && !errors.Is(late.err, context.Canceled) {
		t.Errorf("after the end: %v", late.err)
	}
}
