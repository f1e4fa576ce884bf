// Package rate says how a clock goes from the times of its beats, with
// limits that hold.
package rate
