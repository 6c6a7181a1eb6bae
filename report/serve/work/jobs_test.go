package work

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
	b := New(func(ctx context.Context, photo string) (reading.Reading, error) {
		if locked.Load() {
			return reading.Reading{}, store.ErrLocked
		}
		asked.Add(1)
		<-finish
		return reading.Reading{Photo: photo}, nil
	})
	one, two := b.Start("a.jpg", "x"), b.Start("a.jpg", "y")
	if one != two || one.Wait(context.Background(), 50*time.Millisecond) {
		t.Error("measured while another program does")
	}
	if why := b.Why(one); !strings.Contains(why, "measure command") {
		t.Errorf("it waits, and says %q", why)
	}
	locked.Store(false)
	go func() {
		for asked.Load() == 0 {
			time.Sleep(time.Millisecond)
		}
		close(finish)
	}()
	again := b.Again(context.Background(), "a.jpg", "x")
	if again == one || !again.Wait(context.Background(), 10*time.Second) || again.Reading.Photo != "a.jpg" || asked.Load() != 2 {
		t.Errorf("measured %d times; after a correction it has to be once more", asked.Load())
	}
	b.Close()
	late := b.Start("b.jpg", "x")
	if !late.Wait(context.Background(), 10*time.Second) || late.Err != nil && !errors.Is(late.Err, context.Canceled) {
		t.Errorf("after the end: %v", late.Err)
	}
}

// Pictures made to be slow hold no place for longer than they may: another phone's photo is measured meanwhile. In the end they are
// refused, and not tried again.
func TestSlowPicturesKeepNobodyWaiting(t *testing.T) {
	var tried atomic.Int32
	var said atomic.Bool
	var b *Jobs
	var slow []*Job
	told := func() bool {
		return slices.ContainsFunc(slow, func(j *Job) bool { return strings.Contains(b.Why(j), "Others go first") })
	}
	b = New(func(ctx context.Context, photo string) (reading.Reading, error) {
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
	defer b.Close()
	b.quickTime, b.slow = 30*time.Millisecond, 500*time.Millisecond
	for _, name := range []string{"slow 1", "slow 2", "slow 3"} {
		slow = append(slow, b.Start(name, "attacker"))
	}
	good := b.Start("good", "phone")
	if !good.Wait(context.Background(), 20*time.Second) || good.Err != nil {
		t.Fatalf("another phone's photo: %v", good.Err)
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
		if !j.Wait(context.Background(), 20*time.Second) || j.Err != nil || len(j.Reading.Concerns) != 1 || j.Reading.Concerns[0].Kind != reading.TooSlow || j.Reading.Verdict() != reading.VerdictRetake {
			t.Errorf("%s: %+v, %v", j.photo, j.Reading.Concerns, j.Err)
		}
	}
	n := tried.Load()
	if again := b.Start("slow 1", "attacker"); !again.Wait(context.Background(), 20*time.Second) || tried.Load() != n || again.Reading.Concerns[0].Kind != reading.TooSlow {
		t.Error("a picture that took too long was tried again")
	}
	if left := b.All([]string{"slow 1", "slow 2"}); left != 0 {
		t.Errorf("%d of them are left to be measured", left)
	}
}
