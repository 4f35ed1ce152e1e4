package project

import (
	"fmt"
	"strings"
)

// Problem is one thing wrong with a chart.
type Problem struct {
	// Where is a position such as "9.3", or the field: "title", "passage 2".
	Where string
	// Text says what is wrong, as the rest of a sentence.
	Text string
}

// Error returns "WHERE: TEXT".
func (p Problem) Error() string { return p.Where + ": " + p.Text }

// Problems is everything Check found, in the order of the chart. It is never
// an empty error.
type Problems []Problem

// shownProblems bounds the text of a hopeless chart's error.
const shownProblems = 5

// Error joins the first few problems into one line.
func (ps Problems) Error() string {
	texts := make([]string, 0, shownProblems+1)
	for i, p := range ps {
		if i == shownProblems {
			texts = append(texts, fmt.Sprintf("and %d more", len(ps)-i))
			break
		}
		texts = append(texts, p.Error())
	}
	return strings.Join(texts, "; ")
}

// Unwrap lets errors.As reach the single problems.
func (ps Problems) Unwrap() []error {
	errs := make([]error, len(ps))
	for i, p := range ps {
		errs[i] = p
	}
	return errs
}
