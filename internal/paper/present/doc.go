// Package present turns answers and records into documents: one file for each
// chapter of craft and book. A document opens with the facts and the
// findings, then figures and tables; its margin has the working, what to
// measure again and the sources. Page, terminal and PDF all print it.
//
// Figures are drawn here as pictures, once for a wide page and once for a
// phone, in the manner of an engraving: thin lines, hatching for cut metal,
// labels beside what they name.
package present
