// Package sampleclock reckons the error of the clock that numbers a
// recorder's samples.
package sampleclock
