package html

import (
	"maps"
	"net/url"
	"slices"
	"strings"

	"seatboard/internal/kit/doc"
	"seatboard/internal/paper/svg"
)

// room is that for the first view of a drawing, in CSS pixels; the style sheet
// makes it smaller where there is less.
const room = 640

// trueSize shows the first view of a drawing as large as there is room for,
// and its numbers in words; its sheets and files are at true size.
func (w *writer) trueSize(d doc.Drawing) {
	id := w.next()
	w.line(`<div class="plate">`)
	w.line(`<figure>`)
	if len(d.Views) > 0 {
		w.line(`<div class="drawing whole">`, svg.Inline(d.Views[0].Picture, svg.Placed{ID: id, Room: room}), `</div>`)
	}
	w.line(`<figcaption>`, esc(d.Title), `. Not to scale on the screen; its files are at true size.</figcaption>`)
	w.line(`</figure>`)
	if len(d.Data) > 0 {
		w.table(d.Table())
	}
	if len(d.Notes) > 0 {
		w.block(doc.List{Items: d.Notes})
	}
	if w.o.Drawings != nil {
		links := w.o.Drawings(d.Name)
		w.line(`<div class="tools">`)
		for _, l := range links {
			w.line(`<a href="`, esc(l.Href), `">`, esc(l.Text), `<span class="visually-hidden">: `, esc(d.Title), `</span></a>`)
		}
		w.line(`</div>`)
		if i := slices.IndexFunc(links, func(l Link) bool { return strings.Contains(l.Href, ".pdf") }); i >= 0 {
			w.printer(id, d.Title, links[i].Href)
		}
	}
	w.line(`</div>`)
}

// printer asks what the bars of a printed sheet measured, for sheets that take
// the printer's error out; address is that of the PDF.
func (w *writer) printer(id, title, address string) {
	u, err := url.Parse(address)
	if err != nil {
		return
	}
	w.line(`<details><summary>Correct for a printer<span class="visually-hidden">: `, esc(title), `</span></summary>`)
	w.line(`<form class="inputs" action="`, esc(u.EscapedPath()), `">`)
	w.line(`<p class="hint">Print a sheet, measure both bars of 100 mm on it, and print again with what they came to.</p>`)
	q := u.Query()
	for _, name := range slices.Sorted(maps.Keys(q)) {
		for _, v := range q[name] {
			w.line(`<input type="hidden" name="`, esc(name), `" value="`, esc(v), `"/>`)
		}
	}
	w.line(`<div class="fields">`)
	for _, f := range [][2]string{{"bar-across", "The bar across measures"}, {"bar-down", "The bar down measures"}} {
		at := esc(id + "-" + f[0])
		w.line(`<div class="field"><label for="`, at, `">`, f[1], `<span class="visually-hidden">, in mm</span></label><span class="unit"><input id="`, at, `" name="`, f[0],
			`" size="8" inputmode="decimal" autocomplete="off"/><span aria-hidden="true">mm</span></span></div>`)
	}
	at := esc(id + "-paper")
	w.line(`<div class="field"><label for="`, at, `">Paper</label><select id="`, at, `" name="paper"><option>A4</option><option>Letter</option></select></div>`)
	w.line(`</div>`)
	w.line(`<p class="actions"><button>PDF for this printer</button></p>`)
	w.line(`</form></details>`)
}
