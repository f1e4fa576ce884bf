package job

import (
	"fmt"
	"strconv"
	"strings"
)

// NumberKey is a shop's number as it is compared: two numbers with the same
// key are the same number.
func NumberKey(number string) string {
	return strings.Join(strings.Fields(Fold(number)), " ")
}

// NextNumber proposes the next number of the year, "2026-015" after
// "2026-014". Numbers of another form are left out of the count.
func NextNumber(year int, existing []string) string {
	prefix := fmt.Sprintf("%04d-", year)
	var last uint64
	for _, e := range existing {
		serial, ok := strings.CutPrefix(NumberKey(e), prefix)
		if n, err := strconv.ParseUint(serial, 10, 32); ok && err == nil && n > last {
			last = n
		}
	}
	return fmt.Sprintf("%s%03d", prefix, last+1)
}
