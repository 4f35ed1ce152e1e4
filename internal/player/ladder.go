package player

import (
	"slices"
	"time"
)

// ladder chooses among the buffers where that is left to the player. It begins
// with short ones, so that the first key a user strikes answers at once, and
// climbs when a device was kept waiting while something sounded: that is what can
// be heard as gaps. After a calm time, in which no read came too late whether
// something sounded or not, it steps down again, but only in silence, for another
// device buffer is another connection and a moment without sound. If that was too
// soon, the next calm has to be twice as long, as with a cushion: a machine that is
// busy now and again is not tried for ever.
type ladder struct {
	rung  int
	calm  time.Duration
	since time.Time   // the last read that was too late, or change of rung
	tried bool        // the last change was down
	waits []time.Time // reads that were too late while something sounded, of late
}

// rungs are what a ladder chooses among. Where the sound library holds one
// connection, the device's buffer cannot change until the program ends, and a
// short one would have to do for every load: there is one rung. The last is for a
// score that plays, see keysRung.
var rungs = func() []Profile {
	if !severalConnections {
		return []Profile{LiveProfile}
	}
	return []Profile{ShortestProfile, ShortProfile, LiveProfile, SafeProfile}
}()

const (
	// firstRung is where a ladder begins.
	firstRung = 1
	// enoughWaits within waitsTogether are too many, for a buffer that is too short
	// is so again and again; and manyWaits within waitsRemembered. One alone, at a
	// press that has the window drawn anew, say, is answered by the cushion.
	enoughWaits     = 2
	waitsTogether   = 2 * time.Second
	manyWaits       = 5
	waitsRemembered = 30 * time.Second
	// firstRest and longestRest bound how long no read may come too late before
	// shorter buffers are tried, and quietBefore how long nothing may have sounded:
	// a reverberation has died away then, and the next key is not yet struck.
	firstRest, longestRest = time.Minute, 16 * time.Minute
	quietBefore            = 3 * time.Second
)

// keysRung is the last rung for keys and for blocks that are walked to: with longer
// buffers they are heard after a sixth of a second. A score that plays does not mind.
var keysRung = max(0, len(rungs)-2)

func newLadder(now time.Time) ladder {
	return ladder{rung: min(firstRung, len(rungs)-1), calm: firstRest, since: now}
}

// served is what a ladder is told of the reads since the last look.
type served struct {
	// heard counts the reads that came later than the device's own buffer lasts
	// while something sounded, and unheard the others.
	heard, unheard int
	// longest is the longest wait for one of those that count as heard.
	longest time.Duration
	// quiet is how long nothing has sounded.
	quiet time.Duration
	// playing says that the score plays.
	playing bool
}

// look takes note of how the device was served, and reports whether the rung is
// another now.
func (l *ladder) look(s served, now time.Time) (changed bool) {
	l.waits = slices.DeleteFunc(l.waits, func(t time.Time) bool { return now.Sub(t) >= waitsRemembered })
	for range min(s.heard, manyWaits) {
		l.waits = append(l.waits, now)
	}
	if s.heard+s.unheard > 0 {
		l.since = now
	}
	last := keysRung
	if s.playing {
		last = len(rungs) - 1
	}
	switch {
	case l.rung > last && s.quiet >= quietBefore:
		l.rung, l.tried = last, false
	case l.tooMany(now) && l.rung < last:
		if l.tried {
			l.calm = min(2*l.calm, longestRest)
		}
		l.climb(s.longest)
		l.tried = false
	case l.rung > 0 && now.Sub(l.since) >= l.calm && s.quiet >= quietBefore:
		l.rung--
		l.tried = true
	default:
		return false
	}
	l.since, l.waits = now, l.waits[:0]
	return true
}

// tooMany reports whether too many reads have come too late of late.
func (l *ladder) tooMany(now time.Time) bool {
	n := len(l.waits)
	return n >= manyWaits || n >= enoughWaits && now.Sub(l.waits[n-enoughWaits]) < waitsTogether
}

// climb goes up to the first rung whose device buffer outlasts a wait, for each rung
// in turn would cost a gap; at least by one, and not past keysRung at once.
func (l *ladder) climb(wait time.Duration) {
	for l.rung++; l.rung < keysRung && rungs[l.rung].Device <= wait; l.rung++ {
	}
}
