package ui

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2/widget"
)

// rampForm asks for the practice ramp and turns it on.
func (w *Window) rampForm() {
	s := w.session
	r := s.Ramp()
	percents := func(v float64) *escEntry { return newEscEntry(fmt.Sprintf("%.0f %%", 100*v), nil) }
	from, step, to, times := percents(r.From), percents(r.Step), percents(r.To), newEscEntry(strconv.Itoa(r.Times), nil)
	items := []*widget.FormItem{widget.NewFormItem("From", from), widget.NewFormItem("Step", step), widget.NewFormItem("To", to), widget.NewFormItem("Each", times)}
	items[0].HintText = "of the written tempo, where the loop starts"
	items[1].HintText = "added each time the loop comes round"
	items[2].HintText = "where it stays"
	items[3].HintText = "how often each tempo is played"
	w.form("Tempo ramp over the loop", items, from, func() error {
		var err error
		for _, x := range []struct {
			field *escEntry
			into  *float64
		}{{from, &r.From}, {step, &r.Step}, {to, &r.To}} {
			if *x.into, err = readPercent(x.field.Text); err != nil {
				return err
			}
		}
		if r.Times, err = strconv.Atoi(strings.TrimSpace(times.Text)); err != nil {
			return fmt.Errorf("each %q: write how often, such as 2", times.Text)
		}
		r.On = true
		if s.SetRamp(r) != nil {
			return fmt.Errorf("%s", strings.TrimSuffix(s.Message(), "."))
		}
		return nil
	})
}

// readPercent reads "80 %" or "80" as 0.8.
func readPercent(text string) (float64, error) {
	v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%")), 64)
	if err != nil {
		return 0, fmt.Errorf("%q: write a part of the written tempo such as 80 %%", text)
	}
	return v / 100, nil
}
