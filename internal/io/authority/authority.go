package authority

import (
	"crypto"
	"crypto/ecdsa"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"encoding/pem"
	"fmt"
	"math/big"
	"net"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

const (
	rootLasts = 10 * 365 * 24 * time.Hour
	rootLeast = 365 * 24 * time.Hour // below it is time for a new one
	leafLasts = 30 * 24 * time.Hour
	leafLeast = 10 * 24 * time.Hour
	backDated = 24 * time.Hour // for phones whose clock is behind
	lookAgain = 5 * time.Second
)

// Options of an authority.
type Options struct {
	Dir   string                // of the keys; made where it is not there
	Reach func() (Reach, error) // how the computer is reached now; [Here] outside tests
	Now   func() time.Time      // the clock on the wall
	Fresh bool                  // take the root that is there out of use and make a new one
}

// Authority vouches for the shop's computer. It may be used from several
// goroutines.
type Authority struct {
	key    *ecdsa.PrivateKey
	root   *x509.Certificate
	before *x509.Certificate
	reach  func() (Reach, error)
	now    func() time.Time

	mu     sync.Mutex
	here   Reach
	looked time.Time // when here was looked up
	leaf   *tls.Certificate
}

// Open opens the authority kept in a folder, and makes it where there is
// none. It fails with *FileError where the folder cannot be trusted.
func Open(o Options) (*Authority, error) {
	here, err := o.Reach()
	if err != nil {
		return nil, err
	}
	if err := makeDir(o.Dir); err != nil {
		return nil, err
	}
	if o.Fresh {
		if err := putAway(o.Dir); err != nil {
			return nil, err
		}
	}
	a := &Authority{reach: o.Reach, now: o.Now}
	if a.key, _, err = loadKey(o.Dir); err != nil {
		return nil, err
	}
	path := filepath.Join(o.Dir, rootFile)
	if a.root, err = loadRoot(path); err != nil {
		return nil, err
	}
	if a.root == nil {
		if a.root, err = makeRoot(path, a.key, here.Name, o.Now()); err != nil {
			return nil, err
		}
	}
	if !a.key.PublicKey.Equal(a.root.PublicKey) {
		return nil, &FileError{path, "the key beside it is of another certificate", "Put the right one back, or make a new certificate with --new-certificate and install that on the phones"}
	}
	if a.before, err = loadRoot(filepath.Join(o.Dir, beforeFile)); err != nil {
		return nil, err
	}
	_, err = a.certificate()
	return a, err
}

// Root is the certificate that a phone has to trust.
func (a *Authority) Root() *x509.Certificate { return a.root }

// Before is the root that was in use before, nil where there was none. A
// phone goes on trusting it until it is deleted there by hand.
func (a *Authority) Before() *x509.Certificate { return a.before }

// Ending tells whether the root has less than a year left.
func (a *Authority) Ending() bool { return a.root.NotAfter.Sub(a.now()) < rootLeast }

// Names tells whether the root may vouch for the name the computer has now;
// where not, the addresses are what is left.
func (a *Authority) Names() bool { return a.vouches(a.Here().Name) }

func (a *Authority) vouches(name string) bool {
	for _, d := range a.root.PermittedDNSDomains {
		if strings.EqualFold(d, name) {
			return true
		}
	}
	return false
}

// Fingerprint is the SHA-256 of a certificate as eight groups of eight
// figures, to be compared by eye.
func Fingerprint(c *x509.Certificate) string {
	sum := sha256.Sum256(c.Raw)
	text := strings.ToUpper(hex.EncodeToString(sum[:]))
	groups := make([]string, 0, 8)
	for ; text != ""; text = text[8:] {
		groups = append(groups, text[:8])
	}
	return strings.Join(groups, " ")
}

// Here is how the computer is reached now; it is looked up at most every five
// seconds. Where it cannot be, what was found last stands.
func (a *Authority) Here() Reach {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.look()
	return a.here
}

// look brings here up to date and drops a certificate that is not of now.
func (a *Authority) look() {
	now := a.now()
	if age := now.Sub(a.looked); a.here.Name == "" || age >= lookAgain || age < 0 {
		if r, err := a.reach(); err == nil {
			if !r.equal(a.here) {
				a.leaf = nil
			}
			a.here, a.looked = r, now
		}
	}
	if a.leaf != nil && (a.leaf.Leaf.NotAfter.Sub(now) < leafLeast || now.Before(a.leaf.Leaf.NotBefore)) {
		a.leaf = nil
	}
}

// TLS is how the computer speaks https: with the certificate of now.
func (a *Authority) TLS() *tls.Config {
	return &tls.Config{
		MinVersion: tls.VersionTLS12,
		NextProtos: []string{"h2", "http/1.1"},
		GetCertificate: func(*tls.ClientHelloInfo) (*tls.Certificate, error) {
			return a.certificate()
		},
	}
}

// certificate is that of now.
func (a *Authority) certificate() (*tls.Certificate, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	a.look()
	if a.leaf == nil {
		leaf, err := a.makeLeaf()
		if err != nil {
			return nil, err
		}
		a.leaf = leaf
	}
	return a.leaf, nil
}

func (a *Authority) makeLeaf() (*tls.Certificate, error) {
	now := a.now()
	t := &x509.Certificate{
		Subject:     pkix.Name{CommonName: "Seatboard on " + a.here.Name},
		NotBefore:   now.Add(-backDated),
		NotAfter:    earlier(now.Add(leafLasts-backDated), a.root.NotAfter),
		KeyUsage:    x509.KeyUsageDigitalSignature,
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth},
		DNSNames:    []string{"localhost"},
	}
	if a.vouches(a.here.Name) {
		t.DNSNames = append(t.DNSNames, a.here.Name)
	}
	for _, ip := range a.here.Addresses {
		t.IPAddresses = append(t.IPAddresses, net.IP(ip.WithZone("").AsSlice()))
	}
	key, err := ecdsa.GenerateKey(a.key.Curve, rand.Reader)
	if err != nil {
		return nil, fmt.Errorf("authority: %w", err)
	}
	leaf, err := sign(t, a.root, key.Public(), a.key)
	if err != nil {
		return nil, err
	}
	return &tls.Certificate{Certificate: [][]byte{leaf.Raw}, PrivateKey: key, Leaf: leaf}, nil
}

// makeRoot makes the root and keeps it.
func makeRoot(path string, key *ecdsa.PrivateKey, name string, now time.Time) (*x509.Certificate, error) {
	t := &x509.Certificate{
		Subject:                     pkix.Name{CommonName: "Seatboard, only for " + name},
		NotBefore:                   now.Add(-backDated),
		NotAfter:                    now.Add(rootLasts),
		KeyUsage:                    x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		BasicConstraintsValid:       true,
		IsCA:                        true,
		MaxPathLenZero:              true,
		PermittedDNSDomainsCritical: true,
		PermittedDNSDomains:         []string{name, "localhost"},
		PermittedIPRanges:           privateRanges(),
	}
	root, err := sign(t, t, key.Public(), key)
	if err != nil {
		return nil, err
	}
	return root, writeNew(path, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: root.Raw}))
}

func sign(t, parent *x509.Certificate, public crypto.PublicKey, by *ecdsa.PrivateKey) (*x509.Certificate, error) {
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127))
	if err != nil {
		return nil, fmt.Errorf("authority: %w", err)
	}
	t.SerialNumber = serial
	der, err := x509.CreateCertificate(rand.Reader, t, parent, public, by)
	if err != nil {
		return nil, fmt.Errorf("authority: %w", err)
	}
	c, err := x509.ParseCertificate(der)
	if err != nil {
		return nil, fmt.Errorf("authority: %w", err)
	}
	return c, nil
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}
