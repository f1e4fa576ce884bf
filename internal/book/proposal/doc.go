// Package proposal has the rules of what is proposed to the owner of a clock:
// a draft of tasks and terms, versions of it that are fixed, the owner's word
// on each, and the deposit. It is a log that only grows: what was once fixed
// keeps its tasks and its figures as they were reckoned then, whatever a newer
// program would reckon, and a mistake is undone by a counter-entry.
//
// The draft goes on being changed; a version is fixed before it is shown to
// the owner. A version to which the owner has said a word, or for which money
// came, cannot be taken back; another version follows it. Money is kept as it
// was written, since nothing is reckoned with it here.
package proposal
