package store

import "testing"

// TestMountName reads lines as the system writes them.
func TestMountName(t *testing.T) {
	const mounts = `25 1 8:2 / / rw,relatime shared:1 - ext4 /dev/sda2 rw
40 25 0:50 / /home/a/far rw,nosuid - fuse.sshfs a@host:/home/a rw,user_id=1000
41 25 0:51 / /home/a/bucket rw - fuse.rclone remote: rw
42 25 0:52 / /media/stick rw - fuseblk /dev/sdb1 rw
43 25 0:53 / /mnt/c rw - 9p drvfs rw,trans=fd,aname=drvfs
44 25 0:54 / /plan9 rw - 9p host rw,trans=tcp
45 25 0:55 / /box rw - 9p none rw,trans=fd,rfdno=4
`
	for device, want := range map[string]string{
		"0:50": "sshfs", "0:51": "rclone", "0:52": "", "0:53": "9P", "0:54": "9P", "0:55": "", "8:9": "",
	} {
		if got := mountName(mounts, device); got != want {
			t.Errorf("%s: %q, want %q", device, got, want)
		}
	}
	if name := networkName(t.TempDir()); name != "" {
		t.Skipf("the tests run on %s", name)
	}
}
