package shop

import (
	"context"
	"errors"
	"fmt"
	"io"
	"regexp"
	"sync"
	"time"

	"seatboard/internal/book/parts"
	"seatboard/internal/book/picture"
	"seatboard/internal/io/blob"
	"seatboard/internal/io/store"
)

// Limits of photographs on their way.
const (
	mostUploads = 64 // at once, of all who send
	uploadIdle  = time.Hour
)

// UploadAsk is a photograph that is about to be sent in pieces.
type UploadAsk struct {
	ID     string // made by who sends: 32 hexadecimal digits, the same for every try
	Name   string
	Size   int64  // bytes
	SHA256 string // of the whole file, as the sender reckoned it
	PhotoAsk
}

// UploadState is how far a photograph has come.
type UploadState struct {
	At    int64      // bytes that are here; the next piece begins there
	Safe  bool       // it is on the disk and in the book
	Photo TakenPhoto // of a safe one
}

// uploads are the photographs on their way.
type uploads struct {
	mu  sync.Mutex
	all map[string]*upload
}

// upload is one of them; touched belongs to the list's lock, the rest to its
// own.
type upload struct {
	touched time.Time

	mu    sync.Mutex
	ask   UploadAsk
	file  *blob.Growing
	taken *TakenPhoto // once it is safe
}

var (
	uploadForm = regexp.MustCompile(`^[0-9a-f]{32}$`)
	sumForm    = regexp.MustCompile(`^[0-9a-f]{64}$`)

	errUpload = &Problem{Code: NotFound, Message: "Nothing is known of this photograph.", Hint: "It is sent anew from its beginning."}
)

// check says what is wrong with a photograph before a byte of it is sent.
func (a UploadAsk) check() error {
	name := picture.CleanName(a.Name)
	switch {
	case !uploadForm.MatchString(a.ID) || !sumForm.MatchString(a.SHA256):
		return &Problem{Code: BadInput, Message: "What was sent is not an upload of this page.", Hint: "Load the page again and choose the photograph once more."}
	case a.Size <= 0:
		return emptyPhoto(name)
	case a.Size > picture.MaxBytes:
		return largePhoto(name)
	}
	return nil
}

func emptyPhoto(name string) *Problem {
	return &Problem{Code: BadInput, Message: name + " is empty.", Hint: "Take the photograph again, or choose another."}
}

func largePhoto(name string) *Problem {
	return &Problem{Code: TooLarge, Message: fmt.Sprintf("%s is larger than %d MB.", name, picture.MaxBytes>>20), Hint: "It was not taken in. Let the camera save it smaller."}
}

// BeginUpload begins a photograph, or goes on with it where it was cut off.
// Where its very content is here already it is safe at once.
func (s *Shop) BeginUpload(ctx context.Context, by string, ask UploadAsk) (UploadState, error) {
	if err := ask.check(); err != nil {
		return UploadState{}, err
	}
	u, err := s.uploads.begin(ask, s.now())
	if err != nil {
		return UploadState{}, err
	}
	u.mu.Lock()
	defer u.mu.Unlock()
	if u.taken != nil {
		return UploadState{At: ask.Size, Safe: true, Photo: *u.taken}, nil
	}
	here, err := s.takeHere(ctx, by, ask)
	if err == nil {
		u.taken = &here
		return UploadState{At: ask.Size, Safe: true, Photo: here}, nil
	}
	if !errors.Is(err, store.ErrNoPhoto) {
		return UploadState{}, explainPhoto(err)
	}
	if u.file == nil {
		if u.file, err = s.ears.files.Grow(ask.Size); err != nil {
			return UploadState{}, explain(err)
		}
	}
	return UploadState{At: u.file.Size()}, nil
}

// takeHere takes a photograph whose file is here, whole, for another clock or
// another part; the error is store.ErrNoPhoto where it is not.
func (s *Shop) takeHere(ctx context.Context, by string, ask UploadAsk) (TakenPhoto, error) {
	var p picture.Photo
	err := s.store.View(ctx, func(tx *store.Tx) (err error) { p, err = tx.PhotoOfSum(ask.SHA256); return err })
	if err != nil {
		return TakenPhoto{}, err
	}
	if whole, err := s.ears.files.Whole(ctx, ask.SHA256); err != nil || !whole || p.Size != ask.Size {
		return TakenPhoto{}, errors.Join(err, store.ErrNoPhoto)
	}
	found := picture.Photo{SHA256: p.SHA256, Size: p.Size, Kind: p.Kind, Name: picture.CleanName(ask.Name), Width: p.Width, Height: p.Height,
		Orientation: p.Orientation, Taken: p.Taken, Small: p.Small, Why: p.Why}
	if found.UID, err = newUID(); err != nil {
		return TakenPhoto{}, err
	}
	t, err := s.enter(ctx, by, found, ask.PhotoAsk)
	t.Again = true
	return t, err
}

// AppendUpload adds a piece that begins at a place; the state says how much is
// here, also with an error.
func (s *Shop) AppendUpload(ctx context.Context, id string, at int64, r io.Reader) (UploadState, error) {
	u, err := s.uploads.find(id, s.now())
	if err != nil {
		return UploadState{}, err
	}
	u.mu.Lock()
	file, taken, name := u.file, u.taken, picture.CleanName(u.ask.Name)
	u.mu.Unlock()
	if taken != nil {
		return UploadState{At: taken.Size, Safe: true, Photo: *taken}, nil
	}
	if file == nil {
		return UploadState{}, errUpload
	}
	size, err := file.Append(ctx, at, r)
	switch {
	case errors.Is(err, blob.ErrPlace):
		err = &Problem{Code: Conflict, Message: fmt.Sprintf("Of %s %d bytes are here.", name, size), Hint: "The next piece begins there.", cause: err}
	case errors.Is(err, blob.ErrTooLarge):
		err = &Problem{Code: BadInput, Message: name + " is longer than it was said to be.", Hint: "Choose it once more.", cause: err}
	case errors.Is(err, blob.ErrNotFound):
		err = errUpload
	}
	return UploadState{At: size}, explain(err)
}

// FinishUpload holds a photograph that came in pieces against its SHA-256,
// brings it to the disk and puts it into the book; only then it is safe. It
// may be asked again.
func (s *Shop) FinishUpload(ctx context.Context, by, id string) (UploadState, error) {
	u, err := s.uploads.find(id, s.now())
	if err != nil {
		return UploadState{}, err
	}
	u.mu.Lock()
	defer u.mu.Unlock()
	if u.taken == nil {
		err = s.finish(ctx, by, u)
	}
	if err != nil {
		return UploadState{}, err
	}
	return UploadState{At: u.ask.Size, Safe: true, Photo: *u.taken}, nil
}

func (s *Shop) finish(ctx context.Context, by string, u *upload) error {
	if u.file == nil {
		return errUpload
	}
	if n := u.file.Size(); n != u.ask.Size {
		return &Problem{Code: Conflict, Message: fmt.Sprintf("Of %s %d of %d bytes are here.", picture.CleanName(u.ask.Name), n, u.ask.Size), Hint: "The rest is sent first."}
	}
	held, err := u.file.Hold(ctx)
	if errors.Is(err, blob.ErrNotFound) {
		err = errUpload
	}
	if err != nil {
		return explain(err)
	}
	u.file = nil // whatever comes of it, it is begun anew
	defer held.Close()
	if held.Sum() != u.ask.SHA256 {
		return &Problem{Code: Conflict, Message: picture.CleanName(u.ask.Name) + " was damaged on its way.", Hint: "It is sent anew from its beginning."}
	}
	t, err := s.keepPhoto(ctx, by, held, u.ask.Name, u.ask.PhotoAsk)
	if err != nil {
		return err
	}
	u.taken = &t
	s.lookSoon()
	return nil
}

// begin finds the upload of an ID, or makes it; what has not been touched for
// long is let go.
func (a *uploads) begin(ask UploadAsk, now time.Time) (*upload, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	for id, u := range a.all {
		if now.Sub(u.touched) > uploadIdle {
			delete(a.all, id)
			go u.drop()
		}
	}
	u := a.all[ask.ID]
	if u != nil && (u.ask.Size != ask.Size || u.ask.SHA256 != ask.SHA256) {
		return nil, &Problem{Code: BadInput, Message: "Another photograph is on its way under this name.", Hint: "Load the page again and choose the photograph once more."}
	}
	if u == nil {
		if len(a.all) >= mostUploads && !a.forgetSafe() {
			return nil, &Problem{Code: TooOften, Message: "Many photographs are on their way.", Hint: "This one waits for its turn."}
		}
		if a.all == nil {
			a.all = map[string]*upload{}
		}
		u = &upload{ask: ask}
		a.all[ask.ID] = u
	}
	u.touched = now
	return u, nil
}

// forgetSafe forgets the longest safe one and tells whether there was any;
// asked for again it is found by its content.
func (a *uploads) forgetSafe() bool {
	oldest := ""
	for id, u := range a.all {
		if u.mu.TryLock() { // one that is locked is being finished
			safe := u.taken != nil
			u.mu.Unlock()
			if safe && (oldest == "" || u.touched.Before(a.all[oldest].touched)) {
				oldest = id
			}
		}
	}
	delete(a.all, oldest)
	return oldest != ""
}

func (a *uploads) find(id string, now time.Time) (*upload, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	u := a.all[id]
	if u == nil {
		return nil, errUpload
	}
	u.touched = now
	return u, nil
}

func (u *upload) drop() {
	u.mu.Lock()
	defer u.mu.Unlock()
	if u.file != nil {
		_ = u.file.Drop() // what stays is taken away at the next start
		u.file = nil
	}
}

// enter puts the record of a kept file into the book.
func (s *Shop) enter(ctx context.Context, by string, p picture.Photo, ask PhotoAsk) (TakenPhoto, error) {
	p.ClockID, p.Area, p.Stage, p.SameView = ask.Clock, ask.Area, ask.Stage, ask.SameView
	if ask.Part != "" {
		p.Parts = []parts.Number{ask.Part}
	}
	var t TakenPhoto
	err := s.store.Update(ctx, by, func(tx *store.Tx) (err error) {
		t, err = takeInto(tx, p)
		return err
	})
	return t, err
}

// lookSoon has the photographs that wait looked into behind the answer.
func (s *Shop) lookSoon() {
	select {
	case s.wanted <- struct{}{}:
	default:
		return // one that has not begun yet will see it too
	}
	s.behind.Go(func() {
		_ = s.look(s.open, s.wanted) // what it cannot do is tried again with the next photograph
	})
}
