package blob

import (
	"errors"
	"fmt"
	"os"
	"runtime"
)

// syncDir waits until the names in a folder are on the disk. Windows has no
// such thing and refuses.
func syncDir(dir string) error {
	if runtime.GOOS == "windows" {
		return nil
	}
	d, err := os.Open(dir)
	if err != nil {
		return fmt.Errorf("blob: %w", err)
	}
	if err := errors.Join(d.Sync(), d.Close()); err != nil {
		return fmt.Errorf("blob: %w", err)
	}
	return nil
}
