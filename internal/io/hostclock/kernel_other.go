//go:build !linux

package hostclock

import "context"

// Disciplined says "not known": this system has no common way to ask.
func Disciplined(context.Context) Status {
	return Status{How: "It is not known whether anything keeps this computer's clock right: this system cannot be asked. Name a time server to compare it with."}
}
