package web

import "testing"

// Plates are kept once and fill in the page that divides; mistakes keep what
// was typed, and what another kept meanwhile is shown beside it.
func TestPlatesOfTheShop(t *testing.T) {
	v := openShop(t, false)
	v.get("/desk/divide?count=36").want(422, "Enter the plates")
	v.get("/plates").post("/plates", "plates", "plate A: 60 7x").want(422, "7x", "plate A: 60 7x")
	v.get("/plates").post("/plates", "plates", "plate A: 60 72").want(200, "plate A: 60 72")
	v.get("/desk/divide?count=36").want(200, "2 holes in the ring of 72", "plates that the shop keeps")
	v.get("/desk/divide").want(200, "plate A: 60 72")
	v.post("/plates", "plates", "plate B: 90", "version", "0").want(409, "saved meanwhile", "plate A: 60 72", "plate B: 90")
}
