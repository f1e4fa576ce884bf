package shop

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"math/big"
	"strings"
	"sync"
	"time"

	"seatboard/internal/book/device"
	"seatboard/internal/io/store"
	"seatboard/internal/kit/meas"
)

// The rules of a pairing code (OWASP ASVS 5.0, 6.5 and 6.6: single use, short
// life, few tries).
const (
	PairingLasts = 2 * time.Minute  // a code; and each step after it was shown
	pairingWatch = 20 * time.Second // how long the computer's page may be silent
	pairingPause = time.Second      // between two typed tries
	PairingTries = 5                // wrong ones, after which a typed code is burnt
	typedLength  = 8
)

// typedLetters are those of a typed code: five bits each, none that looks like
// another.
const typedLetters = "23456789ABCDEFGHJKLMNPQRSTUVWXYZ"

// PairingStep is how far a pairing has come.
type PairingStep string

// The steps.
const (
	NoCode    PairingStep = ""           // none was asked for, or it is over
	CodeShown PairingStep = "code-shown" // the computer shows a code
	Asking    PairingStep = "asking"     // a phone has given it and waits
	LetIn     PairingStep = "let-in"     // confirmed on the computer
	Paired    PairingStep = "paired"     // the phone has fetched its key
	Burnt     PairingStep = "burnt"      // too many wrong codes
	Ended     PairingStep = "ended"      // its time is over
	Refused   PairingStep = "refused"    // turned away on the computer
)

// PairingState is what the computer's page shows.
type PairingState struct {
	Step   PairingStep
	Token  string        // 128 bits, for the fragment of the address; while the code is shown
	Typed  string        // 40 bits, to be typed; while the code is shown
	Left   time.Duration // of this step
	Name   string        // of the phone that asks
	Digits string        // four, shown on both screens
}

// Pairing lets phones into the shop, one at a time. It may be used from
// several goroutines. Nothing of it is kept but the device in the end.
type Pairing struct {
	shop *Shop
	root string

	mu      sync.Mutex
	state   PairingState
	ends    time.Time
	watched time.Time // when the computer's page last looked
	wrong   int
	tried   time.Time
	claim   string // by which the phone that asks is known
}

// NewPairing begins with no code. root is the fingerprint of the certificate
// that phones are let in under, "" without https.
func (s *Shop) NewPairing(root string) *Pairing { return &Pairing{shop: s, root: root} }

// Begin makes a code; one that stood before is void.
func (p *Pairing) Begin() (PairingState, error) {
	typed := make([]byte, typedLength)
	for i := range typed {
		n, err := rand.Int(rand.Reader, big.NewInt(int64(len(typedLetters))))
		if err != nil {
			return PairingState{}, err
		}
		typed[i] = typedLetters[n.Int64()]
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.shop.now()
	p.state = PairingState{Step: CodeShown, Token: rand.Text(), Typed: string(typed)}
	p.ends, p.watched, p.wrong, p.tried, p.claim = now.Add(PairingLasts), now, 0, time.Time{}, ""
	return p.told(now), nil
}

// Watch is what the computer's page shows now. While nobody watches, no code
// is taken.
func (p *Pairing) Watch() PairingState {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.shop.now()
	p.look(now)
	p.watched = now
	return p.told(now)
}

func (p *Pairing) told(now time.Time) PairingState {
	st := p.state
	st.Left = max(0, p.ends.Sub(now))
	return st
}

// look ends what has lasted too long.
func (p *Pairing) look(now time.Time) {
	switch p.state.Step {
	case CodeShown:
		if !now.Before(p.ends) || now.Sub(p.watched) > pairingWatch {
			p.state = PairingState{Step: Ended}
		}
	case Asking, LetIn:
		if !now.Before(p.ends) {
			p.state, p.claim = PairingState{Step: Ended}, ""
		}
	}
}

var (
	errCodeGone = &Problem{Code: Gone, Message: "This code does not count any more.", Hint: "It is good for two minutes and for one phone, while its page is open on the computer. Show a new one there."}
	errCodeSoon = &Problem{Code: TooOften, Message: "One try a second.", Hint: "Wait a moment and press the button once more."}
	errNoAsking = &Problem{Code: Gone, Message: "No phone is asking any more.", Hint: "Show a new code and begin again."}
)

// Ask is a phone that gives the code, out of the picture or typed, and says
// its name. It is known by the claim from then on, and both screens show the
// digits. The code is used up.
func (p *Pairing) Ask(given, name string) (claim, digits string, err error) {
	d := device.Device{Name: strings.TrimSpace(name), Key: device.Digest("")}
	faults := d.Check()
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.shop.now()
	if p.look(now); p.state.Step != CodeShown {
		return "", "", errCodeGone
	}
	if len(faults) > 0 {
		return "", "", &Problem{Code: BadInput, Message: "There is a problem with what was entered.", Fields: faults}
	}
	if err := p.right(given, now); err != nil {
		return "", "", err
	}
	n, err := rand.Int(rand.Reader, big.NewInt(10000))
	if err != nil {
		return "", "", err
	}
	digits = (n.Add(n, big.NewInt(10000))).String()[1:]
	p.claim = rand.Text()
	p.state = PairingState{Step: Asking, Name: d.Name, Digits: digits}
	p.ends = now.Add(PairingLasts)
	return p.claim, digits, nil
}

// right tells whether the code is the one shown. A wrong one out of a picture
// is an old one; wrong typed ones are counted.
func (p *Pairing) right(given string, now time.Time) error {
	if len(given) == len(p.state.Token) {
		if !same(given, p.state.Token) {
			return errCodeGone
		}
		return nil
	}
	if since := now.Sub(p.tried); since >= 0 && since < pairingPause {
		return errCodeSoon
	}
	p.tried = now
	if same(plainCode(given), p.state.Typed) {
		return nil
	}
	if p.wrong++; p.wrong >= PairingTries {
		p.state = PairingState{Step: Burnt}
		return errCodeGone
	}
	return &Problem{Code: BadInput, Message: "There is a problem with what was entered.",
		Fields: meas.Faults{{Field: "code", Text: "This is not the code on the computer’s screen"}}}
}

// plainCode is a typed code without spaces and dashes, in capitals.
func plainCode(typed string) string {
	return strings.Map(func(r rune) rune {
		if r == ' ' || r == '-' || r == '\u00a0' {
			return -1
		}
		return r
	}, strings.ToUpper(typed))
}

func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// Confirm lets the phone in that shows these digits, or turns it away.
func (p *Pairing) Confirm(digits string, yes bool) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.shop.now()
	if p.look(now); p.state.Step != Asking || !same(digits, p.state.Digits) {
		return errNoAsking
	}
	if !yes {
		p.state, p.claim = PairingState{Step: Refused}, ""
		return nil
	}
	p.state.Step, p.ends = LetIn, now.Add(PairingLasts)
	return nil
}

// Claimed is how far the phone has come that holds the claim; every other one
// hears that it is over.
func (p *Pairing) Claimed(claim string) PairingState {
	p.mu.Lock()
	defer p.mu.Unlock()
	now := p.shop.now()
	p.look(now)
	if p.claim == "" || !same(claim, p.claim) {
		return PairingState{Step: Ended}
	}
	return p.told(now)
}

// Finish gives a phone that was let in its key, once, and writes the device
// down. by is who let it in.
func (p *Pairing) Finish(ctx context.Context, by, claim string) (key string, err error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.look(p.shop.now()); p.state.Step != LetIn || !same(claim, p.claim) {
		return "", errNoAsking
	}
	var b [32]byte
	if _, err := rand.Read(b[:]); err != nil {
		return "", err
	}
	key = hex.EncodeToString(b[:])
	err = p.shop.store.Update(ctx, by, func(tx *store.Tx) error {
		_, err := tx.AddDevice(device.Device{Name: p.state.Name, Key: device.Digest(key), Root: p.root})
		return err
	})
	if err != nil {
		return "", explain(err)
	}
	p.state, p.claim = PairingState{Step: Paired, Name: p.state.Name}, ""
	return key, nil
}
