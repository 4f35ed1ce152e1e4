package player

import (
	"testing"

	"organbook/internal/arrange"
	"organbook/internal/perform"
	"organbook/internal/project"
	"organbook/internal/synth"

	"pgregory.net/rapid"
)

// TestHandsHoldWhatTheScoreHas drives the transport at random and compares,
// after each step, the keys it holds with those of the score at the cursor.
func TestHandsHoldWhatTheScoreHas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var tr transport
		if err := tr.init(synth.DefaultConfig()); err != nil {
			t.Fatal(err)
		}
		scores := []*score{{}, anyScore(t), anyScore(t)}
		frame := rapid.Int64Range(0, 8*second)
		out := make([]float32, 2*8*second)
		for range rapid.IntRange(1, 12).Draw(t, "steps") {
			c := command{
				action: rapid.SampledFrom([]action{doLoad, doPlay, doPlay, doStop, doSeek, doLoop, doMute, doTicks}).Draw(t, "action"),
				score:  rapid.SampledFrom(scores).Draw(t, "score"),
				at:     frame.Draw(t, "at"), to: frame.Draw(t, "to"), on: rapid.Bool().Draw(t, "on"),
				mute: perform.LayerSet(rapid.IntRange(0, 3).Draw(t, "mute")),
			}
			if c.action == doPlay && rapid.Bool().Draw(t, "count in") {
				c.countIn = []tick{{frame: c.at - 4000}, {frame: c.at - 2000}}
			}
			tr.queue.send(c)
			tr.render(out[:2*rapid.SampledFrom([]int64{0, 1, 255, 256, 3000, 30000}).Draw(t, "frames")])
			checkHands(t, &tr)
		}
	})
}

// anyScore has up to ten notes within eight seconds, keys possibly shared.
func anyScore(t *rapid.T) *score {
	var notes []arrange.Note
	for range rapid.IntRange(0, 10).Draw(t, "notes") {
		start := project.Ticks(rapid.IntRange(0, 30).Draw(t, "start")) * q / 2
		notes = append(notes, played(start, project.Ticks(rapid.IntRange(1, 8).Draw(t, "length"))*q/2,
			arrange.Division(rapid.IntRange(0, 2).Draw(t, "division")),
			arrange.Layer(rapid.IntRange(0, 1).Draw(t, "layer")), rapid.IntRange(40, 44).Draw(t, "key")))
	}
	p, err := fourBars(notes)
	if err != nil {
		t.Fatal(err)
	}
	return newScore(p, sampleRate)
}

func checkHands(t *rapid.T, tr *transport) {
	var want [synth.Divisions][128]uint8
	if tr.playing && !tr.counting {
		for _, n := range tr.score.events {
			if n.Frame >= tr.cursor || !n.isKey() || tr.mute.Has(n.layer) {
				continue
			}
			if n.Kind == synth.KeyDown {
				want[n.Division][n.Key]++
			} else {
				want[n.Division][n.Key]--
			}
		}
	}
	if tr.held != want {
		t.Fatalf("cursor %d, playing %v: the hands hold other keys than the score has there", tr.cursor, tr.playing)
	}
	if tr.cursor > tr.score.frames {
		t.Fatalf("cursor %d of %d", tr.cursor, tr.score.frames)
	}
}
