package listen

// Solve works out what the beats say.
func Solve(q Query) (Answer, error) { return Answer{Query: q, Hearing: q.Hearing}, nil }
