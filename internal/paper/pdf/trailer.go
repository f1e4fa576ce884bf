package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strconv"
)

var errTrailer = errors.New("pdf: the end of the file is not as it should be")

var (
	rootRef   = regexp.MustCompile(`/Root (\d+) 0 R`)
	sizeEntry = regexp.MustCompile(`/Size (\d+)`)
	infoRef   = regexp.MustCompile(`/Info (\d+) 0 R`)
	startXref = regexp.MustCompile(`startxref\s+(\d+)\s+%%EOF\s*$`)
)

// unscaled adds to a finished file that it is to be printed at its own size.
// The library has no word for it, so the catalogue is written once more by an
// incremental update (ISO 32000-1:2008, 7.5.6), as version 1.6, in which the
// entry came.
func unscaled(file []byte) ([]byte, error) {
	trailer := bytes.LastIndex(file, []byte("\ntrailer"))
	if trailer < 0 {
		return nil, errTrailer
	}
	tail := file[trailer:]
	root, size, info, start := rootRef.FindSubmatch(tail), sizeEntry.FindSubmatch(tail), infoRef.FindSubmatch(tail), startXref.FindSubmatch(tail)
	if root == nil || size == nil || info == nil || start == nil {
		return nil, errTrailer
	}
	head := []byte("\n" + string(root[1]) + " 0 obj\n<<")
	at := bytes.LastIndex(file[:trailer], head)
	if at < 0 {
		return nil, errTrailer
	}
	body := file[at+len(head) : trailer]
	end := bytes.Index(body, []byte("endobj"))
	if end < 0 {
		return nil, errTrailer
	}
	var b bytes.Buffer
	b.Write(file)
	if !bytes.HasSuffix(file, []byte("\n")) {
		b.WriteByte('\n')
	}
	object := b.Len()
	fmt.Fprintf(&b, "%s 0 obj\n<<\n/Version /1.6\n/ViewerPreferences << /PrintScaling /None >>%sendobj\n", root[1], body[:end])
	xref := b.Len()
	number, _ := strconv.Atoi(string(root[1])) // the pattern lets digits through only
	fmt.Fprintf(&b, "xref\n%d 1\n%010d 00000 n \ntrailer\n<<\n/Size %s\n/Root %s 0 R\n/Info %s 0 R\n/Prev %s\n>>\nstartxref\n%d\n%%%%EOF\n", number, object, size[1], root[1], info[1], start[1], xref)
	return b.Bytes(), nil
}
