// Package listen turns the beats heard of a clock into what can be done about
// it: the rate with honest limits, how far it is out of beat, and the wheel
// at fault.
package listen
