package store

import (
	"errors"
	"path/filepath"

	"github.com/gofrs/flock"
)

// LockName is the file in a folder that locks it. It stays there, empty; what locks is the system's hold on it, which ends
// with the process however that ends. So no lock can be left over.
const LockName = ".lock"

// ErrLocked says that another process holds the lock.
var ErrLocked = errors.New("in use by another traygauge process")

// Lock locks folder dir against other processes until unlock is called. Any number may hold it shared, or one alone. When
// that cannot be had at once, the error is ErrLocked. A folder that cannot be locked, since nothing can be written there or
// since its file system knows no locks, is used without: each file in it is written whole all the same.
func Lock(dir string, shared bool) (unlock func(), err error) {
	lock := flock.New(filepath.Join(dir, LockName), flock.SetPermissions(0o666))
	try := lock.TryLock
	if shared {
		try = lock.TryRLock
	}
	had, err := try()
	if err == nil && !had {
		return nil, ErrLocked
	}
	return func() { lock.Close() }, nil
}
