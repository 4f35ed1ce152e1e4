package session

import (
	"organbook/internal/arrange"
	"organbook/internal/project"
)

// ear is a Sound that remembers what it was asked.
type ear struct {
	played     []Playback
	stopped    int
	heard      [][]int
	held       map[int]bool
	seconds    float64
	playing    bool
	levels     []float64
	clicks     []bool
	clickLevel float64
	set        []project.Registration
	tones      []project.Tone
	complaint  string
}

func (e *ear) Play(p Playback) error {
	e.played = append(e.played, p)
	e.playing, e.seconds = true, p.From
	return nil
}
func (e *ear) Stop()                     { e.stopped++; e.playing = false }
func (e *ear) Position() (float64, bool) { return e.seconds, e.playing }
func (e *ear) Audition(_ arrange.Division, keys []int, _ project.Registration) error {
	e.heard = append(e.heard, keys)
	return nil
}
func (e *ear) Hold(_ arrange.Division, key int, down bool) {
	if e.held == nil {
		e.held = map[int]bool{}
	}
	e.held[key] = down
}
func (e *ear) Set(r project.Registration) { e.set = append(e.set, r) }
func (e *ear) SetTone(t project.Tone)     { e.tones = append(e.tones, t) }
func (e *ear) SetClick(on bool)           { e.clicks = append(e.clicks, on) }
func (e *ear) SetClickLevel(db float64)   { e.clickLevel = db }
func (e *ear) SetLevel(db float64)        { e.levels = append(e.levels, db) }
func (e *ear) Level() float64             { return 0 }
func (e *ear) Status() string             { return e.complaint }
func (e *ear) Close()                     {}
