package authority

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"errors"
	"net"
	"net/netip"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// bench is a computer of which a test sets the clock and the network.
type bench struct {
	now   time.Time
	reach Reach
	dir   string
}

func newBench(t *testing.T) *bench {
	return &bench{time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC),
		Reach{"werkstatt.local", []netip.Addr{netip.MustParseAddr("127.0.0.1"), netip.MustParseAddr("192.168.1.5"), netip.MustParseAddr("fd00::5")}},
		filepath.Join(t.TempDir(), "shop-keys")}
}

func (b *bench) open(fresh bool) (*Authority, error) {
	return Open(Options{Dir: b.dir, Fresh: fresh, Now: func() time.Time { return b.now }, Reach: func() (Reach, error) { return b.reach, nil }})
}

func (b *bench) must(t *testing.T, fresh bool) *Authority {
	t.Helper()
	a, err := b.open(fresh)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func leafOf(t *testing.T, a *Authority) *x509.Certificate {
	t.Helper()
	c, err := a.TLS().GetCertificate(nil)
	if err != nil {
		t.Fatal(err)
	}
	return c.Leaf
}

// forged is a certificate for any names, signed by the root's key as a thief
// would, and by an intermediate where one is given.
func forged(t *testing.T, parent *x509.Certificate, by *ecdsa.PrivateKey, ca bool, names ...string) (*x509.Certificate, *ecdsa.PrivateKey) {
	t.Helper()
	now := time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)
	c := &x509.Certificate{Subject: pkix.Name{CommonName: "anybody"}, NotBefore: now.Add(-time.Hour), NotAfter: now.Add(time.Hour),
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}, BasicConstraintsValid: ca, IsCA: ca}
	if ca {
		c.KeyUsage = x509.KeyUsageCertSign
	}
	for _, n := range names {
		if ip := net.ParseIP(n); ip != nil {
			c.IPAddresses = append(c.IPAddresses, ip)
		} else {
			c.DNSNames = append(c.DNSNames, n)
		}
	}
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	out, err := sign(c, parent, key.Public(), by)
	if err != nil {
		t.Fatal(err)
	}
	return out, key
}

func pemFile(t *testing.T, c *x509.Certificate) string {
	path := filepath.Join(t.TempDir(), "c.pem")
	if err := os.WriteFile(path, pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: c.Raw}), 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestCAConstraints: what the root vouches for, and what it cannot, by Go and
// by OpenSSL.
func TestCAConstraints(t *testing.T) {
	b := newBench(t)
	a := b.must(t, false)
	root := a.Root()
	if !root.IsCA || root.MaxPathLen != 0 || !root.MaxPathLenZero || root.KeyUsage != x509.KeyUsageCertSign|x509.KeyUsageCRLSign || !root.PermittedDNSDomainsCritical {
		t.Errorf("the root may do more than it should: %+v", root)
	}
	if y := root.NotAfter.Sub(b.now).Hours() / 24 / 365; y < 9.9 || y > 10.1 {
		t.Errorf("the root lasts %.1f years", y)
	}
	openssl, err := exec.LookPath("openssl")
	if err != nil {
		t.Log("there is no openssl: only Go was asked")
	}
	roots := x509.NewCertPool()
	roots.AddCert(root)
	for _, c := range []struct {
		name string
		ok   bool
	}{
		{"werkstatt.local", true}, {"sub.werkstatt.local", true}, {"localhost", true}, {"192.168.1.5", true}, {"10.9.8.7", true}, {"172.31.0.1", true}, {"fd12::1", true}, {"127.0.0.1", true},
		{"evil.example", false}, {"mail.google.com", false}, {"werkstatt.local.evil.example", false}, {"other.local", false}, {"8.8.8.8", false}, {"172.32.0.1", false}, {"2001:db8::1", false},
	} {
		leaf, _ := forged(t, root, a.key, false, c.name)
		_, err := leaf.Verify(x509.VerifyOptions{Roots: roots, CurrentTime: b.now, DNSName: bracketed(c.name)})
		if (err == nil) != c.ok {
			t.Errorf("Go, %s: %v, want it accepted: %v", c.name, err, c.ok)
		}
		if openssl != "" {
			if out, err := opensslSays(t, openssl, b.now, root, leaf); (err == nil) != c.ok {
				t.Errorf("OpenSSL, %s: %s, want it accepted: %v", c.name, out, c.ok)
			}
		}
	}
	if openssl != "" {
		if out, err := opensslSays(t, openssl, b.now, root, leafOf(t, a)); err != nil {
			t.Errorf("OpenSSL, what is shown to a phone: %s", out)
		}
	}
	middle, key := forged(t, root, a.key, true, "werkstatt.local")
	leaf, _ := forged(t, middle, key, false, "werkstatt.local")
	between := x509.NewCertPool()
	between.AddCert(middle)
	if _, err := leaf.Verify(x509.VerifyOptions{Roots: roots, Intermediates: between, CurrentTime: b.now}); err == nil {
		t.Error("an authority under the root is accepted")
	}
}

func opensslSays(t *testing.T, openssl string, now time.Time, root, leaf *x509.Certificate) (string, error) {
	out, err := exec.Command(openssl, "verify", "-attime", strconv.FormatInt(now.Unix(), 10), "-CAfile", pemFile(t, root), pemFile(t, leaf)).CombinedOutput()
	return string(out), err
}

func bracketed(name string) string {
	if net.ParseIP(name) != nil {
		return "[" + name + "]"
	}
	return name
}

// TestLeaf: what is shown to a phone holds now, a day ago, and for what the
// computer is called and addressed now; Apple wants a SAN, serverAuth and at
// most 825 days (support.apple.com/103769).
func TestLeaf(t *testing.T) {
	b := newBench(t)
	a := b.must(t, false)
	l := leafOf(t, a)
	roots := x509.NewCertPool()
	roots.AddCert(a.Root())
	for _, behind := range []time.Duration{0, 2 * time.Hour, 23 * time.Hour} {
		for _, name := range []string{"werkstatt.local", "localhost", "[192.168.1.5]", "[127.0.0.1]", "[fd00::5]"} {
			if _, err := l.Verify(x509.VerifyOptions{Roots: roots, CurrentTime: b.now.Add(-behind), DNSName: name}); err != nil {
				t.Errorf("%s, a phone %s behind: %v", name, behind, err)
			}
		}
	}
	if d := l.NotAfter.Sub(l.NotBefore); d > 30*24*time.Hour || len(l.ExtKeyUsage) != 1 || l.ExtKeyUsage[0] != x509.ExtKeyUsageServerAuth {
		t.Errorf("it lasts %s, for %v", d, l.ExtKeyUsage)
	}
	if a.TLS().MinVersion < tls.VersionTLS12 {
		t.Error("old TLS is spoken")
	}
	if leafOf(t, a) != l {
		t.Error("a new one is made without a reason")
	}
	if again := b.must(t, false); !again.Root().Equal(a.Root()) || leafOf(t, again).Equal(l) {
		t.Error("at the next start the root must be the same and the certificate new")
	}
}

// TestRenewal: a new certificate, without a restart, in time and when the
// addresses change.
func TestRenewal(t *testing.T) {
	b := newBench(t)
	a := b.must(t, false)
	first := leafOf(t, a)
	b.now = b.now.Add(18 * 24 * time.Hour)
	if leafOf(t, a) != first {
		t.Error("renewed with eleven days left")
	}
	b.now = b.now.Add(2 * 24 * time.Hour)
	second := leafOf(t, a)
	if second == first || second.NotAfter.Sub(b.now) < 28*24*time.Hour {
		t.Errorf("not renewed with less than ten days left: until %s", second.NotAfter)
	}
	b.now = b.now.Add(31 * 24 * time.Hour)
	third := leafOf(t, a)
	if third == second || b.now.After(third.NotAfter) {
		t.Error("an ended one is shown")
	}
	b.reach.Addresses = []netip.Addr{netip.MustParseAddr("10.0.0.7")}
	if leafOf(t, a) != third {
		t.Error("the network is looked at more often than every five seconds")
	}
	b.now = b.now.Add(6 * time.Second)
	fourth := leafOf(t, a)
	if len(fourth.IPAddresses) != 1 || fourth.IPAddresses[0].String() != "10.0.0.7" || a.Here().First().String() != "10.0.0.7" {
		t.Errorf("a new address is not in the certificate: %v", fourth.IPAddresses)
	}
	b.now = b.now.Add(-365 * 24 * time.Hour)
	if l := leafOf(t, a); b.now.Before(l.NotBefore) {
		t.Error("with the clock set back an unborn certificate is shown")
	}
	b.reach.Name = "other.local"
	b.now = b.now.Add(6 * time.Second)
	if l := leafOf(t, a); a.Names() || slices.Contains(l.DNSNames, "other.local") || slices.Contains(l.DNSNames, "werkstatt.local") {
		t.Errorf("a name that the root does not vouch for: %v", l.DNSNames)
	}
}

// TestCAFiles: the key is for this user alone, and one that is not is
// refused.
func TestCAFiles(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("there are no modes here")
	}
	b := newBench(t)
	a := b.must(t, false)
	for name, want := range map[string]os.FileMode{"": 0o700, keyFile: 0o600, rootFile: 0o600} {
		info, err := os.Stat(filepath.Join(b.dir, name))
		if err != nil || info.Mode().Perm() != want {
			t.Errorf("%q: %v, %v", name, info.Mode(), err)
		}
	}
	for name, spoil := range map[string]func(string) error{
		"folder":  func(string) error { return os.Chmod(b.dir, 0o750) },
		"key":     func(string) error { return os.Chmod(filepath.Join(b.dir, keyFile), 0o640) },
		"root":    func(string) error { return os.Chmod(filepath.Join(b.dir, rootFile), 0o644) },
		"garbage": func(string) error { return os.WriteFile(filepath.Join(b.dir, keyFile), []byte("no key"), 0o600) },
		"no key":  func(string) error { return os.Remove(filepath.Join(b.dir, keyFile)) },
		"link": func(d string) error {
			other := filepath.Join(d, "elsewhere")
			return errors.Join(os.Rename(filepath.Join(b.dir, keyFile), other), os.Symlink(other, filepath.Join(b.dir, keyFile)))
		},
		"other key": func(string) error {
			p := filepath.Join(b.dir, keyFile)
			if err := os.Remove(p); err != nil {
				return err
			}
			_, err := makeKey(p)
			return err
		},
	} {
		b.dir = filepath.Join(t.TempDir(), "keys")
		b.must(t, false)
		if err := spoil(t.TempDir()); err != nil {
			t.Fatal(err)
		}
		var refused *FileError
		if _, err := b.open(false); !errors.As(err, &refused) || refused.Why == "" || refused.Do == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := writeNew(filepath.Join(b.dir, rootFile), nil); err == nil {
		t.Error("a file that is there is written over")
	}
	if a.Before() != nil || a.Ending() {
		t.Error("a new root has one before it, or is ending")
	}
}

// TestHalfMade: a stop between the key and the certificate is mended at the
// next start.
func TestHalfMade(t *testing.T) {
	b := newBench(t)
	b.must(t, false)
	key, err := os.ReadFile(filepath.Join(b.dir, keyFile))
	if err != nil || os.Remove(filepath.Join(b.dir, rootFile)) != nil {
		t.Fatal(err)
	}
	b.must(t, false)
	if again, _ := os.ReadFile(filepath.Join(b.dir, keyFile)); !bytes.Equal(key, again) {
		t.Error("the key was made anew")
	}
}

// TestCARotate: a new root signs from then on; the old one's key is gone and
// its fingerprint can be told.
func TestCARotate(t *testing.T) {
	b := newBench(t)
	old := b.must(t, false)
	b.now = b.now.Add(9*365*24*time.Hour + 24*time.Hour)
	if !b.must(t, false).Ending() {
		t.Error("a root with less than a year left says nothing")
	}
	b.reach.Name = "bench.local"
	a := b.must(t, true)
	if a.Root().Equal(old.Root()) || a.key.Equal(old.key) || !a.Before().Equal(old.Root()) || !a.Names() {
		t.Error("it was not changed")
	}
	roots := x509.NewCertPool()
	roots.AddCert(old.Root())
	if _, err := leafOf(t, a).Verify(x509.VerifyOptions{Roots: roots, CurrentTime: b.now}); err == nil {
		t.Error("what is shown is of the old root")
	}
	if f := Fingerprint(a.Root()); len(strings.Fields(f)) != 8 || f == Fingerprint(a.Before()) {
		t.Errorf("fingerprint %q", f)
	}
	if again := b.must(t, false); !again.Before().Equal(old.Root()) {
		t.Error("the one before is forgotten")
	}
}

func TestHere(t *testing.T) {
	r, err := Here()
	if err != nil || !strings.HasSuffix(r.Name, ".local") {
		t.Fatalf("%+v %v", r, err)
	}
	for _, a := range r.Addresses {
		if !Private(a) {
			t.Errorf("%s is not of a private network", a)
		}
	}
	for in, want := range map[string]string{"Werkstatt": "werkstatt.local", "bench.lan.example": "bench.local", "Anna's MacBook": "anna-s-macbook.local", "": "seatboard.local", "…": "seatboard.local"} {
		if got := LocalName(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
	}
	for text, want := range map[string]bool{"192.168.1.5": true, "::ffff:192.168.1.5": true, "8.8.8.8": false, "fe80::1%eth0": true, "100.64.0.1": false, "2001:db8::1": false, "0.0.0.0": false} {
		if got := Private(netip.MustParseAddr(text)); got != want {
			t.Errorf("%s: %v", text, got)
		}
	}
}
