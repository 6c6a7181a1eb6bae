package serve

import (
	"context"
	"errors"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"traygauge/measure/reading"
	"traygauge/measure/store"
)

// Who asks for a photo that is being measured waits for the same answer; while another program measures, all wait and get the reason.
func TestJobs(t *testing.T) {
	var asked atomic.Int32
	finish := make(chan struct{})
	var locked atomic.Bool
	locked.Store(true)
	b := newJobs(func(ctx context.Context, photo string) (reading.Reading, error) {
		if locked.Load() {
			return reading.Reading{}, store.ErrLocked
		}
		asked.Add(1)
		<-finish
		return reading.Reading{Photo: photo}, nil
	})
	one, two := b.start("a.jpg", "x"), b.start("a.jpg", "y")
	if one != two || one.wait(context.Background(), 50*time.Millisecond) {
		t.Error("measured while another program does")
	}
	if why := b.why(one); !strings.Contains(why, "measure command") {
		t.Errorf("it waits, and says %q", why)
	}
	locked.Store(false)
	go func() {
		for asked.Load() == 0 {
			time.Sleep(time.Millisecond)
		}
		close(finish)
	}()
	again := b.again(context.Background(), "a.jpg", "x")
	if again == one || !again.wait(context.Background(), 10*time.Second) || again.reading.Photo != "a.jpg" || asked.Load() != 2 {
		t.Errorf("measured %d times; after a correction it has to be once more", asked.Load())
	}
	b.close()
	late := b.start("b.jpg", "x")
	if !late.wait(context.Background(), 10*time.Second) || late.err != nil && !errors.Is(late.err, context.Canceled) {
		t.Errorf("after the end: %v", late.err)
	}
}

// Pictures made to be slow hold no place for longer than they may: another phone's photo is measured meanwhile. In the end they are
// refused, and not tried again.
func TestSlowPicturesKeepNobodyWaiting(t *testing.T) {
	var tried atomic.Int32
	var said atomic.Bool
	var b *jobs
	var slow []*job
	told := func() bool {
		return slices.ContainsFunc(slow, func(j *job) bool { return strings.Contains(b.why(j), "Others go first") })
	}
	b = newJobs(func(ctx context.Context, photo string) (reading.Reading, error) {
		if strings.HasPrefix(photo, "slow") {
			tried.Add(1)
			<-ctx.Done() // until it is stopped
			return reading.Reading{}, ctx.Err()
		}
		for range 10_000 { // while the good photo is measured, a slow one says so
			if told() {
				said.Store(true)
				break
			}
			time.Sleep(time.Millisecond)
		}
		return reading.Reading{Photo: photo, Plugs: []reading.Plug{{}}}, nil
	})
	defer b.close()
	b.quickTime, b.slow = 30*time.Millisecond, 500*time.Millisecond
	for _, name := range []string{"slow 1", "slow 2", "slow 3"} {
		slow = append(slow, b.start(name, "attacker"))
	}
	good := b.start("good", "phone")
	if !good.wait(context.Background(), 20*time.Second) || good.err != nil {
		t.Fatalf("another phone's photo: %v", good.err)
	}
	if !said.Load() {
		t.Error("none of the slow ones says that others go first")
	}
	select {
	case <-slow[2].done:
		t.Error("the good photo came after all slow ones had their whole time")
	default:
	}
	for _, j := range slow {
		if !j.wait(context.Background(), 20*time.Second) || j.err != nil || len(j.reading.Concerns) != 1 || j.reading.Concerns[0].Kind != tooSlow || j.reading.Verdict() != reading.VerdictRetake {
			t.Errorf("%s: %+v, %v", j.photo, j.reading.Concerns, j.err)
		}
	}
	n := tried.Load()
	if again := b.start("slow 1", "attacker"); !again.wait(context.Background(), 20*time.Second) || tried.Load() != n || again.reading.Concerns[0].Kind != tooSlow {
		t.Error("a picture that took too long was tried again")
	}
	if left := b.all([]string{"slow 1", "slow 2"}); left != 0 {
		t.Errorf("%d of them are left to be measured", left)
	}
}
