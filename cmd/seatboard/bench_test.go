package main

import (
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"seatboard/internal/io/store"
	"seatboard/internal/io/store/storetest"
)

// BenchmarkTenThousandClocks measures the real program on a shop of 10,000
// invented clocks: the time from start to the first page, the page time at
// the server's own doorstep, and the memory it holds afterwards.
//
//	go test ./cmd/seatboard -run '^$' -bench TenThousand -benchtime 1x
func BenchmarkTenThousandClocks(b *testing.B) {
	dir := b.TempDir()
	s, err := store.Open(context.Background(), dir, store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	if err := storetest.Fill(context.Background(), s, 10_000, 1); err != nil {
		b.Fatal(err)
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		measure(b, dir)
	}
}

func measure(b *testing.B, dir string) {
	begin := time.Now()
	p := start(b, dir)
	fetch(b, p.url+"/")
	b.ReportMetric(float64(time.Since(begin).Milliseconds()), "ms-start")
	var times []float64
	for i := range 60 {
		for _, path := range []string{"/", "/clocks", "/clocks/found?find=long+178", "/clocks?find=bracket", fmt.Sprintf("/clocks/%d", 1+i*160), fmt.Sprintf("/clocks/%d/taking-in", 7+i*160),
			fmt.Sprintf("/clocks/%d/survey", 3+i*160), fmt.Sprintf("/clocks/%d/history", 5+i*160), "/desk", "/desk/train?going=96%2F8+60%2F8+56%2F7+30&going-barrel-turns=16"} {
			t := time.Now()
			fetch(b, p.url+path)
			times = append(times, float64(time.Since(t).Microseconds())/1000)
		}
	}
	slices.Sort(times)
	b.ReportMetric(times[len(times)/2], "ms-median-page")
	b.ReportMetric(times[len(times)*95/100], "ms-p95-page")
	b.ReportMetric(residentMB(p.cmd.Process.Pid), "MB-resident")
	_ = p.cmd.Process.Signal(os.Interrupt)
	_ = p.cmd.Wait()
}

func fetch(b *testing.B, url string) {
	r, err := http.Get(url)
	if err != nil {
		b.Fatal(err)
	}
	defer r.Body.Close()
	if _, err := io.Copy(io.Discard, r.Body); err != nil || r.StatusCode != http.StatusOK {
		b.Fatalf("%s: %d %v", url, r.StatusCode, err)
	}
}

// residentMB is the memory of a process as Linux tells it, 0 elsewhere.
func residentMB(pid int) float64 {
	if runtime.GOOS != "linux" {
		return 0
	}
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0
	}
	for _, l := range strings.Split(string(b), "\n") {
		if rest, ok := strings.CutPrefix(l, "VmRSS:"); ok {
			kb, _ := strconv.ParseFloat(strings.Fields(rest)[0], 64)
			return kb / 1024
		}
	}
	return 0
}
