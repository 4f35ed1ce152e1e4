package main

import (
	"encoding/json"
	"io"

	"organbook/internal/arrange"
)

// summaryJSON is the summary as --json prints it.
type summaryJSON struct {
	Notes           int     `json:"notes"`
	Chorded         int     `json:"chorded"`
	Home            int     `json:"home"`
	Away            int     `json:"away"`
	Borrowed        int     `json:"borrowed"`
	Approach        int     `json:"approach"`
	Own             int     `json:"own"`
	Thinned         int     `json:"thinned"`
	ThinnedByPlan   int     `json:"thinnedByPlan"`
	Fewer           int     `json:"fewerVoices"`
	Pinned          int     `json:"pinned"`
	Moves           int     `json:"moves"`
	AverageMovement float64 `json:"averageMovement"`
	LargestMovement int     `json:"largestMovement"`
	MovingLead      int     `json:"movingLead"`
	Repeated        int     `json:"repeated"`
	MinorNinths     int     `json:"minorNinths"`
	UnaskedNinths   int     `json:"unaskedMinorNinths"`
	Crossings       int     `json:"crossings"`
	Outside         int     `json:"outsideScale"`
}

func writeSummary(w io.Writer, s arrange.Summary, asJSON bool) error {
	if !asJSON {
		return s.Write(w)
	}
	return json.NewEncoder(w).Encode(summaryJSON{
		s.Notes, s.Chorded, s.Home, s.Away, s.Borrowed, s.Approach, s.Own, s.Thinned, s.Planned, s.Fewer, s.Pinned, s.Moves,
		s.Average, s.Largest, s.Moving, s.Repeated, s.Ninths, s.Unasked, s.Crossings, s.Outside,
	})
}
