package player

import (
	"fmt"
	"slices"
	"time"
)

// chooser chooses among the buffers where that is left to the player. What a buffer
// costs is different for keys and blocks, which should answer at once, and for a
// score that plays by itself, which does not mind: so there is a ladder for each, and
// the one that is in force follows what is played. Another device buffer is another
// connection and a moment without sound, so the change waits for silence, except
// where playing begins, which waits for the change.
type chooser struct {
	keys, score ladder
	scored      bool // the score's is in force
	looked      time.Time
}

// ladder is where one of them stands. It climbs when a device was kept waiting while
// something sounded: that is what can be heard as gaps; but not for what its longest
// buffer would not have outlasted either, since a machine that stands still for so
// long tells nothing about how long a buffer should be. When it has been in force for
// a calm time, in which no read came too late whether something sounded or not, it
// steps down again, but only in silence. If that was too soon, the next calm has to
// be twice as long, as with a cushion, so that a machine that is busy now and again
// is not tried for ever; and if it held, half as long.
type ladder struct {
	rung, least, most int
	enough            int // so many late reads together are too many
	calm              time.Duration
	well              time.Duration // in force since the last read that was too late, or change of rung
	tried             bool          // the last change was down, and has not held for a calm yet
	waits             []time.Time   // reads that were too late while something sounded, of late
}

// rungs are what a chooser chooses among. Where the sound library holds one
// connection, the device's buffer cannot change until the program ends, and a
// short one would have to do for every load: there is one rung.
var rungs = func() []Profile {
	if !severalConnections {
		return []Profile{LiveProfile}
	}
	return []Profile{ShortestProfile, ShortProfile, LiveProfile, SafeProfile}
}()

// sharedRung is the last for keys, for with longer buffers they are heard after a
// sixth of a second, and the first for a score.
var sharedRung = max(0, len(rungs)-2)

const (
	// So many within waitsTogether are too many, for a buffer that is too short is so
	// again and again; a score, which does not mind a longer one, needs fewer. And
	// manyWaits are within waitsRemembered. One alone is chance, and so are those that
	// follow within oneStumble: a machine that has stood still for a moment stumbles
	// while it catches up.
	oneStumble      = 200 * time.Millisecond
	keysWaits       = 3
	scoreWaits      = 2
	waitsTogether   = 2 * time.Second
	manyWaits       = 5
	waitsRemembered = 30 * time.Second
	// firstRest and longestRest bound how long no read may come too late before
	// shorter buffers are tried, and quietBefore how long nothing may have been heard.
	firstRest, longestRest = time.Minute, 16 * time.Minute
	quietBefore            = time.Second
	// playsAlong is for how long after a key that was struck while a score played
	// somebody counts as one who plays along: then it begins with the buffers for keys.
	playsAlong = 15 * time.Minute
)

// Learned is what an automatic choice of buffers has learned of the machine, for the
// next start; the zero value is nothing.
type Learned struct{ Keys, Score LearnedBuffer }

// LearnedBuffer is the length of a device's buffer, and how long it has to do well
// before a shorter one is tried.
type LearnedBuffer struct{ Buffer, Calm time.Duration }

// String writes what ParseLearned reads.
func (l Learned) String() string {
	return fmt.Sprintf("%v %v %v %v", l.Keys.Buffer, l.Keys.Calm, l.Score.Buffer, l.Score.Calm)
}

// ParseLearned reads what String wrote; of anything else nothing was learned.
func ParseLearned(text string) Learned {
	var words [4]string
	if n, _ := fmt.Sscan(text, &words[0], &words[1], &words[2], &words[3]); n < len(words) {
		return Learned{}
	}
	var d [4]time.Duration
	for i, w := range words {
		var err error
		if d[i], err = time.ParseDuration(w); err != nil {
			return Learned{}
		}
	}
	return Learned{LearnedBuffer{d[0], d[1]}, LearnedBuffer{d[2], d[3]}}
}

func newChooser(l Learned, now time.Time) chooser {
	return chooser{keys: newLadder(0, sharedRung, keysWaits, l.Keys), score: newLadder(sharedRung, len(rungs)-1, scoreWaits, l.Score), looked: now}
}

func newLadder(least, most, enough int, learned LearnedBuffer) ladder {
	l := ladder{rung: least, least: least, most: most, enough: enough, calm: min(max(learned.Calm, firstRest), longestRest)}
	if at := slices.IndexFunc(rungs, func(p Profile) bool { return p.Device == learned.Buffer }); at > least {
		l.rung = min(at, most)
	}
	return l
}

// forget goes back to where a chooser begins that has learned nothing.
func (c *chooser) forget() {
	scored := c.scored
	*c = newChooser(Learned{}, c.looked)
	c.scored = scored
}

func (c *chooser) learned() Learned { return Learned{c.keys.learned(), c.score.learned()} }

func (l *ladder) learned() LearnedBuffer { return LearnedBuffer{rungs[l.rung].Device, l.calm} }

// profile is the buffers that are chosen.
func (c *chooser) profile() Profile { return rungs[c.inForce().rung] }

func (c *chooser) inForce() *ladder {
	if c.scored {
		return &c.score
	}
	return &c.keys
}

// begin is told that the score begins to play, and whether by itself. It reports
// whether other buffers are chosen now.
func (c *chooser) begin(alone bool) (changed bool) {
	before := c.profile()
	c.scored = alone
	return c.profile() != before
}

// served is what a chooser is told of the reads since the last look.
type served struct {
	// heard counts how often the device's own buffer ran out while something sounded,
	// and unheard how often while nothing did.
	heard, unheard int
	// longest is how long that buffer would have had to last in the worst of those
	// that count as heard.
	longest time.Duration
	// quiet is how long nothing has sounded; a score that plays only rests.
	quiet   time.Duration
	playing bool
}

// look takes note of how the device was served, and reports whether other buffers
// are chosen now.
func (c *chooser) look(s served, now time.Time) (changed bool) {
	before := c.profile()
	passed := now.Sub(c.looked)
	c.looked = now
	silent := s.quiet >= quietBefore && !s.playing
	c.inForce().look(s, silent, passed, now)
	if silent {
		c.scored = false
	}
	return c.profile() != before
}

// look takes note of how the device was served in the time that has passed.
func (l *ladder) look(s served, silent bool, passed time.Duration, now time.Time) {
	l.waits = slices.DeleteFunc(l.waits, func(t time.Time) bool { return now.Sub(t) >= waitsRemembered })
	curable := s.heard > 0 && s.longest < rungs[l.most].Device
	if n := len(l.waits); curable && (n == 0 || now.Sub(l.waits[n-1]) >= oneStumble) {
		l.waits = append(l.waits, now)
	}
	l.well += passed
	if s.heard+s.unheard > 0 {
		l.well = 0
	}
	if l.tried && l.well >= l.calm {
		l.tried, l.calm = false, max(l.calm/2, firstRest)
	}
	switch {
	case l.tooMany(now) && l.rung < l.most:
		if l.tried {
			l.calm = min(2*l.calm, longestRest)
		}
		l.climb(s.longest)
		l.tried = false
	case l.rung > l.least && l.well >= l.calm && silent:
		l.rung--
		l.tried = true
	default:
		return
	}
	l.well, l.waits = 0, l.waits[:0]
}

// tooMany reports whether too many reads have come too late of late.
func (l *ladder) tooMany(now time.Time) bool {
	n := len(l.waits)
	return n >= manyWaits || n >= l.enough && now.Sub(l.waits[n-l.enough]) < waitsTogether
}

// climb goes up to the first rung whose device buffer outlasts a wait, for each rung
// in turn would cost a gap; at least by one.
func (l *ladder) climb(wait time.Duration) {
	for l.rung++; l.rung < l.most && rungs[l.rung].Device <= wait; l.rung++ {
	}
}
