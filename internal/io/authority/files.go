package authority

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"encoding/pem"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

const (
	keyFile    = "root.key"
	rootFile   = "root.pem"
	beforeFile = "root-before.pem"
)

// FileError says why the folder of the keys is refused. Why is a clause: "it
// can be read by others (mode 0644)"; Do is what mends it.
type FileError struct{ Path, Why, Do string }

func (e *FileError) Error() string { return "authority: " + e.Path + ": " + e.Why }

// makeDir makes the folder for this user alone, or looks at the one there.
func makeDir(dir string) error {
	err := os.MkdirAll(filepath.Dir(dir), 0o700)
	if err == nil {
		err = os.Mkdir(dir, 0o700)
	}
	if err != nil && !errors.Is(err, fs.ErrExist) {
		return &FileError{dir, "the folder of the keys cannot be made", "Choose another place with --keys"}
	}
	info, err := os.Lstat(dir)
	if err != nil || !info.IsDir() {
		return &FileError{dir, "it is not a folder", "Choose another place with --keys"}
	}
	return private(dir, info)
}

// readPrivate reads a file that must be this user's alone.
func readPrivate(path string) ([]byte, error) {
	info, err := os.Lstat(path)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, &FileError{path, "it is not a plain file", "Move it away; --new-certificate makes a new one"}
	}
	if err := private(path, info); err != nil {
		return nil, err
	}
	return os.ReadFile(path)
}

// writeNew writes a file for this user alone, which must not be there yet,
// and brings it to the disk.
func writeNew(path string, b []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return fmt.Errorf("authority: %w", err)
	}
	_, err = f.Write(b)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return fmt.Errorf("authority: %w", errors.Join(err, os.Remove(path)))
	}
	return nil
}

// loadKey reads the key of the root, or makes one where there is none.
func loadKey(dir string) (key *ecdsa.PrivateKey, made bool, err error) {
	path := filepath.Join(dir, keyFile)
	b, err := readPrivate(path)
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Lstat(filepath.Join(dir, rootFile)); err == nil {
			return nil, false, &FileError{path, "the key of the certificate is missing", "Put it back, or make a new certificate with --new-certificate and install that on the phones"}
		}
		key, err = makeKey(path)
		return key, true, err
	}
	if err != nil {
		return nil, false, err
	}
	damaged := &FileError{path, "it is not a key that this program made", "Put it back, or make a new certificate with --new-certificate and install that on the phones"}
	block, _ := pem.Decode(b)
	if block == nil {
		return nil, false, damaged
	}
	any, err := x509.ParsePKCS8PrivateKey(block.Bytes)
	key, ok := any.(*ecdsa.PrivateKey)
	if err != nil || !ok {
		return nil, false, damaged
	}
	return key, false, nil
}

func makeKey(path string) (*ecdsa.PrivateKey, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, fmt.Errorf("authority: %w", err)
	}
	der, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return nil, fmt.Errorf("authority: %w", err)
	}
	return key, writeNew(path, pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: der}))
}

// loadRoot reads a certificate; it is nil where there is none.
func loadRoot(path string) (*x509.Certificate, error) {
	b, err := readPrivate(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	if block, _ := pem.Decode(b); block != nil {
		if c, err := x509.ParseCertificate(block.Bytes); err == nil {
			return c, nil
		}
	}
	return nil, &FileError{path, "it is not a certificate", "Make a new one with --new-certificate and install that on the phones"}
}

// putAway takes the root out of use: its certificate is kept so that its
// fingerprint can be shown, its key is not.
func putAway(dir string) error {
	if err := os.Remove(filepath.Join(dir, keyFile)); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("authority: %w", err)
	}
	err := os.Rename(filepath.Join(dir, rootFile), filepath.Join(dir, beforeFile))
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("authority: %w", err)
	}
	return nil
}
