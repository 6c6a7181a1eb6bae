package store

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"github.com/gofrs/flock"
)

// verdictTimeout is how long Append waits for others that are adding. Each takes milliseconds.
const verdictTimeout = 10 * time.Second

// Append adds to the end of a text file of lines, all or nothing, and makes the file where there is none. add is given what
// the file holds and returns what to add, or an error for adding nothing; several processes may add at once, each seeing what the
// one before it added. A last line that was cut off is ended first. mostBytes is the largest file that is read or made.
func Append(path string, mostBytes int64, add func(before []byte) ([]byte, error)) error {
	if info, err := os.Lstat(path); err == nil && !info.Mode().IsRegular() {
		return fmt.Errorf("%s is not a regular file and was not changed", path)
	}
	_, err := os.Lstat(path)
	made := errors.Is(err, fs.ErrNotExist)
	f, err := os.OpenFile(path, os.O_RDWR|os.O_APPEND|os.O_CREATE, 0o666)
	if err != nil {
		return fmt.Errorf("cannot add to %s: %w: check that you have write permission there", path, cause(err))
	}
	defer f.Close()
	unlock, err := lockToAdd(path)
	if err != nil {
		return err
	}
	defer unlock()
	if made {
		defer SyncFolder(filepath.Dir(path))
	}
	before, err := io.ReadAll(io.LimitReader(f, mostBytes+1))
	if err != nil {
		return fmt.Errorf("cannot read %s: %w", path, cause(err))
	}
	more, err := add(before)
	if err != nil || len(more) == 0 {
		return err
	}
	if n := len(before); n > 0 && before[n-1] != '\n' {
		more = append([]byte("\n"), more...)
	}
	if int64(len(before)+len(more)) > mostBytes {
		return fmt.Errorf("%s is full (limit %d MiB)", path, mostBytes>>20)
	}
	return appendTo(f, path, int64(len(before)), more)
}

// lockToAdd keeps others from adding until unlock is called. A file system that knows no locks gives none.
func lockToAdd(path string) (unlock func(), err error) {
	lock := flock.New(path, flock.SetFlag(os.O_RDWR))
	ctx, stop := context.WithTimeout(context.Background(), verdictTimeout)
	defer stop()
	_, err = lock.TryLockContext(ctx, 5*time.Millisecond)
	if ctx.Err() != nil {
		return nil, fmt.Errorf("another program has been using %s for %v: try again", path, verdictTimeout)
	}
	return func() { lock.Close() }, nil
}

// appendTo writes all of more behind size, or takes back what a full disk took of it.
func appendTo(f *os.File, path string, size int64, more []byte) error {
	_, err := f.Write(more)
	if err == nil {
		err = f.Sync()
	}
	if err == nil {
		return nil
	}
	if behind, rerr := io.ReadAll(io.NewSectionReader(f, size, int64(len(more))+1)); rerr == nil && bytes.HasPrefix(more, behind) {
		f.Truncate(size)
	}
	return fmt.Errorf("cannot add to %s: %w%s", path, cause(err), room(err))
}
