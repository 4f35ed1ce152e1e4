package perform

import (
	"organbook/internal/arrange"
	"organbook/internal/project"
)

// page is the written time axis: where bars start, and how the arrangement's
// beats swing.
type page struct {
	*arrange.Swung
	starts []project.Ticks // one more than there are bars: the last is the end
}

func newPage(c *project.Chart, notes []arrange.Note) page {
	p := page{arrange.NewSwung(c, notes), make([]project.Ticks, len(c.Bars)+1)}
	for i, b := range c.Bars {
		p.starts[i+1] = p.starts[i] + b.Length
	}
	return p
}
