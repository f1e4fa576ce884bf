package store_test

import (
	"errors"
	"testing"
	"time"

	"seatboard/internal/book/device"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

func TestDevices(t *testing.T) {
	dir := t.TempDir()
	w := &wall{now: time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)}
	s := open(t, dir, store.Options{Now: w.Now})
	var a, b device.Device
	update(t, s, func(tx *store.Tx) (err error) {
		if a, err = tx.AddDevice(device.Device{Name: "Anna’s phone", Key: device.Digest("1"), Root: "AB"}); err != nil {
			return err
		}
		b, err = tx.AddDevice(device.Device{Name: "tablet", Key: device.Digest("2")})
		return err
	})
	w.now = w.now.Add(time.Hour)
	update(t, s, func(tx *store.Tx) error { return tx.SeeDevice(a.ID) })
	w.now = w.now.Add(time.Hour)
	for range 2 {
		update(t, s, func(tx *store.Tx) error { return tx.RevokeDevice(b.ID) })
		w.now = w.now.Add(time.Hour)
	}
	shut(t, s)
	s = open(t, dir, store.Options{Now: w.Now})
	view(t, s, func(tx *store.Tx) error {
		all, err := tx.Devices()
		if err != nil || len(all) != 2 || all[0].ID != b.ID {
			t.Fatalf("%+v %v", all, err)
		}
		if got := all[1]; got.Name != a.Name || got.Root != "AB" || !got.LetIn() || got.Seen.Sub(got.Paired) != time.Hour {
			t.Errorf("%+v", got)
		}
		if got := all[0]; got.LetIn() || got.Revoked.Sub(got.Paired) != 2*time.Hour {
			t.Errorf("%+v: it must be shut out since the first time", got)
		}
		if d, err := tx.DeviceByKey(device.Digest("1")); err != nil || d.ID != a.ID {
			t.Errorf("%+v %v", d, err)
		}
		if _, err := tx.DeviceByKey("1"); !errors.Is(err, store.ErrNoDevice) {
			t.Error(err)
		}
		return nil
	})
	if err := s.Update(ctx, "", func(tx *store.Tx) error { return tx.RevokeDevice(99) }); !errors.Is(err, store.ErrNoDevice) {
		t.Error(err)
	}
	if err := s.Update(ctx, "", func(tx *store.Tx) error { _, err := tx.AddDevice(device.Device{Key: device.Digest("3")}); return err }); !errors.As(err, new(meas.Faults)) {
		t.Error(err)
	}
	if err := s.Update(ctx, "", func(tx *store.Tx) error {
		_, err := tx.AddDevice(device.Device{Name: "x", Key: device.Digest("1")})
		return err
	}); err == nil {
		t.Error("the same key twice")
	}
}
