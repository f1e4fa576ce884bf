package web

// chapterPage is one of the pages of a chapter.
type chapterPage struct {
	Words, Href string
	Here        bool // it is the page that is shown
}

// ways lists pages given as a word and an address behind the clock's each.
func (h head) ways(here string, pages ...[2]string) []chapterPage {
	var all []chapterPage
	for _, p := range pages {
		all = append(all, chapterPage{Words: p[0], Href: h.Path + p[1], Here: p[1] == here})
	}
	return all
}

// TrialWays lists the pages of a trial; here is the end of the address of the
// one that is shown.
func (h head) TrialWays(here string) []chapterPage {
	return h.ways("/trial"+here, [2]string{"Trial", "/trial"}, [2]string{"By taps", "/trial/tap"}, [2]string{"By the strike", "/trial/tap?at=strike"},
		[2]string{"Bring in a table", "/trial/table"}, [2]string{"Stops", "/trial/stops"}, [2]string{"Gates", "/trial/gates"},
		[2]string{"What counts as right", "/trial/gates/aim"}, [2]string{"To its home", "/trial/home"})
}

// PartsWays lists the pages of the take-down; here is the end of the address
// of the one that is shown.
func (h head) PartsWays(here string) []chapterPage {
	return h.ways(here, [2]string{"Parts", "/parts"}, [2]string{"Close-out", "/close-out"}, [2]string{"Labels", "/labels"})
}

// Way is the end of the address of the page that is shown.
func (v tapView) Way() string {
	for _, m := range v.Marks {
		if m.Chosen && m.Value == "strike" {
			return "/tap?at=strike"
		}
	}
	return "/tap"
}
