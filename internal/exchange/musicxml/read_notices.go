package musicxml

import (
	"fmt"
	"slices"
	"strings"
)

// maxNotices bounds the warnings handed out and maxListed the bars one of
// them names; a hopeless file would otherwise report every bar.
const (
	maxNotices = 24
	maxListed  = 3
)

// notices collects warnings in the order they were first met. The same text
// in several bars becomes one warning.
type notices struct {
	order []string
	bars  map[string]*barList
}

// barList counts the bars a text applies to and keeps the first few.
type barList struct {
	first []string
	more  int
	last  string
}

func newNotices() *notices { return &notices{bars: map[string]*barList{}} }

// add records a warning at a printed bar number, empty for the whole file.
func (n *notices) add(bar, format string, args ...any) {
	text := format
	if len(args) > 0 {
		text = fmt.Sprintf(format, args...)
	}
	p := n.bars[text]
	if p == nil {
		if len(n.order) > 10*maxNotices {
			return // beyond counting; memory stays bounded
		}
		p = &barList{}
		n.bars[text] = p
		n.order = append(n.order, text)
	}
	p.add(bar)
}

func (p *barList) add(bar string) {
	switch {
	case bar == "" || bar == p.last && (p.more > 0 || len(p.first) > 0):
		return
	case len(p.first) < maxListed && !slices.Contains(p.first, bar):
		p.first = append(p.first, bar)
	case !slices.Contains(p.first, bar):
		p.more++
	}
	p.last = bar
}

// String writes "3", "3 and 7", or "3, 7, 9 and 4 more".
func (p *barList) String() string {
	names := slices.Clone(p.first)
	if p.more > 0 {
		names = append(names, fmt.Sprintf("%d more", p.more))
	}
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	end := len(names) - 1
	return strings.Join(names[:end], ", ") + " and " + names[end]
}

// list returns the warnings, with one in the place of those beyond the limit.
func (n *notices) list() []Warning {
	var list []Warning
	for i, text := range n.order {
		if i == maxNotices {
			list = append(list, Warning{Text: fmt.Sprintf("and %d more notes on this file", len(n.order)-i)})
			break
		}
		list = append(list, Warning{Bar: n.bars[text].String(), Text: text})
	}
	return list
}
