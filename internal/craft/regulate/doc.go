// Package regulate says from weeks of readings how a clock goes, what makes it
// go so, and what to do at the nut, with limits that hold.
//
// For: a restorer who has a clock on trial, looks at it now and then, and wants
// to know whether to touch it.
package regulate
