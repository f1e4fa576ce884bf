package web

import (
	"strings"
	"testing"
)

// A clock is taken out of the book on its page and put back there; a label of
// it still leads to it.
func TestTakeOutOnThePage(t *testing.T) {
	v := openShop(t, false)
	path := v.addOne("2026-014", "Longcase clock")
	v.takeOff(path, "name", "third wheel")
	v.get(path).want(200, "Take it out of the book")
	v.post(path+"/out").want(200, "Taken out of the book", "This clock was taken out", "Put it back")
	v.get("/clocks").want(200, "/clocks?out=yes")
	v.get("/clocks?find=third").want(200, "Nothing in the book")
	v.get("/clocks?out=yes").want(200, "1 taken out", "Longcase clock", path)
	v.get(path+"/parts/1").want(200, "This clock was taken out")
	v.get(path).post(path+"/out", "do", "back").want(200, "Put back.", "Take it out of the book")
	v.get("/clocks").want(200, "1 in the book")
	if strings.Contains(v.page, "out=yes") {
		t.Error("none is out, and a list of them is offered")
	}
	v.get("/clocks?out=yes").want(200, "No clock was taken out")
}
