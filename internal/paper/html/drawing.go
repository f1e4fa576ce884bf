package html

import (
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
		w.line(`<div class="tools">`)
		for _, l := range w.o.Drawings(d.Name) {
			w.line(`<a href="`, esc(l.Href), `">`, esc(l.Text), `<span class="visually-hidden">: `, esc(d.Title), `</span></a>`)
		}
		w.line(`</div>`)
	}
	w.line(`</div>`)
}
