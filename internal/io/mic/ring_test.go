package mic

import (
	"context"
	"errors"
	"math"
	"testing"
	"time"
)

// TestRingIsHeard listens to the loudspeaker of a sound server of its own
// while it rings.
func TestRingIsHeard(t *testing.T) {
	sounds(t)
	ctx, cancel := context.WithTimeout(context.Background(), 3*time.Minute)
	defer cancel()
	list, err := List(ctx)
	if err != nil || len(list) != 1 {
		t.Fatalf("%v %v", list, err)
	}
	c, err := Open(ctx, list[0])
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	buf := make([]float32, 4800)
	if _, err := c.ReadFloat(buf); err != nil {
		t.Fatal(err)
	}
	rung := make(chan error, 1)
	go func() { rung <- Ring(ctx) }()
	loud := 0.0
	for n := 0; n < 4*48000; {
		k, err := c.ReadFloat(buf)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range buf[:k] {
			loud = max(loud, math.Abs(float64(v)))
		}
		n += k
	}
	if err := <-rung; err != nil {
		t.Error(err)
	}
	if loud < 0.3 {
		t.Errorf("the loudest sample heard is %.3f of full scale, want a bell", loud)
	}
}

func TestRingWithoutASoundServer(t *testing.T) {
	t.Setenv("PULSE_SERVER", "unix:"+t.TempDir()+"/none")
	var none *Unavailable
	if err := Ring(context.Background()); !errors.As(err, &none) {
		t.Errorf("%v", err)
	}
}
