package drive

// Solve computes everything that follows from the query. The error is a
// meas.Faults with every mistake in the inputs; the answer then holds the
// query alone.
func Solve(q Query) (Answer, error) {
	a := Answer{Query: q}
	if faults := q.Check(); len(faults) > 0 {
		return a, faults
	}
	b := lay(q)
	a.bench = b
	b.solveFall(&a)
	b.solveWeight(&a)
	b.solveLine(&a)
	b.solvePower(&a)
	b.solveHangs(&a)
	b.solveSwing(&a)
	b.solveSpring(&a)
	b.solveFusee(&a)
	a.Working, a.Findings = b.Steps, b.ByLevel()
	a.Complete = a.Fall.Room.Set && a.Fall.Total.Set && a.Fall.TurnTime.Set || a.Spring.Turns.Set || len(a.Fusee.Points) > 0
	return a, nil
}
