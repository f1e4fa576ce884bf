package regulate

import (
	"cmp"
	"math"
	"slices"
	"time"

	"seatboard/internal/kit/trend"
)

// The names of causes.
const (
	Temperature = "temperature"
	Pressure    = "pressure"
	Humidity    = "humidity"
	Arc         = "arc"
	Nut         = "nut"
	LostMotion  = "lost motion"
	Tray        = "tray"
	Recorder    = "recorder"
	Drifting    = "drift"
)

// column is something that pushes the clock by an unknown share.
type column struct {
	name, unit string
	belief     trend.Belief
	air        *weather
	level      float64 // what it has pushed so far
	slope      float64
	mark       float64 // the level when it was marked last
}

// happening is a row in the making. Class orders what happens at one instant:
// it was read before it was touched.
type happening struct {
	t        float64
	class    int
	reading  int // index in Query.Readings, -1 for none
	touch    int // index in Query.Touches, -1 for none
	mark     bool
	setError bool
}

const (
	looked = iota
	touched
	afterwards
	marked
	last
)

// timeline is a trial as the filter takes it. Times are days from zero.
type timeline struct {
	q        *Query
	zero     time.Time
	now      float64
	columns  []*column
	nut      int // places of columns, -1 for none
	lost     int
	tray     int
	recorder int
	byDay    int // what the hours in which it is looked at have over the whole day
	airs     int // of the first of the air; the others follow
	rows     []happening
	series   trend.Series
	way      float64   // the nut went this way last: +1 up, -1 down, 0 not known
	backs    []float64 // of each row: the share of the lost motion its turn went through
}

// days are those from zero to t; a time.Duration holds no more than 292 years.
func days(t, zero time.Time) float64 {
	return (float64(t.Unix()-zero.Unix()) + float64(t.Nanosecond()-zero.Nanosecond())/1e9) / 86400
}

// instant is so many days from zero.
func (l *timeline) instant(t float64) time.Time {
	whole, part := math.Modf(t * 86400)
	return time.Unix(l.zero.Unix()+int64(whole), int64(l.zero.Nanosecond())+int64(part*1e9)).In(l.zero.Location())
}

// lay makes the timeline of a query. skip are the readings that have no weight.
func lay(q *Query, skip map[int]bool) *timeline {
	l := &timeline{q: q, nut: -1, lost: -1, tray: -1, recorder: -1}
	l.zero = q.Now
	for _, r := range q.Readings {
		if t := r.start(); t.Before(l.zero) {
			l.zero = t
		}
	}
	for _, t := range q.Touches {
		if t.HasError && t.At.Before(l.zero) {
			l.zero = t.At // the hands were set by a known time: that is a reading too
		}
	}
	l.now = days(q.Now, l.zero)
	l.happen(skip)
	l.name()
	l.fill()
	return l
}

// start is when a reading begins.
func (r *Reading) start() time.Time {
	if r.From.IsZero() {
		return r.At
	}
	return r.From
}

// happen lists what happens from the first reading until now.
func (l *timeline) happen(skip map[int]bool) {
	l.rows = make([]happening, 0, 1+2*len(l.q.Readings)+2*len(l.q.Touches))
	open := math.Inf(-1) // until when a rate is being taken
	order := make([]int, 0, len(l.q.Readings))
	for i, r := range l.q.Readings {
		if !r.Out && !skip[r.ID] && !r.At.After(l.q.Now) {
			order = append(order, i)
		}
	}
	slices.SortFunc(order, func(a, b int) int { return l.q.Readings[a].At.Compare(l.q.Readings[b].At) })
	for _, i := range order {
		r := l.q.Readings[i]
		h := happening{t: days(r.At, l.zero), class: looked, reading: i, touch: -1}
		if !r.From.IsZero() {
			from := days(r.From, l.zero)
			if from < open || from >= h.t {
				continue
			}
			open = h.t
			l.rows = append(l.rows, happening{t: from, class: marked, reading: -1, touch: -1, mark: true})
		}
		l.rows = append(l.rows, h)
	}
	for i, t := range l.q.Touches {
		at := days(t.At, l.zero)
		if !t.Until.IsZero() {
			at = days(t.Until, l.zero)
		}
		if at < 0 || at > l.now || t.Kind == Wound {
			continue
		}
		l.rows = append(l.rows, happening{t: at, class: touched, reading: -1, touch: i})
		if t.HasError {
			l.rows = append(l.rows, happening{t: at, class: afterwards, reading: -1, touch: i, setError: true})
		}
	}
	l.rows = append(l.rows, happening{t: l.now, class: last, reading: -1, touch: -1})
	slices.SortStableFunc(l.rows, func(a, b happening) int {
		return cmp.Or(cmp.Compare(a.t, b.t), cmp.Compare(a.class, b.class))
	})
}

// add puts a column in and gives its place.
func (l *timeline) add(name, unit string, value, u float64) int {
	l.columns = append(l.columns, &column{name: name, unit: unit, belief: trend.Belief{Value: value, U: u}})
	return len(l.columns) - 1
}

// name makes the columns that this trial has.
func (l *timeline) name() {
	has := map[Kind]bool{}
	for _, h := range l.rows {
		if h.touch >= 0 && !h.setError {
			has[l.q.Touches[h.touch].Kind] = true
		}
	}
	l.add("", "", 0, gone) // where the error began
	l.add("", "", 0, startRate)
	l.add(Drifting, "day", 0, driftU)
	k, u := l.turn()
	if has[NutTurned] {
		l.nut = l.add(Nut, "turn", k, u)
		l.lost = l.add(LostMotion, "", k*l.lostTurns(), k*l.lostTurnsU())
	}
	if g, u := l.gram(); has[OnTray] && g != 0 {
		l.tray = l.add(Tray, "g", g, u)
	}
	if u := l.recorderU(); u > 0 {
		l.recorder = l.add(Recorder, "", 0, u)
	}
	air := airs(l.q, l.zero)
	l.byDay = l.add("", "", 0, dayNight(air, l.q.Known.thermal()))
	l.airs = len(l.columns)
	for _, w := range air {
		l.columns[l.add(w.name, w.unit, w.belief[0], w.belief[1])].air = w
	}
}

// turn is what is held of one turn of the nut, s/day.
func (l *timeline) turn() (value, u float64) {
	k := l.q.Known.PerTurn
	if !k.Set || k.Value <= 0 {
		return anyTurn, anyTurnU
	}
	v := perDay(k.Value)
	return v, math.Hypot(perDay(k.U), turnLeastU*v)
}

// gram is what is held of a gram on the tray, s/day; 0 where there is none.
func (l *timeline) gram() (value, u float64) {
	g := l.q.Known.PerGram
	if !g.Set {
		return 0, 0
	}
	v := perDay(g.Value)
	return v, math.Max(perDay(g.U), trayU*math.Abs(v))
}

// lostTurns is the lost motion held of the nut, turns.
func (l *timeline) lostTurns() float64 {
	if k := l.q.Known.Lost; k.Set {
		return float64(k.Value)
	}
	return lostTurns
}

// lostTurnsU is the doubt of the lost motion, turns.
func (l *timeline) lostTurnsU() float64 {
	if k := l.q.Known.Lost; k.Set && k.HasU {
		return math.Max(float64(k.U), lostLeastU)
	}
	return lostTurnsU
}

// hangs is the doubt of where the bob hangs within the lost motion before the
// nut was ever turned, turns: it may be anywhere, so that half of it lies
// ahead, give or take its length by the root of twelve.
func (l *timeline) hangs() float64 {
	return math.Hypot(l.lostTurns(), l.lostTurnsU()) / math.Sqrt(12)
}

// recorderU is the doubt of the recorder's clock, s/day, where one was used.
func (l *timeline) recorderU() float64 {
	u := 0.0
	for _, h := range l.rows {
		if h.reading >= 0 {
			u = math.Max(u, perDay(l.q.Readings[h.reading].Clock))
		}
	}
	return u
}

// fill turns what happens into rows.
func (l *timeline) fill() {
	m := len(l.columns)
	l.series = trend.Series{Columns: m, Rows: make([]trend.Row, 0, len(l.rows)), Z: make([]float64, 0, len(l.rows)*(m+1)), Push: make([]float64, 0, 2*m*len(l.rows))}
	for _, c := range l.columns {
		l.series.Prior = append(l.series.Prior, c.belief)
	}
	l.columns[0].level, l.columns[1].slope = 1, 1
	l.backs = make([]float64, len(l.rows))
	before, marked := 0.0, 0.0
	for i, h := range l.rows {
		l.advance(h.t, h.t-before)
		before = h.t
		row := trend.Row{T: h.t, Mark: h.mark}
		y := 0.0
		switch {
		case h.setError:
			t := l.q.Touches[h.touch]
			row.Sees, y, row.V = trend.Level, float64(t.Error), variance(float64(t.U), unstated(ByHand))
		case h.touch >= 0:
			l.touch(i, &row, l.q.Touches[h.touch])
		case h.reading >= 0:
			y = l.read(&row, l.q.Readings[h.reading], marked)
		}
		if h.mark {
			marked = h.t
		}
		l.put(row, y)
	}
}

// put adds a row with y and what the columns have in it.
func (l *timeline) put(row trend.Row, y float64) {
	l.series.Rows = append(l.series.Rows, row)
	l.series.Z = append(l.series.Z, y)
	for j, c := range l.columns {
		z := c.level
		if row.Sees == trend.Slope {
			z = (c.level - c.mark) / row.Span
			if j == l.recorder || j == l.byDay && row.Span < whole {
				z = 1
			}
		}
		l.series.Z = append(l.series.Z, z)
	}
	for _, c := range l.columns {
		l.series.Push = append(l.series.Push, c.level)
	}
	for _, c := range l.columns {
		l.series.Push = append(l.series.Push, c.slope)
	}
	if row.Mark {
		for _, c := range l.columns {
			c.mark = c.level
		}
	}
}

// advance takes the columns on to t.
func (l *timeline) advance(t, dt float64) {
	for j, c := range l.columns {
		switch {
		case c.air != nil:
			c.slope, c.level = c.air.at(t)
		case c.name == Drifting:
			c.slope, c.level = t-l.now, t*(t/2-l.now)
		case j != l.recorder:
			c.level += c.slope * dt
		}
	}
}

func variance(u, unstated float64) float64 {
	if u <= 0 {
		u = unstated
	}
	return u * u
}

// read makes a reading a row.
func (l *timeline) read(row *trend.Row, r Reading, marked float64) float64 {
	if r.From.IsZero() {
		row.Sees, row.V = trend.Level, variance(r.U, unstated(r.How))
		return float64(r.Error)
	}
	row.Sees, row.Span = trend.Slope, row.T-marked
	row.Fixed = r.How == ByEar && r.U > 0
	row.V = variance(r.U*86400, math.Sqrt2*unstated(r.How)/row.Span)
	return perDay(r.Rate)
}

// touch makes a touch a row.
func (l *timeline) touch(i int, row *trend.Row, t Touch) {
	switch t.Kind {
	case NutTurned:
		k, _ := l.turn()
		l.columns[l.nut].slope += t.Turns
		way := math.Copysign(1, t.Turns)
		back := l.back(t.Turns)
		l.way = way
		l.backs[i] = back
		l.columns[l.lost].slope -= way * back
		slip := k * math.Hypot(slipShare*t.Turns, slipLeast)
		if back == 0.5 {
			slip = math.Hypot(slip, k*l.hangs())
		}
		row.ShakeSlope = slip * slip
	case OnTray:
		if l.tray >= 0 {
			l.columns[l.tray].slope += float64(t.Mass) * 1000
			return
		}
		row.ShakeSlope = square(shaken(OnTray))
	case HandsSet, Stopped, Started:
		row.ShakeLevel = gone * gone
		row.ShakeSlope = square(shaken(t.Kind))
	default:
		row.ShakeSlope = square(shaken(t.Kind))
	}
}

func square(x float64) float64 { return x * x }
