package web

import (
	"compress/gzip"
	"net/http"
	"strings"
	"sync"
)

// compressed sends pages, styles and drawings packed where the browser can
// unpack them.
func compressed(next http.Handler) http.Handler {
	writers := &sync.Pool{New: func() any { w, _ := gzip.NewWriterLevel(nil, gzip.BestSpeed); return w }}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Add("Vary", "Accept-Encoding")
		if !strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") || r.Method == http.MethodHead {
			next.ServeHTTP(w, r)
			return
		}
		p := &packer{ResponseWriter: w, pool: writers}
		defer p.close()
		next.ServeHTTP(p, r)
	})
}

// packer decides at the first byte whether the answer is worth packing.
type packer struct {
	http.ResponseWriter
	pool    *sync.Pool
	zip     *gzip.Writer
	decided bool
}

func (p *packer) WriteHeader(code int) {
	p.decide(code)
	p.ResponseWriter.WriteHeader(code)
}

func (p *packer) decide(code int) {
	if p.decided {
		return
	}
	p.decided = true
	h := p.Header()
	if code == http.StatusNoContent || code == http.StatusNotModified || h.Get("Content-Encoding") != "" || !packable(h.Get("Content-Type")) {
		return
	}
	h.Del("Content-Length")
	h.Set("Content-Encoding", "gzip")
	p.zip = p.pool.Get().(*gzip.Writer)
	p.zip.Reset(p.ResponseWriter)
}

func packable(contentType string) bool {
	if strings.HasPrefix(contentType, "text/event-stream") {
		return false // it is sent line by line
	}
	for _, t := range []string{"text/", "image/svg", "application/json", "application/javascript"} {
		if strings.HasPrefix(contentType, t) {
			return true
		}
	}
	return false
}

func (p *packer) Write(b []byte) (int, error) {
	if !p.decided {
		if p.Header().Get("Content-Type") == "" {
			p.Header().Set("Content-Type", http.DetectContentType(b))
		}
		p.WriteHeader(http.StatusOK)
	}
	if p.zip != nil {
		return p.zip.Write(b)
	}
	return p.ResponseWriter.Write(b)
}

func (p *packer) close() {
	if p.zip != nil {
		_ = p.zip.Close() // the connection is gone if this fails
		p.pool.Put(p.zip)
	}
}

// Unwrap lets http.ResponseController reach the connection.
func (p *packer) Unwrap() http.ResponseWriter { return p.ResponseWriter }
