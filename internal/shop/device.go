package shop

import (
	"context"
	"errors"

	"seatboard/internal/book/device"
	"seatboard/internal/io/store"
)

// Devices lists the phones and other computers that were ever let in, the
// last first.
func (s *Shop) Devices(ctx context.Context) ([]device.Device, error) {
	var out []device.Device
	err := s.store.View(ctx, func(tx *store.Tx) (err error) {
		out, err = tx.Devices()
		return err
	})
	return out, explain(err)
}

// Known is the device that shows a key; ok is false where it was never let in
// or is shut out. That it was here is written down now and then, and not to
// be able to does not keep it out.
func (s *Shop) Known(ctx context.Context, key string) (d device.Device, ok bool, err error) {
	err = s.store.View(ctx, func(tx *store.Tx) (err error) {
		d, err = tx.DeviceByKey(device.Digest(key))
		return err
	})
	if errors.Is(err, store.ErrNoDevice) || err == nil && !d.LetIn() {
		return device.Device{}, false, nil
	}
	if err != nil {
		return device.Device{}, false, explain(err)
	}
	if age := s.now().Sub(d.Seen); age >= device.SeenEvery || age < 0 {
		_ = s.store.Update(ctx, d.Name, func(tx *store.Tx) error { return tx.SeeDevice(d.ID) })
	}
	return d, true, nil
}

// Revoke shuts a device out for good; its next request is refused.
func (s *Shop) Revoke(ctx context.Context, by string, id int64) error {
	err := s.store.Update(ctx, by, func(tx *store.Tx) error { return tx.RevokeDevice(id) })
	if errors.Is(err, store.ErrNoDevice) {
		return &Problem{Code: NotFound, Message: "There is no such phone.", Hint: "Look at the list once more.", cause: err}
	}
	return explain(err)
}
