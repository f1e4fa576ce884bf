package web

import (
	"net/http/cookiejar"
	"strings"
	"testing"
)

func TestConditionIsWrittenAreaByArea(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	at := path + "/condition"
	v.get(at).want(200, "Nothing is written down of its state yet", `<option selected>hood</option>`)
	v.post(at, "read", "0", "area", "roof", "day", "yesterday", "seen", "", "thought", "kept though wrong", "hazard", "lead").want(422, "Choose the area", "like 2026-03-04", "Write what is seen", "kept though wrong", `href="#f-seen"`, `value="lead" aria-label="lead" checked`)
	v.get(at).post(at, "read", "0", "area", "hood", "day", "2026-03-04", "seen", "glass cracked across", "thought", "a blow", "severity", "marked", "hazard", "glass").want(200, "Saved.", "glass cracked across", "a blow", "goggles", `<option selected>trunk</option>`)
	v.post(at, "read", "0", "area", "hood", "day", "2026-03-04", "seen", "door loose").want(409, "has written of this area meanwhile", "glass cracked across", "door loose", `name="read" value="1"`)
	v.get(path).want(200, "Caution, hood", "goggles")
	v.get(at+"?area=hood").want(200, "What is here no more")
	v.post(at, "read", "1", "area", "hood", "day", "2026-03-05", "seen", "splinters taken up", "gone", "glass").want(200, "gone: glass shards")
	if v.get(path); strings.Contains(v.page, "goggles") {
		t.Error("the caution stands though the splinters are gone")
	}
	v.get(at).post(at+"/undo", "n", "2").want(200, "Taken back.", "goggles")
	v.post(at+"/undo", "n", "2").want(422)
	v.get(at + ".pdf").want(200)

	v.get(at).post(at, "read", "3", "area", "dial", "day", "2026-03-04", "seen", "glows", "hazard", "radium").want(200)
	v.get(path+"/parts/new").post(path+"/parts", "number", "1", "name", "dial", "count", "1", "to", "off").want(200)
	v.get(path+"/baths/new").want(200, "Caution, dial", "Luminous paint of unknown kind")
	v.get(path+"/parts/1").want(200, "Luminous paint of unknown kind", "radiation protection adviser", "Local law and licensed practice decide")
}

// TestFirstFormOfABrowser: the first page that a browser is shown can be sent.
func TestFirstFormOfABrowser(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	v.client.Jar, _ = cookiejar.New(nil)
	v.get(path+"/condition").post(path+"/condition", "read", "0", "area", "bell", "day", "2026-03-04", "seen", "whole").want(200, "Saved.")
	if n := len(v.get("/").head.Values("Set-Cookie")); n != 0 {
		t.Errorf("%d cookies for a browser that has one", n)
	}
}

// TestConditionOnAPhone writes an observation with a thumb and goes on to the
// next area.
func TestConditionOnAPhone(t *testing.T) {
	startChromium(t)
	v := openShop(t, false)
	path := v.addOne("1", "Clock")
	b := openTab(t, v, phone)
	b.visit(path + "/condition")
	b.holds(`document.documentElement.scrollWidth <= innerWidth`)
	b.taps("#f-seen")
	b.types("door does not close")
	b.taps(`[name=hazard][value=glass]`)
	b.clicks("form[action$=condition] .actions button")
	b.shows("door does not close", "goggles")
	b.holds(`document.querySelector("[name=area]").value === "trunk" && document.querySelector("[name=seen]").value === ""`)
	b.holds(`[...document.querySelectorAll("main button, main select, main .choice")].every(x => x.getBoundingClientRect().height >= 24)`)
	b.holds(`document.documentElement.scrollWidth <= innerWidth`)
}
