package web

import (
	_ "embed"
	"encoding/json"
)

//go:embed testdata/axe.min.js
var axe string // axe-core, MPL-2.0, only for tests

// quoted writes a text as a literal of the script.
func quoted(s string) string {
	b, _ := json.Marshal(s)
	return string(b)
}

// looksRight looks at the page that is open, all that folds folded, then
// opened; it is left open. What is looked at says faults, and that it does not
// scroll sideways: tables and drawings may move within their own strip.
func (b *tab) looksRight(where string) {
	b.t.Helper()
	js[int](b, `[...document.querySelectorAll("details")].map(d => d.open = false).length`)
	b.staysWithin(where + ", folded")
	b.unfold()
	js[int](b, `[...document.querySelectorAll("tbody tr:nth-child(n+31)")].map(r => r.remove()).length`) // the rows of a long table are alike
	b.sound(where)
}

// sound looks at the page as it stands.
func (b *tab) sound(where string) {
	b.t.Helper()
	b.staysWithin(where)
	for _, f := range b.faults() {
		b.t.Errorf("%s at %d: %s", where, b.width, f)
	}
}

func (b *tab) staysWithin(where string) {
	b.t.Helper()
	if n := js[int](b, `document.documentElement.scrollWidth - document.documentElement.clientWidth`); n > 0 {
		b.t.Errorf("%s at %d scrolls sideways by %d px: %s", where, b.width, n, js[string](b, tooWide))
	}
}

// faults lists what is wrong with the page as it stands: on a phone by WCAG 2.2
// AA and the best practices of axe-core, and at the size of all that can be
// pressed; on a screen by the rules that hang on the layout; on both at its
// colours, on a phone light and dark.
func (b *tab) faults() []string {
	b.t.Helper()
	b.scheme("light")
	kind, values := "rule", []string{"scrollable-region-focusable", "target-size", "aria-hidden-focus"}
	var found []string
	if b.width == phone {
		kind, values = "tag", []string{"wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"}
		found = append(js[[]string](b, smallTargets), js[[]string](b, roomless)...)
	}
	only, _ := json.Marshal(map[string]any{"type": kind, "values": values})
	found = append(found, b.violations("document", string(only), `{"color-contrast": {enabled: false}}`)...)
	schemes := []string{"light", "dark"}
	if b.width != phone {
		schemes = schemes[:1] // a wide page has the colours of a narrow one
	}
	for _, scheme := range schemes {
		b.scheme(scheme)
		for _, f := range b.violations(colours, `["color-contrast"]`, "{}") {
			found = append(found, scheme+": "+f)
		}
	}
	return found
}

// violations lists what axe-core finds wrong in a part of the page by some of
// its rules.
func (b *tab) violations(part, only, rules string) []string {
	b.t.Helper()
	return js[[]string](b, `axe.run(`+part+`, {preload: false, resultTypes: ["violations"], runOnly: `+only+`, rules: `+rules+`}).then(r =>
		r.violations.flatMap(v => v.nodes.map(n => v.id + ": " + n.target.join(" ") + ": " + (n.any.concat(n.all, n.none)[0]?.message ?? v.help))))`)
}

// colours is the part of a page in which every look of a text comes once: its
// colour, size and weight on the grounds that it has. Of those that are alike
// one stands for all, except where something is laid over the page.
const colours = `(() => {
	const seen = new Set(), include = [], grounds = new Map();
	const ground = e => {
		if (!e) return "";
		let g = grounds.get(e);
		if (g === undefined) {
			const s = getComputedStyle(e), over = ["absolute", "fixed", "sticky"].includes(s.position) ? grounds.size : "";
			g = ground(e.parentElement);
			if (over !== "" || s.opacity !== "1" || s.backgroundImage !== "none" || !/^rgba\(.*, 0\)$/.test(s.backgroundColor) || s.filter !== "none" || s.mixBlendMode !== "normal")
				g += "|" + [over, s.opacity, s.backgroundImage, s.backgroundColor, s.filter, s.mixBlendMode];
			grounds.set(e, g);
		}
		return g;
	};
	for (const e of document.body.querySelectorAll("*")) {
		const says = e.matches("input, select, textarea") || [...e.childNodes].some(c => c.nodeType === Node.TEXT_NODE && c.data.trim());
		if (!says || !e.checkVisibility({visibilityProperty: true})) continue;
		const s = getComputedStyle(e);
		const look = [e.localName, s.color, s.fontSize, s.fontWeight, s.textShadow, s.webkitTextStroke, s.clip, s.clipPath, (e.control ?? e).disabled ?? false, ground(e)].join();
		if (!seen.has(look)) seen.add(look), include.push(e);
	}
	const chosen = new Set(include);
	return {include, exclude: include.flatMap(e => [...e.children].filter(c => !chosen.has(c)))};
})()`

// smallTargets lists what can be pressed, is seen and is smaller than 24 by
// 24 px (WCAG 2.5.8), except links within a sentence.
const smallTargets = `[...document.querySelectorAll("a[href], button, input:not([type=hidden]), select, textarea, summary")].flatMap(e => {
	if (!e.checkVisibility({visibilityProperty: true}) || e.closest(".skip")) return [];
	if (e.localName === "a" && getComputedStyle(e).display === "inline") {
		const block = e.closest("p, li, dd, td, th, figcaption, div");
		if (block && block.innerText.trim() !== e.innerText.trim() && block.matches("p, li, dd")) return [];
	}
	const r = e.getBoundingClientRect();
	if (r.width >= 24 && r.height >= 24) return [];
	return [e.localName + " " + (e.id || e.getAttribute("href") || e.innerText).slice(0, 40) + " in " + e.parentElement.localName + "." + e.parentElement.className + ": " + Math.round(r.width) + " by " + Math.round(r.height)];
})`

// roomless lists the photographs that push away what stands below them when
// they come.
const roomless = `[...document.querySelectorAll("img[src*='/photos/']:not([height])")].map(e => "no room is kept for " + e.src)`

// tooWide lists what reaches over the right edge of the page.
const tooWide = `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5 && !e.closest(".strip, .drawing, .visually-hidden"))
	.slice(0, 3).map(e => e.localName + "." + (e.className.baseVal ?? e.className) + "#" + e.id).join(", ")`
