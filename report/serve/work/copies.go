package work

import (
	"bytes"
	"context"
	"errors"
	"image/jpeg"
	"slices"
	"sync"

	"traygauge/vision"
)

// mostCopies is how many converted pictures are kept; one of 12 megapixels takes some 5 MB.
const mostCopies = 4

// copies converts photos that browsers cannot show to JPEG, each once, and keeps the last few.
type copies struct {
	mu     sync.Mutex
	making map[string]chan struct{} // by photo: closed when it is done
	kept   []copied
	slow   map[string]bool // photos that took too long: not tried again
}

type copied struct {
	photo string
	jpeg  []byte
}

// of returns a photo's copy. It calls draw unless the copy is kept or being made for another request.
func (c *copies) of(ctx context.Context, photo string, draw func() ([]byte, error)) ([]byte, error) {
	for {
		c.mu.Lock()
		i := slices.IndexFunc(c.kept, func(k copied) bool { return k.photo == photo })
		at := c.making[photo]
		switch {
		case i >= 0:
			defer c.mu.Unlock()
			return c.kept[i].jpeg, nil
		case c.slow[photo]:
			defer c.mu.Unlock()
			return nil, errSlowPicture
		case at == nil:
			if c.making == nil {
				c.making, c.slow = map[string]chan struct{}{}, map[string]bool{}
			}
			c.making[photo] = make(chan struct{})
			c.mu.Unlock()
			return c.made(photo, draw)
		}
		c.mu.Unlock()
		select {
		case <-at:
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
}

// made draws a copy and keeps it.
func (c *copies) made(photo string, draw func() ([]byte, error)) ([]byte, error) {
	jpeg, err := draw()
	c.mu.Lock()
	defer c.mu.Unlock()
	close(c.making[photo])
	delete(c.making, photo)
	switch {
	case err == nil:
		c.kept = append(c.kept, copied{photo, jpeg})
		c.kept = c.kept[max(0, len(c.kept)-mostCopies):]
	case errors.Is(err, errSlowPicture):
		c.slow[photo] = true
	}
	return jpeg, err
}

var errSlowPicture = errors.New("the copy of this picture for the browser takes too long to make")

// JPEG returns a photo's picture as a JPEG, at a quality without visible loss, for browsers that do not show the photo itself. The copy is made once,
// and the last few are kept.
func (b *Jobs) JPEG(ctx context.Context, photo, phone string, raw []byte) ([]byte, error) {
	return b.copies.of(ctx, photo, func() ([]byte, error) { return b.jpegOf(raw, phone) })
}

// jpegOf makes a copy. It waits behind all verdicts and gives up after quickTime; a hanging decoder is abandoned.
func (b *Jobs) jpegOf(raw []byte, phone string) ([]byte, error) {
	ctx, stop := context.WithTimeout(b.ctx, 2*VerdictTimeout)
	defer stop()
	leave, err := b.queue.enter(ctx, &ticket{work: pictureWork, phone: phone})
	if err != nil {
		return nil, errors.New("photos are being measured: reload the picture later")
	}
	defer leave()
	type result struct {
		jpeg []byte
		err  error
	}
	done := make(chan result, 1)
	go func() {
		jpeg, err := encoded(raw)
		done <- result{jpeg, err}
	}()
	ctx, stop = context.WithTimeout(b.ctx, b.quickTime)
	defer stop()
	select {
	case got := <-done:
		return got.jpeg, got.err
	case <-ctx.Done():
		return nil, errSlowPicture
	}
}

func encoded(raw []byte) ([]byte, error) {
	p, err := vision.Decode(raw)
	if err != nil {
		return nil, err
	}
	defer p.Close()
	var out bytes.Buffer
	err = jpeg.Encode(&out, p.RGBA(), &jpeg.Options{Quality: 95})
	return out.Bytes(), err
}
