// Package culprit names the part of a train whose fault repeats in the beats.
package culprit
