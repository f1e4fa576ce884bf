package shop

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"sync"
	"time"

	"seatboard/internal/craft/listen/sampleclock"
	"seatboard/internal/io/hostclock"
	"seatboard/internal/kit/meas"
	"seatboard/internal/kit/unit"
)

// TimeServer is the server that is proposed to be asked for the time: a pool
// of servers that anyone may ask, named by nobody but who presses the button.
const TimeServer = "pool.ntp.org"

// askApart is how long a server is left in peace.
const askApart = time.Minute

const mostAsked = 100

// asker remembers what time servers have answered to this run of the program:
// two answers tell how fast this computer's clock runs.
type asker struct {
	ask func(context.Context, string) (hostclock.Offset, error)

	mu  sync.Mutex
	all []hostclock.Offset // the oldest first
}

// TimeAsked is what a time server answered, and what it means.
type TimeAsked struct {
	Offset hostclock.Offset         `json:"offset"`
	Rate   meas.Interval[unit.Rate] `json:"rate"`  // of this computer's steady count since Since; null before a second answer
	Since  time.Time                `json:"since"` // of the first answer; zero where this is the first
	Host   hostclock.Status         `json:"host"`
	Means  []string                 `json:"means"` // sentences
}

// AskTime asks a time server once how far this computer's clock is from it.
// Nothing is sent anywhere but by this.
func (s *Shop) AskTime(ctx context.Context, server string) (TimeAsked, error) {
	server = strings.TrimSpace(server)
	if server == "" {
		return TimeAsked{}, &Problem{Code: BadInput, Message: "There is a problem with what was entered.", Fields: meas.Faults{{Field: "server", Text: "Name the time server to ask, like " + TimeServer}}}
	}
	k := &s.ears.asker
	k.mu.Lock()
	defer k.mu.Unlock()
	if n := len(k.all); n > 0 && k.all[n-1].Server == server && s.now().Sub(k.all[n-1].When) < askApart {
		return TimeAsked{}, &Problem{Code: BadInput, Message: "This server was asked less than a minute ago.", Hint: "Leave it in peace; an hour apart tells more."}
	}
	o, err := k.ask(ctx, server)
	if err != nil {
		return TimeAsked{}, askProblem(server, err)
	}
	if k.all = append(k.all, o); len(k.all) > mostAsked {
		k.all = slices.Delete(k.all, 1, 2) // the first stays: the longest span tells most
	}
	return k.answer(hostclock.Disciplined(ctx)), nil
}

// LastAsked is the last answer of a time server, if this run of the program
// has had one.
func (s *Shop) LastAsked(ctx context.Context) (TimeAsked, bool) {
	k := &s.ears.asker
	k.mu.Lock()
	defer k.mu.Unlock()
	if len(k.all) == 0 {
		return TimeAsked{}, false
	}
	return k.answer(hostclock.Disciplined(ctx)), true
}

// AskTimeAlone is AskTime without a shop, as it stands for itself.
func AskTimeAlone(ctx context.Context, server string) (TimeAsked, error) {
	k := asker{ask: hostclock.Ask}
	o, err := k.ask(ctx, server)
	if err != nil {
		return TimeAsked{}, askProblem(server, err)
	}
	k.all = []hostclock.Offset{o}
	return k.answer(hostclock.Disciplined(ctx)), nil
}

func askProblem(server string, err error) error {
	p := &Problem{Code: NotFound, Message: "The time server " + server + " did not answer.", Hint: "Look whether this computer reaches the network and the name is right; some networks let no such question out (UDP, port 123).", cause: err}
	if errors.Is(err, hostclock.ErrRefuse) {
		p.Message, p.Hint = "The time server "+server+" answered, but says that its own time cannot be used.", "Ask another one."
	}
	return p
}

// answer says what the last answer means; the caller has mu and there is one.
func (k *asker) answer(host hostclock.Status) TimeAsked {
	last := k.all[len(k.all)-1]
	a := TimeAsked{Offset: last, Host: host}
	if first := k.all[0]; len(k.all) > 1 {
		a.Since, a.Rate = first.When, hostclock.RateBetween(first, last)
	}
	a.Means = a.means()
	return a
}

// means puts it into sentences.
func (a TimeAsked) means() []string {
	o := a.Offset
	far := math.Abs(float64(o.Behind))
	way := "behind"
	if o.Behind < 0 {
		way = "ahead of"
	}
	var out []string
	if far <= float64(o.Limit) {
		out = append(out, "This computer’s clock agrees with "+o.Server+": "+seconds(unit.Duration(far))+" apart, within the doubt of ± "+seconds(o.Limit)+".")
	} else {
		out = append(out, "This computer’s clock is "+seconds(unit.Duration(far))+" ± "+seconds(o.Limit)+" "+way+" that of "+o.Server+".")
	}
	switch {
	case a.Host.Disciplined && far > float64(o.Limit)+awry:
		out = append(out, "The system says that a time service keeps the clock right, but it is not: that service has only begun, or is wrong. Do not compare a recorder with it now.")
	case a.Host.Disciplined:
		out = append(out, "A time service keeps it right, as the system says and this bears out: a recorder may be compared with it.")
	case !a.Host.Known:
		out = append(out, "Whether anything keeps this clock right the system does not tell, so that by itself it cannot judge a recorder.")
	default:
		out = append(out, "Nothing keeps this clock right, so that by itself it cannot judge a recorder.")
	}
	switch {
	case a.Rate.Set:
		out = append(out, "Between the two answers, "+span(o.When.Sub(a.Since))+" apart, this computer’s clock ran "+a.Rate.Text("ppm")+" ("+a.Rate.Text("s/d")+") against the server. A recorder that was compared in that time is put right by it.")
	case !a.Host.Disciplined:
		out = append(out, "One answer tells how far the clock is, not how fast it runs: ask again an hour later while Seatboard runs. From the two a recorder that was listened to meanwhile can be compared all the same.")
	}
	return out
}

// awry is how far a clock may be that a service keeps right.
const awry = 0.1 // s

// seconds is a short time in words.
func seconds(d unit.Duration) string {
	if math.Abs(float64(d)) < 1 {
		return unit.Significant(float64(d)*1e3, 2) + "\u00a0ms"
	}
	return unit.Significant(float64(d), 3) + "\u00a0s"
}

func span(d time.Duration) string {
	if d < 2*time.Hour {
		return unit.Number(d.Minutes(), 0) + "\u00a0min"
	}
	return unit.Number(d.Hours(), 1) + "\u00a0h"
}

// within is the rate of this computer's count between two answers that span
// most of a time; not set where there are none.
func (k *asker) within(from time.Time, length unit.Duration) meas.Interval[unit.Rate] {
	k.mu.Lock()
	defer k.mu.Unlock()
	var best meas.Interval[unit.Rate]
	for i, a := range k.all {
		if a.When.Before(from.Add(-10 * time.Minute)) {
			continue
		}
		for _, b := range k.all[i+1:] {
			r := hostclock.RateBetween(a, b)
			if b.When.Sub(a.When).Seconds() >= 0.8*float64(length) && r.Set && (!best.Set || r.Half() < best.Half()) {
				best = r
			}
		}
	}
	return best
}

// clockOf is what a run has found of its recorder's clock, by this computer's
// clock as the system keeps it or as time servers have told its rate.
func (l *Live) clockOf(f sampleclock.Fit) sampleclock.Clock {
	l.mu.Lock()
	from := l.began
	l.mu.Unlock()
	return f.By(l.shop.ears.asker.within(from, f.Length))
}
