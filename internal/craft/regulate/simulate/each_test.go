package simulate_test

import (
	"runtime"
	"sync"
)

// each runs f for every seed, two at a time, and keeps the order.
func each[T any](n int, f func(seed uint64) T) []T {
	out := make([]T, n)
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(2, runtime.GOMAXPROCS(0)) {
		wg.Go(func() {
			for i := range next {
				out[i] = f(uint64(i))
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
	return out
}
