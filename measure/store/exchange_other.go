//go:build !linux

package store

import "errors"

// exchange is not to be had here.
func exchange(string, string) error { return errors.ErrUnsupported }
