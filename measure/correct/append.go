package correct

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"

	"traygauge/measure/store"
	"traygauge/measure/wording"
)

// ErrDone says that the same correction stands already, so that nothing was added: a double click is one correction.
var ErrDone = errors.New("is already corrected that way")

// verdictTimeout is how long Append waits for others that are adding. Each takes milliseconds.
const verdictTimeout = 10 * time.Second

// Append adds c to the corrections of the trial in folder dir and returns it as it was kept: with its number, with the time
// now where it names none, and with Who and Why tidied to a line. An impossible correction is an error and adds nothing. Whether photo
// and plug exist is the caller's to know. Several processes may add at once.
func Append(dir string, c Correction) (Correction, error) {
	c.Who, c.Why, c.Photo = wording.OneLine(c.Who), wording.OneLine(c.Why), strings.ToValidUTF8(c.Photo, "\ufffd")
	if c.When.IsZero() {
		c.When = time.Now()
	}
	c.When = c.When.Truncate(time.Second)
	c.ID = 1
	if err := c.check(); err != nil {
		return Correction{}, fmt.Errorf("the correction was not saved: %w", err)
	}
	path := filepath.Join(dir, FileName)
	if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
		return Correction{}, fmt.Errorf("%s is not a regular file: move it away, because corrections are saved there", path)
	}
	f, made, err := open(path)
	if err != nil {
		return Correction{}, fmt.Errorf("cannot save the correction: %w: check that you have write permission in %s", err, dir)
	}
	defer f.Close()
	unlock, err := lock(path, false)
	if err != nil {
		return Correction{}, err
	}
	defer unlock()
	if made {
		defer store.SyncFolder(dir)
	}
	return add(f, path, c)
}

// open opens the file for adding to its end, and reports whether it was made for that.
func open(path string) (f *os.File, made bool, err error) {
	f, err = os.OpenFile(path, os.O_RDWR|os.O_APPEND, 0)
	if errors.Is(err, fs.ErrNotExist) {
		f, err = os.OpenFile(path, os.O_RDWR|os.O_APPEND|os.O_CREATE, 0o666)
		return f, true, err
	}
	return f, false, err
}

// lock keeps others from adding, and from reading unless it is shared, until unlock is called. A file system that knows no
// locks gives none; two that add at the same moment could then take the same number, which Parse notices.
func lock(path string, shared bool) (unlock func(), err error) {
	l := flock.New(path, flock.SetFlag(os.O_RDWR))
	try := l.TryLockContext
	if shared {
		l = flock.New(path, flock.SetFlag(os.O_RDONLY))
		try = l.TryRLockContext
	}
	ctx, stop := context.WithTimeout(context.Background(), verdictTimeout)
	defer stop()
	_, err = try(ctx, 5*time.Millisecond)
	if ctx.Err() != nil {
		return nil, fmt.Errorf("another program has been using %s for %v: try again", path, verdictTimeout)
	}
	return func() { l.Close() }, nil
}

// add writes c behind what is there, under the lock.
func add(f *os.File, path string, c Correction) (Correction, error) {
	l, err := read(f, path)
	if err != nil {
		return Correction{}, err
	}
	for _, before := range l.Made {
		c.ID = max(c.ID, before.ID+1)
		if l.Stands(before) && before.sameAs(c) && l.counts(before) {
			return before, fmt.Errorf("%s %w: %s, correction %d by %s", before.Photo, ErrDone, before.Does(), before.ID, before.Who)
		}
	}
	if c.What == Undo {
		if err := l.canUndo(c.Undoes); err != nil {
			return Correction{}, err
		}
	}
	if err := c.check(); err != nil {
		return Correction{}, fmt.Errorf("the correction was not saved: %w", err)
	}
	line, err := json.Marshal(c)
	if err != nil {
		return Correction{}, fmt.Errorf("cannot save the correction: %w", err)
	}
	line = append(line, '\n')
	if l.cut { // the end of a line that was cut off is not the beginning of this one
		line = append([]byte("\n"), line...)
	}
	return c, write(f, path, line)
}

// counts reports whether no later correction of the same plug took the place of c.
func (l *Log) counts(c Correction) bool {
	for _, later := range l.Of(c.SHA256) {
		if later.ID > c.ID && later.Plug == c.Plug && later.about() == c.about() {
			return false
		}
	}
	return true
}

// write adds all of the line or nothing.
func write(f *os.File, path string, line []byte) error {
	size, err := f.Seek(0, io.SeekEnd)
	if err != nil {
		return fmt.Errorf("cannot save the correction: %w", err)
	}
	if size+int64(len(line)) > MostBytes {
		return fmt.Errorf("%s is full (limit %d MiB)", path, MostBytes>>20)
	}
	if _, err = f.Write(line); err == nil {
		err = f.Sync()
	}
	if err != nil {
		takeBack(f, size, line)
		return fmt.Errorf("cannot save the correction: %w: free some disk space and try again; earlier corrections are safe", err)
	}
	return nil
}

// takeBack removes what was written of the line behind size, and nothing else. Where that fails too, a line remains that Parse
// says was cut off.
func takeBack(f *os.File, size int64, line []byte) {
	behind, err := io.ReadAll(io.NewSectionReader(f, size, int64(len(line))+1))
	if err == nil && bytes.HasPrefix(line, behind) {
		f.Truncate(size)
	}
}
