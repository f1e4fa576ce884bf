// Package tooth reckons the teeth of clock wheels and pinions and lays them
// out exactly, for whoever has to cut them.
package tooth
