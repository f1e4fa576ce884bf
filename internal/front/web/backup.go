package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"time"

	"seatboard/internal/shop"
)

// backupView says what a backup has in it.
type backupView struct {
	Clocks, Files, Size, Name string
	Missing                   string // files that are not there, "" for none
}

// backup says what would be in a backup.
func (s *Server) backup(w http.ResponseWriter, r *http.Request) error {
	h, err := s.Shop.Holding(r.Context())
	if err != nil {
		return err
	}
	v := backupView{
		Clocks: many(h.Clocks, "clock"), Files: many(h.Files, "file"),
		Size: fmt.Sprintf("%.1f MB", float64(h.Bytes)/1e6), Name: "shop-" + time.Now().Format(time.DateOnly) + ".zip",
	}
	if h.Missing > 0 {
		v.Missing = many(h.Missing, "file")
	}
	return s.render(w, r, http.StatusOK, "backup", frame{Title: "Backup", Place: "clocks", View: v})
}

// many is "no clocks", "1 clock", "12 clocks".
func many(n int, one string) string {
	switch n {
	case 0:
		return "no " + one + "s"
	case 1:
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// backupTime is how long a download may take.
const backupTime = 12 * time.Hour

// sendBackup streams a backup. What goes wrong on the way breaks the download
// off, so that the browser does not take it for whole.
func (s *Server) sendBackup(w http.ResponseWriter, r *http.Request) error {
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(backupTime)) // not all connections have one
	out := &begun{w: w, name: r.PathValue("file")}
	err := s.Shop.WriteBackup(r.Context(), out)
	if err == nil || !out.yes {
		return err
	}
	if p := shop.AsProblem(err); !errors.Is(err, context.Canceled) {
		s.Log.Error("backup broken off", "message", p.Message, "err", err)
	}
	panic(http.ErrAbortHandler)
}

// begun is a download that says what it is when its first byte comes.
type begun struct {
	w    http.ResponseWriter
	name string
	yes  bool
}

func (b *begun) Write(p []byte) (int, error) {
	if !b.yes {
		b.yes = true
		b.w.Header().Set("Content-Type", "application/zip")
		b.w.Header().Set("Content-Disposition", attachment(b.name))
	}
	return b.w.Write(p)
}
