package store

import (
	"database/sql"
	"errors"

	"seatboard/internal/book/device"
	"seatboard/internal/kit/meas"
)

// ErrNoDevice is returned for a device that was never let in.
var ErrNoDevice = errors.New("store: this device was not let in")

const devices = `SELECT id, name, key, root, paired, seen, coalesce(revoked, '') FROM device `

// AddDevice lets a device in from now on.
func (tx *Tx) AddDevice(d device.Device) (device.Device, error) {
	d.Paired, d.Seen = tx.now, tx.now
	if f := d.Check(); len(f) > 0 {
		return d, meas.Faults(f)
	}
	err := tx.each(`INSERT INTO device (name, key, root, paired, seen, who) VALUES ($1, $2, $3, $4, $4, $5) RETURNING id`,
		[]any{d.Name, d.Key, d.Root, stamp(tx.now), tx.by}, func(r *sql.Rows) error { return r.Scan(&d.ID) })
	return d, err
}

// Devices lists all that were ever let in, the last first.
func (tx *Tx) Devices() ([]device.Device, error) {
	return tx.devices(devices + `ORDER BY id DESC`)
}

// DeviceByKey is the device with the digest of a key, shut out or not; the
// error is ErrNoDevice where there is none.
func (tx *Tx) DeviceByKey(digest string) (device.Device, error) {
	found, err := tx.devices(devices+`WHERE key = $1`, digest)
	if err != nil || len(found) == 0 {
		return device.Device{}, errors.Join(err, ErrNoDevice)
	}
	return found[0], nil
}

// SeeDevice writes down that a device is here now.
func (tx *Tx) SeeDevice(id int64) error {
	return tx.exec(`UPDATE device SET seen = $2 WHERE id = $1`, id, stamp(tx.now))
}

// RevokeDevice shuts a device out; one that is shut out already stays as it
// is. The error is ErrNoDevice where there is none.
func (tx *Tx) RevokeDevice(id int64) error {
	found, err := tx.devices(devices+`WHERE id = $1`, id)
	if err != nil || len(found) == 0 {
		return errors.Join(err, ErrNoDevice)
	}
	return tx.exec(`UPDATE device SET revoked = $2 WHERE id = $1 AND revoked IS NULL`, id, stamp(tx.now))
}

func (tx *Tx) devices(query string, args ...any) ([]device.Device, error) {
	var out []device.Device
	err := tx.each(query, args, func(r *sql.Rows) error {
		var d device.Device
		var paired, seen, revoked string
		if err := r.Scan(&d.ID, &d.Name, &d.Key, &d.Root, &paired, &seen, &revoked); err != nil {
			return err
		}
		d.Paired, d.Seen = instant(paired), instant(seen)
		if revoked != "" {
			d.Revoked = instant(revoked)
		}
		out = append(out, d)
		return nil
	})
	return out, err
}
