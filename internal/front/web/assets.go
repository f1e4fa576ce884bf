package web

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"io/fs"
	"mime"
	"net/http"
	"path"
	"strings"
	"time"

	"seatboard/internal/paper/theme"
)

//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/main.ts ../internal/front/web/assets/seatboard.js
//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/listen.ts ../internal/front/web/assets/listen.js
//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/capture.ts ../internal/front/web/assets/capture.js
//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/zoom.ts ../internal/front/web/assets/zoom.js
//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/takedown.ts ../internal/front/web/assets/takedown.js
//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/photos.ts ../internal/front/web/assets/photos.js
//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/marks.ts ../internal/front/web/assets/marks.js
//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/look.ts ../internal/front/web/assets/look.js
//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/tap.ts ../internal/front/web/assets/tap.js
//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/table.ts ../internal/front/web/assets/table.js
//go:generate go -C ../../../tools run ./bundle ../internal/front/web/script/depthing.ts ../internal/front/web/assets/depthing.js

//go:embed assets
var scripts embed.FS

// assets are the files that never change under their name: the name carries
// the beginning of the SHA-256 of the content.
type assets struct {
	byURL map[string]asset
	urls  map[string]string // plain name -> address
}

type asset struct {
	content []byte
	kind    string
}

func newAssets() (*assets, error) {
	a := &assets{byURL: map[string]asset{}, urls: map[string]string{}}
	for _, name := range []string{"seatboard.js", "listen.js", "capture.js", "zoom.js", "takedown.js", "photos.js", "marks.js", "look.js", "tap.js", "table.js", "depthing.js"} {
		script, err := fs.ReadFile(scripts, "assets/"+name)
		if err != nil {
			return nil, err
		}
		a.add(name, script)
	}
	css, err := fs.ReadFile(theme.Files(), "seatboard.css")
	if err != nil {
		return nil, err
	}
	fonts, err := fs.Glob(theme.Files(), "fonts/*.woff2")
	if err != nil {
		return nil, err
	}
	for _, f := range fonts {
		b, err := fs.ReadFile(theme.Files(), f)
		if err != nil {
			return nil, err
		}
		a.add(f, b)
		css = bytes.ReplaceAll(css, []byte("url("+f+")"), []byte("url("+a.url(f)+")"))
	}
	a.add("seatboard.css", css)
	return a, nil
}

// add takes a file in under its content's name.
func (a *assets) add(name string, content []byte) {
	sum := sha256.Sum256(content)
	ext := path.Ext(name)
	file := strings.TrimSuffix(path.Base(name), ext) + "-" + hex.EncodeToString(sum[:6]) + ext
	kind := mime.TypeByExtension(ext)
	if ext == ".woff2" {
		kind = "font/woff2"
	}
	a.byURL[file] = asset{content, kind}
	a.urls[name] = "/assets/" + file
}

// url is the address of a file by its plain name.
func (a *assets) url(name string) string { return a.urls[name] }

func (a *assets) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	f, ok := a.byURL[r.PathValue("file")]
	if !ok {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	w.Header().Set("Content-Type", f.kind)
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(f.content))
}
