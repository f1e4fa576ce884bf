package shop

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"seatboard/internal/book/device"
)

// pairingShop is a shop of which a test moves the clock.
func pairingShop(t *testing.T) (*Shop, *Pairing, *time.Time) {
	t.Helper()
	now := time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)
	s, err := Open(t.Context(), t.TempDir(), func() time.Time { return now })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s, s.NewPairing("ABCD"), &now
}

func begin(t *testing.T, p *Pairing) PairingState {
	t.Helper()
	st, err := p.Begin()
	if err != nil {
		t.Fatal(err)
	}
	return st
}

func wants(t *testing.T, err error, code Code) {
	t.Helper()
	if err == nil || AsProblem(err).Code != code {
		t.Errorf("%v, want %s", err, code)
	}
}

func TestPair(t *testing.T) {
	s, p, now := pairingShop(t)
	ctx := context.Background()
	_, _, err := p.Ask("x", "phone")
	wants(t, err, Gone)
	st := begin(t, p)
	if len(st.Token) < 26 || len(st.Typed) != 8 || strings.ContainsAny(st.Typed, "01IO") || st.Left != PairingLasts {
		t.Fatalf("%+v", st)
	}
	_, _, err = p.Ask(st.Token, " ")
	wants(t, err, BadInput)
	claim, digits, err := p.Ask(st.Token, "Anna’s phone")
	if err != nil || len(digits) != 4 {
		t.Fatal(digits, err)
	}
	_, _, err = p.Ask(st.Token, "thief")
	wants(t, err, Gone)
	_, _, err = p.Ask(st.Typed, "thief")
	wants(t, err, Gone)
	_, err = p.Finish(ctx, "tester", claim)
	wants(t, err, Gone) // nobody has confirmed it
	if w := p.Watch(); w.Step != Asking || w.Name != "Anna’s phone" || w.Digits != digits || w.Token != "" || w.Typed != "" {
		t.Errorf("%+v", w)
	}
	wants(t, p.Confirm("12345", true), Gone)
	if err := p.Confirm(digits, true); err != nil {
		t.Fatal(err)
	}
	if c := p.Claimed("other"); c.Step != Ended {
		t.Errorf("another phone hears %+v", c)
	}
	if c := p.Claimed(claim); c.Step != LetIn {
		t.Errorf("%+v", c)
	}
	_, err = p.Finish(ctx, "tester", "other")
	wants(t, err, Gone)
	key, err := p.Finish(ctx, "tester", claim)
	if err != nil || len(key) != 64 {
		t.Fatal(key, err)
	}
	_, err = p.Finish(ctx, "tester", claim)
	wants(t, err, Gone)

	d, ok, err := s.Known(ctx, key)
	if err != nil || !ok || d.Name != "Anna’s phone" || d.Key != device.Digest(key) || d.Root != "ABCD" {
		t.Fatalf("%+v %v %v", d, ok, err)
	}
	if _, ok, _ := s.Known(ctx, d.Key); ok {
		t.Error("what is kept of the key lets in")
	}
	*now = now.Add(time.Hour)
	if _, ok, _ := s.Known(ctx, key); !ok {
		t.Error("an hour later it is unknown")
	}
	if all, err := s.Devices(ctx); err != nil || len(all) != 1 || !all[0].Seen.Equal(*now) {
		t.Errorf("%+v %v", all, err)
	}
	if err := s.Revoke(ctx, "tester", d.ID); err != nil {
		t.Fatal(err)
	}
	if _, ok, _ := s.Known(ctx, key); ok {
		t.Error("shut out, and let in")
	}
	wants(t, s.Revoke(ctx, "tester", 99), NotFound)
}

func TestPairTurnedAway(t *testing.T) {
	s, p, _ := pairingShop(t)
	st := begin(t, p)
	claim, digits, err := p.Ask(strings.ToLower(st.Typed[:4])+" "+st.Typed[4:], "phone")
	if err != nil {
		t.Fatal(err)
	}
	if err := p.Confirm(digits, false); err != nil {
		t.Fatal(err)
	}
	if p.Claimed(claim).Step != Ended || p.Watch().Step != Refused {
		t.Error("it was not turned away")
	}
	_, err = p.Finish(t.Context(), "tester", claim)
	wants(t, err, Gone)
	if all, _ := s.Devices(t.Context()); len(all) != 0 {
		t.Errorf("%+v", all)
	}
}

// TestPairBrute guesses typed codes: five wrong ones burn it, faster ones are
// not looked at, and the right one is refused then.
func TestPairBrute(t *testing.T) {
	_, p, now := pairingShop(t)
	st := begin(t, p)
	soon, looked := 0, 0
	for i := range 10_000 {
		*now = now.Add(100 * time.Microsecond)
		_, _, err := p.Ask(fmt.Sprintf("%08d", i), "thief")
		switch c := AsProblem(err).Code; {
		case err == nil:
			t.Fatal("a guess was taken")
		case c == TooOften:
			soon++
		case c == BadInput:
			looked++
		}
	}
	if looked != 1 || soon != 9999 {
		t.Errorf("%d looked at within a second, %d not", looked, soon)
	}
	for i := 2; i <= PairingTries; i++ {
		*now = now.Add(time.Second)
		_, _, err := p.Ask("22222222", "thief")
		wants(t, err, map[bool]Code{false: BadInput, true: Gone}[i == PairingTries])
	}
	for _, right := range []string{st.Typed, st.Token} {
		*now = now.Add(time.Second)
		_, _, err := p.Ask(right, "owner")
		wants(t, err, Gone)
	}
	if w := p.Watch(); w.Step != Burnt {
		t.Errorf("%+v", w)
	}
	if again := begin(t, p); again.Token == st.Token || again.Typed == st.Typed {
		t.Error("a burnt code came back")
	}
}

// TestPairEnds: a code lives two minutes, while its page is open; the steps
// after it as long.
func TestPairEnds(t *testing.T) {
	_, p, now := pairingShop(t)
	st := begin(t, p)
	*now = now.Add(21 * time.Second) // and nobody watches
	_, _, err := p.Ask(st.Token, "phone")
	wants(t, err, Gone)

	st = begin(t, p)
	for range 11 {
		*now = now.Add(10 * time.Second)
		if p.Watch().Step != CodeShown {
			t.Fatal("ended too early")
		}
	}
	*now = now.Add(10 * time.Second)
	_, _, err = p.Ask(st.Token, "phone")
	wants(t, err, Gone)

	st = begin(t, p)
	claim, digits, err := p.Ask(st.Token, "phone")
	if err != nil {
		t.Fatal(err)
	}
	*now = now.Add(PairingLasts)
	wants(t, p.Confirm(digits, true), Gone)
	if p.Claimed(claim).Step != Ended {
		t.Error("a phone waits for ever")
	}
	st = begin(t, p)
	if claim, digits, err = p.Ask(st.Token, "phone"); err != nil || p.Confirm(digits, true) != nil {
		t.Fatal(err)
	}
	*now = now.Add(PairingLasts)
	_, err = p.Finish(t.Context(), "tester", claim)
	wants(t, err, Gone)
}
