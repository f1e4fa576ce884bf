//go:build !linux

package store_test

import "errors"

// childTake is for Linux, where other locks are used.
func childTake(string, string) error { return errors.ErrUnsupported }
