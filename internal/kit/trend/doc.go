// Package trend follows something that grows: a level whose slope is nearly
// steady, seen now and then, never exactly, at any times. It is the local
// linear trend of the literature with columns beside it for what is known to
// push level or slope, and exact in all of it.
//
// # The model
//
// Between two rows that lie dt apart
//
//	level += slope·dt + noise of variance Noise.Level·dt
//	slope += noise of variance Noise.Slope·dt
//
// the second noise being carried into the level as it should (dt³/3, dt²/2). A
// row may shake level or slope (Shock), may be an observation of the level, or
// of the mean slope since a row that was marked, and may be marked itself; in
// this order. What is observed is
//
//	y = level + Σ b·column + noise of variance Noise.Scale·V, or V where the row is Fixed
//
// with coefficients b that are not known, or known with a doubt. Level and
// slope begin at nought; where they began is a column like any other (1 and
// the time), so that a start about which nothing is known is exactly that.
//
// # The method
//
// The filter runs over y and over every column with the same gains ([Run],
// the augmented filter of P. de Jong, Annals of Statistics 19, 1991); what it
// leaves are rows of a least-squares problem for b, with the likelihood.
// [Run.Smooth] goes backwards and gives level and slope at every row by all
// rows, what each observation says against all others, and the tests for a
// shock at each row (the auxiliary residuals of de Jong and Penzer, Journal of
// the American Statistical Association 93, 1998), all with the doubt of b in
// them. Both papers from memory; checked against the Nile (Durbin and Koopman)
// and against least squares with the full matrix.
//
// Time taken is proportional to rows times columns. Numbers are bare float64:
// the package does not know what they measure; take units in which they are
// not far from one.
package trend
