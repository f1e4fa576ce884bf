package web

import (
	"context"
	"errors"
	"net/http"
	"runtime"
	"time"

	"seatboard/internal/book/readings"
	"seatboard/internal/io/mic"
	"seatboard/internal/kit/meas"
	"seatboard/internal/shop"
)

// ownView is what this computer itself can record from, or the commands that
// do it instead.
type ownView struct {
	Devices []mic.Device
	Advice  []mic.Command
}

// ownMicrophones looks for microphones of this computer that can be used.
func ownMicrophones(ctx context.Context) ownView {
	ctx, cancel := context.WithTimeout(ctx, time.Second)
	defer cancel()
	all, err := mic.List(ctx)
	var v ownView
	for _, d := range all {
		if !d.Bluetooth && !d.Monitor {
			v.Devices = append(v.Devices, d)
		}
	}
	if err != nil || len(v.Devices) == 0 {
		v.Advice = mic.Advice(runtime.GOOS)
	}
	return v
}

// listenOwn begins to listen by this computer's own microphone. The run
// belongs to the program: it goes on when the page is closed.
func (s *Server) listenOwn(w http.ResponseWriter, r *http.Request) error {
	id, err := s.beginOwn(r)
	var faults meas.Faults
	if errors.As(err, &faults) {
		return s.listenPage(w, r, http.StatusUnprocessableEntity, r.PostForm, faults, nil)
	}
	if p := shop.AsProblem(err); err != nil && p.Code != shop.Internal {
		return s.listenPage(w, r, statuses[p.Code], r.PostForm, p.Fields, p)
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, jobPath(id), http.StatusSeeOther)
	return nil
}

func (s *Server) beginOwn(r *http.Request) (id string, err error) {
	q, err := s.heardOf(r.Context(), s.by(r), r.PostForm)
	if err != nil {
		return "", err
	}
	var chosen mic.Device
	for _, d := range ownMicrophones(r.Context()).Devices {
		if chosen.ID == "" || d.ID == r.PostForm.Get("device") {
			chosen = d
		}
	}
	if chosen.ID == "" {
		return "", &shop.Problem{Code: shop.NotFound, Message: "This computer has no microphone that the program can reach.", Hint: "Plug one in, or use one of the commands below."}
	}
	capture, err := mic.Open(context.WithoutCancel(r.Context()), chosen)
	if err != nil {
		return "", &shop.Problem{Code: shop.Conflict, Message: "The microphone “" + chosen.Name + "” cannot be used.", Hint: micWords(err)}
	}
	q.Path, q.Source, q.Device = readings.Own, chosen.Name, chosen.ID
	run, err := s.Shop.StartLive(shop.LiveOptions{ListenQuery: q, Rate: capture.Rate(), Sound: r.PostForm.Get("sound") == "yes"})
	if err != nil {
		return "", errors.Join(err, capture.Close())
	}
	go s.feedOwn(capture, run)
	return run.ID(), nil
}

// micWords is what is wrong with a microphone, to be shown.
func micWords(err error) string {
	switch {
	case errors.Is(err, mic.ErrMuted):
		return "It is muted: unmute it in the sound settings of the system."
	case errors.Is(err, mic.ErrBluetooth):
		return "It sends by radio. Use one with a wire, or the computer’s own."
	}
	return "Look whether another program has it, and begin again."
}

// feedOwn hands the sound on until either side ends. A break after which the
// count is not known begins a new capture.
func (s *Server) feedOwn(c *mic.Capture, run *shop.Live) {
	defer c.Close()
	over := make(chan struct{})
	defer close(over)
	go func() {
		select {
		case <-s.closing:
			_ = c.Close() // it may be closed more than once
		case <-over:
		}
	}()
	part := make([]float32, int(c.Rate()/10))
	at := shop.Stamp{Capture: 1}
	seen := 0
	for {
		n, err := c.ReadFloat(part)
		gaps := c.Gaps()
		for ; seen < len(gaps) && gaps[seen].Frame < at.First+int64(n); seen++ {
			if gaps[seen].Frames == 0 {
				at.Capture++
			}
		}
		if n > 0 && run.Write(part[:n], at) != nil {
			return // the run has ended
		}
		at.First += int64(n)
		if err != nil {
			s.Log.Info("the microphone has ended", "err", err)
			_ = run.Close() // it never fails
			return
		}
	}
}
