// Package estimate reckons what the work on a clock will take: a range for the
// whole from low, likely and high hours of each task, with what the shop's own
// finished jobs say about its estimates. It is for the person who has to name
// a figure before the clock is apart.
//
// # The range of the whole
//
// The sum of the likely hours is too little: tasks go over by more than they
// stay under. Each task is taken as a PERT beta, from low to high with its
// mode at likely, mean (low + 4 likely + high)/6; low and high are the ends,
// what the task takes at the very least and at the very most. Tasks of one
// clock go wrong together; the [Query.Correlation] of their normal scores
// (one-factor, the same for every two) allows for that. The whole is then
// drawn [Runs] times from the seed, so that the same query gives the same
// answer; the limits carry the doubt of the drawing.
//
// # Learning
//
// From [LeastJobs] finished jobs on, the range comes from them instead: the
// logarithm of actual over estimated hours is taken as normal, and the next
// job lies within
//
//	estimated · exp(m ± t s √(1 + 1/n)),
//
// t of Student's distribution with n − 1 degrees of freedom (the limits for
// one more draw from a normal population). The spread of a job's own tasks is
// in those ratios already. With fewer jobs nothing is learned, and that is
// said.
//
// The classical sum of means and variances, √Σ((high − low)/6)², is given
// beside it ([Answer.Classical]); it takes tasks as independent and its limits
// as six standard deviations apart, and [Checks] holds it to printed examples.
//
// # Gaps
//
// Prices and taxes are elsewhere. Waiting (glue, trial) is not work. The
// default correlation is common practice without a source.
package estimate
