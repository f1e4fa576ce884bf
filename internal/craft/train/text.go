package train

// Text is the train as a handbook prints it, whether it was typed so or arbor
// by arbor: "96/8 60/8 ?/7 30"; "" where there are no counts, and as typed
// where they cannot be read.
func (t Train) Text() string {
	if t.Chain.Err() != nil {
		return t.Chain.Entered()
	}
	return Chain{arbors: t.Rows()}.String()
}
