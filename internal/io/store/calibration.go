package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"

	"seatboard/internal/book/job"
	"seatboard/internal/book/readings"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// ErrNoCalibration is returned for a recorder that was never calibrated.
var ErrNoCalibration = errors.New("store: this recorder was not calibrated")

const calibrations = `SELECT device, error, bound, how, at, length, who, against, temperature FROM calibration `

// SetCalibration keeps what was found of a recorder's clock. Earlier ones
// stay; the last counts. When is now where it is not said.
func (tx *Tx) SetCalibration(c readings.Calibration) (readings.Calibration, error) {
	if c.When.IsZero() {
		c.When = tx.now
	}
	c.When = job.Instant(c.When)
	c.Clock.When, c.Clock.Device = c.When, c.Device
	if f := c.Check(); len(f) > 0 {
		return c, meas.Faults(f)
	}
	warm, err := warmth(c.Warm)
	if err != nil {
		return c, err
	}
	return c, tx.exec(`INSERT INTO calibration (device, error, bound, how, at, length, who, against, temperature) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
		c.Device, float64(c.Clock.Error), float64(c.Clock.Limit), string(c.Clock.How), stamp(c.When), float64(c.Length), c.By, c.Against, warm)
}

// Calibrations lists the last calibration of each recorder, by its name.
func (tx *Tx) Calibrations() ([]readings.Calibration, error) {
	return tx.calibrations(calibrations + `WHERE id IN (SELECT max(id) FROM calibration GROUP BY device) ORDER BY device`)
}

// Calibration is the last one of a recorder; the error is ErrNoCalibration
// where there is none.
func (tx *Tx) Calibration(device string) (readings.Calibration, error) {
	found, err := tx.calibrations(calibrations+`WHERE device = $1 ORDER BY id DESC LIMIT 1`, device)
	if err != nil || len(found) == 0 {
		return readings.Calibration{}, errors.Join(err, ErrNoCalibration)
	}
	return found[0], nil
}

// CalibrationsOf lists all that was kept of a recorder, the last first.
func (tx *Tx) CalibrationsOf(device string) ([]readings.Calibration, error) {
	return tx.calibrations(calibrations+`WHERE device = $1 ORDER BY id DESC`, device)
}

// warmth is a temperature as it is kept: JSON, or "" where there is none.
func warmth(r meas.Reading[unit.Temperature]) (string, error) {
	if !r.Set {
		return "", nil
	}
	b, err := json.Marshal(r)
	return string(b), err
}

func (tx *Tx) calibrations(query string, args ...any) ([]readings.Calibration, error) {
	var out []readings.Calibration
	err := tx.each(query, args, func(r *sql.Rows) error {
		var c readings.Calibration
		var at, warm string
		if err := r.Scan(&c.Device, &c.Clock.Error, &c.Clock.Limit, &c.Clock.How, &at, &c.Length, &c.By, &c.Against, &warm); err != nil {
			return err
		}
		if warm != "" {
			if err := json.Unmarshal([]byte(warm), &c.Warm); err != nil {
				return fmt.Errorf("temperature of a calibration of %s: %w", c.Device, err)
			}
		}
		c.When = instant(at)
		c.Clock.When, c.Clock.Device = c.When, c.Device
		out = append(out, c)
		return nil
	})
	return out, err
}
