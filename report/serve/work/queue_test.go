package work

import (
	"context"
	"strings"
	"testing"
	"time"
)

// line is a queue with one quick place, which a test holds while others come.
func line(t *testing.T) (q *queue, go_ func(), came chan string, add func(name string, w work, phone string) *ticket) {
	t.Helper()
	q = newQueue(1)
	leave, err := q.enter(context.Background(), &ticket{})
	if err != nil {
		t.Fatal(err)
	}
	came = make(chan string)
	add = func(name string, w work, phone string) *ticket {
		before := q.length()
		k := &ticket{work: w, phone: phone}
		go func() {
			leave, err := q.enter(context.Background(), k)
			if err != nil {
				return
			}
			came <- name
			leave()
		}()
		for q.length() == before {
			time.Sleep(time.Millisecond)
		}
		return k
	}
	return q, leave, came, add
}

func (q *queue) length() int {
	q.mu.Lock()
	defer q.mu.Unlock()
	return len(q.waiting)
}

func order(came chan string, n int) string {
	var names []string
	for range n {
		names = append(names, <-came)
	}
	return strings.Join(names, " ")
}

// Twenty photos of one phone do not keep another's only one waiting; what no one waits for comes after, and copies of pictures last.
func TestWhoComesNext(t *testing.T) {
	_, leave, came, add := line(t)
	add("copy", pictureWork, "x")
	add("rest", restWork, "")
	for _, name := range []string{"a1", "a2", "a3"} {
		add(name, verdictWork, "a")
	}
	add("b1", verdictWork, "b")
	leave()
	if got := order(came, 6); got != "a1 b1 a2 a3 rest copy" {
		t.Errorf("they come as %s", got)
	}
}

// What a phone begins to wait for comes earlier.
func TestHurry(t *testing.T) {
	q, leave, came, add := line(t)
	add("rest 1", restWork, "")
	late := add("rest 2", restWork, "")
	if n, _ := q.ahead(late); n != 1 {
		t.Errorf("%d come before it, want 1", n)
	}
	q.hurry(late, "phone")
	leave()
	if got := order(came, 2); got != "rest 2 rest 1" {
		t.Errorf("they come as %s", got)
	}
}

// Copies of pictures are made one at a time, and leave a place for verdicts.
func TestCopiesLeaveAPlace(t *testing.T) {
	q := newQueue(2)
	first, err := q.enter(context.Background(), &ticket{work: pictureWork})
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(context.Background(), 30*time.Millisecond)
	defer stop()
	if _, err := q.enter(ctx, &ticket{work: pictureWork}); err == nil {
		t.Error("two copies at once")
	}
	verdict, err := q.enter(context.Background(), &ticket{work: verdictWork})
	if err != nil {
		t.Fatal(err)
	}
	verdict()
	first()
	if q.quick != 2 || q.pictures != 0 || len(q.waiting) != 0 {
		t.Errorf("afterwards %+v", q)
	}
}
