package culprit

import "math"

// columnKind says what a regressor is.
type columnKind uint8

const (
	dataColumn columnKind = iota // the times themselves
	slopeColumn
	bendColumn  // the rate drifts
	twistColumn // and its drift changes
	levelColumn
	sideColumn
	placeColumn // 1 at one place of the ring, else 0
	cosColumn
	sinColumn
)

// column is one regressor of a run.
type column struct {
	kind  columnKind
	place int
	f     float64 // cycles a beat
}

// design is the regressors of a run in order: the data first, then the base
// (slope and drift, then the places of the ring or level and side), then a cosine
// and a sine for each frequency.
type design struct {
	columns []column
	base    int // of the columns after the data
}

// newDesign is the base; ring is the beats in a turn of the escape wheel, 0
// where its places cannot be told apart. slow are frequencies with too few
// cycles to be judged: they are fitted so that they are not taken for others.
func newDesign(ring int, slow []float64) design {
	d := design{columns: []column{{kind: dataColumn}, {kind: slopeColumn}, {kind: bendColumn}, {kind: twistColumn}}}
	if ring == 0 {
		d.columns = append(d.columns, column{kind: levelColumn}, column{kind: sideColumn})
	}
	for i := range ring {
		d.columns = append(d.columns, column{kind: placeColumn, place: i})
	}
	for _, f := range slow {
		d.add(f)
	}
	d.base = len(d.columns) - 1
	return d
}

// add appends a frequency and returns its first column.
func (d *design) add(f float64) int {
	at := len(d.columns)
	d.columns = append(d.columns, column{kind: cosColumn, f: f}, column{kind: sinColumn, f: f})
	return at
}

// fill writes column c at beats from … of a run.
func (r *run) fill(c column, from int, out []float64) {
	n := r.n[from : from+len(out)]
	switch c.kind {
	case dataColumn:
		copy(out, r.y[from:])
	case slopeColumn, bendColumn, twistColumn:
		r.fillTrend(c.kind, n, out)
	case levelColumn:
		for i := range out {
			out[i] = 1
		}
	case sideColumn:
		for i, v := range n {
			out[i] = float64(1 - 2*(v&1))
		}
	case placeColumn:
		for i, v := range n {
			out[i] = 0
			if v%r.ring == c.place {
				out[i] = 1
			}
		}
	default:
		r.fillWave(c, n, out)
	}
}

// fillTrend is Legendre's polynomial of the first, second or third degree.
func (r *run) fillTrend(kind columnKind, n []int, out []float64) {
	scale := 2 / float64(r.last())
	for i, v := range n {
		x := float64(v)*scale - 1
		switch kind {
		case bendColumn:
			x = (3*x*x - 1) / 2
		case twistColumn:
			x = (5*x*x*x - 3*x) / 2
		}
		out[i] = x
	}
}

// fillWave is a cosine or sine, turned from beat to beat.
func (r *run) fillWave(c column, n []int, out []float64) {
	ds, dc := math.Sincos(2 * math.Pi * c.f)
	var co, si float64
	for i, v := range n {
		if i == 0 || v != n[i-1]+1 {
			_, turn := math.Modf(c.f * float64(v))
			si, co = math.Sincos(2 * math.Pi * turn)
		} else {
			co, si = co*dc-si*ds, si*dc+co*ds
		}
		if c.kind == cosColumn {
			out[i] = co
		} else {
			out[i] = si
		}
	}
}

// block is how many beats are whitened at a time.
const block = 64

// gram adds to a, of dim by dim, the products of the whitened columns from
// `from` on with all columns before and themselves (both halves are filled).
func (r *run) gram(d design, w whitener, from int, a []float64, dim int) {
	p := len(d.columns)
	buf := make([]float64, p*block)
	state := make([]float64, p)
	for at := 0; at < len(r.n); at += block {
		m := min(block, len(r.n)-at)
		for c := range d.columns {
			row := buf[c*block : (c+1)*block]
			r.fill(d.columns[c], at, row[:m])
			state[c] = w.filter(row[:m], at, state[c])
			clear(row[m:])
		}
		for i := 0; i < p; i += 2 {
			for j := max(i, from); j < p; j += 2 {
				tile(buf, i, j, p, a, dim)
			}
		}
	}
	for i := range p {
		for j := max(i+1, from); j < p; j++ {
			a[j*dim+i] = a[i*dim+j]
		}
	}
}

// tile adds four products at once, of rows i and i + 1 with columns j and
// j + 1; those below the diagonal are left out.
func tile(buf []float64, i, j, p int, a []float64, dim int) {
	i2, j2 := min(i+1, p-1), min(j+1, p-1)
	x0, x1 := (*[block]float64)(buf[i*block:]), (*[block]float64)(buf[i2*block:])
	y0, y1 := (*[block]float64)(buf[j*block:]), (*[block]float64)(buf[j2*block:])
	var s00, s01, s10, s11 float64
	for k := range block {
		u0, u1, v0, v1 := x0[k], x1[k], y0[k], y1[k]
		s00 += u0 * v0
		s01 += u0 * v1
		s10 += u1 * v0
		s11 += u1 * v1
	}
	a[i*dim+j] += s00
	if j2 > j {
		a[i*dim+j2] += s01
	}
	if i2 > i {
		if j >= i2 {
			a[i2*dim+j] += s10
		}
		if j2 > j && j2 >= i2 {
			a[i2*dim+j2] += s11
		}
	}
}
