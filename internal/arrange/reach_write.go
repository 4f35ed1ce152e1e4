package arrange

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"organbook/internal/project"
	"organbook/internal/reach"
)

// InBars returns the report with only the findings that concern bars from
// first to end, end excluded.
func (rr *ReachReport) InBars(first, end int) *ReachReport {
	out := *rr
	short := *rr.Report
	out.Report = &short
	short.Findings, out.Places = nil, nil
	for i, p := range rr.Places {
		if p.Bar < end && p.End > first {
			short.Findings = append(short.Findings, rr.Findings[i])
			out.Places = append(out.Places, p)
		}
	}
	return &out
}

// Count returns how many findings have a severity.
func (rr *ReachReport) Count(s reach.Severity) (n int) {
	for i := range rr.Findings {
		if rr.Findings[i].Severity == s {
			n++
		}
	}
	return n
}

// Summary says in a sentence what the report found.
func (rr *ReachReport) Summary() string {
	if len(rr.Findings) == 0 {
		return "Everything can be played."
	}
	var parts []string
	for _, s := range []reach.Severity{reach.Unplayable, reach.Demanding, reach.Caution} {
		if n := rr.Count(s); n > 0 {
			parts = append(parts, fmt.Sprintf("%d %v", n, s))
		}
	}
	return "Found: " + strings.Join(parts, ", ") + "."
}

// WriteReach writes the report as text, a finding a paragraph with its ways
// out, worst and all. Ways out are tried for what is unplayable.
func WriteReach(w io.Writer, rr *ReachReport) error {
	var b strings.Builder
	for i := range rr.Findings {
		f := &rr.Findings[i]
		fmt.Fprintf(&b, "%-8s %-10v  %s%s\n", rr.Places[i].Text, f.Severity, f.Text, rr.extent(i))
		for _, r := range rr.remediesFor(i) {
			fmt.Fprintf(&b, "%20s – %s\n", "", r.Text)
		}
	}
	fmt.Fprintln(&b, rr.Summary())
	if rr.Care != "" {
		fmt.Fprintln(&b, rr.Care)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// extent says how far a finding goes on.
func (rr *ReachReport) extent(i int) string {
	f := &rr.Findings[i]
	if f.Count < 2 {
		return ""
	}
	return fmt.Sprintf(" (and so on to %s, %d moments)", rr.Realisation.Chart.PositionText(project.Ticks(f.Until)), f.Count)
}

// remediesFor returns the ways out of what is unplayable.
func (rr *ReachReport) remediesFor(i int) []Remedy {
	if rr.Findings[i].Severity != reach.Unplayable {
		return nil
	}
	return rr.Remedies(i)
}

// reachJSON is the report as --json prints it. Lengths are millimetres, times
// seconds; figures that do not apply are left out.
type reachJSON struct {
	Format   string        `json:"format"`
	Version  int           `json:"version"`
	Playable bool          `json:"playable"`
	Player   string        `json:"player"`
	Findings []findingJSON `json:"findings"`
	Strain   []strainJSON  `json:"strain"`
	Care     string        `json:"care,omitempty"`
}

type findingJSON struct {
	Bar          int      `json:"bar"`
	Beat         float64  `json:"beat"`
	Start        int64    `json:"start"`
	Until        int64    `json:"until"`
	Count        int      `json:"count"`
	Limb         string   `json:"limb"`
	Severity     string   `json:"severity"`
	Kind         string   `json:"kind"`
	Keys         []int    `json:"keys"`
	Asked        float64  `json:"asked,omitempty"`
	Limit        float64  `json:"limit,omitempty"`
	Need         float64  `json:"need,omitempty"`
	Time         float64  `json:"time,omitempty"`
	PlayableUpTo int      `json:"playableUpTo,omitempty"`
	Text         string   `json:"text"`
	Remedies     []string `json:"remedies"`
}

type strainJSON struct {
	Limb  string  `json:"limb"`
	Start int64   `json:"start"`
	Value float64 `json:"value"`
}

// WriteReachJSON writes the report as one JSON document.
func WriteReachJSON(w io.Writer, rr *ReachReport) error {
	out := reachJSON{
		Format: "organbook-reach", Version: 1, Playable: rr.Playable(), Player: rr.Profile.Name, Care: rr.Care,
		Findings: []findingJSON{}, Strain: []strainJSON{},
	}
	for i := range rr.Findings {
		out.Findings = append(out.Findings, rr.findingJSON(i))
	}
	for limb, loads := range rr.Strain {
		for _, l := range loads {
			out.Strain = append(out.Strain, strainJSON{Limb(limb).String(), int64(l.At), round(l.Value, 1000)})
		}
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(out)
}

func (rr *ReachReport) findingJSON(i int) findingJSON {
	f, chart := &rr.Findings[i], rr.Realisation.Chart
	at := project.Ticks(f.At)
	out := findingJSON{
		Bar: chart.BarNumber(chart.BarAt(at)), Beat: chart.Beat(at), Start: int64(f.At), Until: int64(f.Until), Count: f.Count,
		Limb: f.Limb.String(), Severity: f.Severity.String(), Kind: f.Kind.String(), Text: f.Text.String(),
		Asked: round(float64(f.Asked), 10), Limit: round(float64(f.Limit), 10),
		Need: round(f.Need, 1000), Time: round(f.Time, 1000),
		PlayableUpTo: int(chart.Tempo * f.TempoRatio), Keys: []int{}, Remedies: []string{},
	}
	for _, n := range f.Notes {
		if k := rr.Realisation.Notes[n].Key; !slices.Contains(out.Keys, k) && len(out.Keys) < 2*maxVoices {
			out.Keys = append(out.Keys, k)
		}
	}
	for _, r := range rr.remediesFor(i) {
		out.Remedies = append(out.Remedies, r.Text.String())
	}
	return out
}

// round rounds to parts of one.
func round(v, parts float64) float64 { return math.Round(v*parts) / parts }
