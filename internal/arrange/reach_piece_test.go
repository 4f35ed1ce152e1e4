package arrange

import (
	"math"
	"testing"

	"organbook/internal/project"
	"organbook/internal/reach"
)

// TestReachHearsTheSwing holds that the model's times are those of the swung
// beat: at 120 with a swing of two thirds the off-beat eighth comes after a
// third of a second, and lasts a sixth of one.
func TestReachHearsTheSwing(t *testing.T) {
	c := sketch(t, "C major", "C6@4", "C5@0.5 D5@0.5 E5@1 F5@2")
	c.Tempo, c.Swing = 120, 2.0/3
	times := func(swing float64) (out []float64) {
		c.Swing = swing
		p := pieceOf(Realise(c, Options{}), reach.DefaultProfile())
		for i := range p.Notes {
			if n := &p.Notes[i]; n.At == reach.Ticks(project.Quarter/2) && n.Limb == reach.RightHand {
				return []float64{n.Start, n.End}
			}
		}
		t.Fatal("no off-beat note")
		return nil
	}
	for swing, want := range map[float64][2]float64{0.5: {0.25, 0.5}, 2.0 / 3: {1.0 / 3, 0.5}} {
		for i, got := range times(swing) {
			if math.Abs(got-want[i]) > 1e-4 {
				t.Errorf("swing %.2f: %v, want %v", swing, times(swing), want)
				break
			}
		}
	}
}
