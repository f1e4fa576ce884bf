package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strconv"

	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/shop"
)

// tokenHeader carries the token of a page where the body of a request is a
// piece of a photograph.
const tokenHeader = "Seatboard-Token"

// maxPiece bounds one piece of a photograph, bytes.
const maxPiece = 4 << 20

// uploadAnswer is what the sender of a photograph is told.
type uploadAnswer struct {
	At    int64          `json:"at"`              // bytes that are here
	Safe  bool           `json:"safe,omitempty"`  // on the disk and in the book
	Again bool           `json:"again,omitempty"` // it was here before
	Photo string         `json:"photo,omitempty"` // its page, of a safe one
	HEIC  bool           `json:"heic,omitempty"`  // kept and not shown here
	Wrong *uploadProblem `json:"wrong,omitempty"`
}

// uploadProblem is a problem as the sender is told it.
type uploadProblem struct {
	Code    string `json:"code"`
	Message string `json:"message"` // one or several sentences
}

func uploadAnswerOf(st shop.UploadState) uploadAnswer {
	a := uploadAnswer{At: st.At, Safe: st.Safe}
	if st.Safe {
		a.Again, a.Photo, a.HEIC = st.Photo.Again, "/photos/"+st.Photo.UID, st.Photo.Kind == picture.HEIC
	}
	return a
}

// staleToken is the code of a page from before the program was last started.
const staleToken = "stale"

// uploading answers a step of an upload as JSON, problems too.
func (s *Server) uploading(step func(*http.Request) (shop.UploadState, error)) handler {
	return func(w http.ResponseWriter, r *http.Request) error {
		status, a := http.StatusOK, uploadAnswer{}
		token := r.Header.Get(tokenHeader)
		if !s.tokens.accepts(r, token) {
			status, a.Wrong = http.StatusForbidden, &uploadProblem{staleToken, "The page was open from before Seatboard was last started."}
		} else {
			st, err := step(r)
			a = uploadAnswerOf(st)
			if err != nil {
				p := shop.AsProblem(err)
				if p.Code == shop.Internal && r.Context().Err() == nil {
					s.Log.Error("upload failed", "path", r.URL.Path, "err", err)
				}
				status, a.Wrong = statuses[p.Code], &uploadProblem{string(p.Code), wordsOf(p)}
			}
		}
		w.Header().Set("Content-Type", "application/json")
		w.WriteHeader(status)
		_ = json.NewEncoder(w).Encode(a) // the sender is gone if this fails; it asks again
		return nil
	}
}

// beginUpload begins a photograph that is sent in pieces, or goes on with it.
func (s *Server) beginUpload(r *http.Request) (shop.UploadState, error) {
	if err := r.ParseForm(); err != nil {
		return shop.UploadState{}, &shop.Problem{Code: shop.BadInput, Message: "What was sent could not be read as a form.", Hint: "Load the page again."}
	}
	f := r.PostForm
	size, _ := strconv.ParseInt(f.Get("size"), 10, 64) // 0 is refused as empty
	clock, _ := strconv.ParseInt(f.Get("clock"), 10, 64)
	return s.Shop.BeginUpload(r.Context(), s.by(r), shop.UploadAsk{
		ID: f.Get("id"), Name: f.Get("name"), Size: size, SHA256: f.Get("sha256"),
		PhotoAsk: shop.PhotoAsk{Clock: clock, Part: parts.Number(f.Get("part")), Stage: picture.Stage(f.Get("stage")), Area: f.Get("area"), SameView: f.Get("same")},
	})
}

func (s *Server) appendUpload(r *http.Request) (shop.UploadState, error) {
	at, err := strconv.ParseInt(r.URL.Query().Get("at"), 10, 64)
	if err != nil || at < 0 {
		return shop.UploadState{}, errNoPage
	}
	body := &told{r: r.Body}
	st, err := s.Shop.AppendUpload(r.Context(), r.PathValue("upload"), at, body)
	var large *http.MaxBytesError
	switch {
	case errors.As(body.err, &large):
		err = &shop.Problem{Code: shop.TooLarge, Message: fmt.Sprintf("A piece of a photograph has at most %d MB.", maxPiece>>20), Hint: "Load the page again."}
	case body.err != nil && err != nil:
		err = &shop.Problem{Code: shop.Conflict, Message: "The sending broke off.", Hint: "What came stays; the next piece begins there."}
	}
	return st, err
}

// told is a reader that remembers what went wrong, to tell the sender's
// trouble from that of the disk.
type told struct {
	r   io.Reader
	err error
}

func (t *told) Read(p []byte) (int, error) {
	n, err := t.r.Read(p)
	if err != nil && !errors.Is(err, io.EOF) {
		t.err = err
	}
	return n, err
}

func (s *Server) finishUpload(r *http.Request) (shop.UploadState, error) {
	return s.Shop.FinishUpload(r.Context(), s.by(r), r.PathValue("upload"))
}
