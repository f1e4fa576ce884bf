//go:build !linux && !darwin

package store_test

import "errors"

// childFull cannot be limited on this system.
func childFull(string, string) error { return errors.ErrUnsupported }
