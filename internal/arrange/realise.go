package arrange

import (
	"slices"
	"sort"

	"organbook/internal/project"
	"organbook/internal/reach"
	"organbook/internal/theory"
)

// Options override what every passage of a chart asks for. The zero value
// overrides nothing.
type Options struct {
	Voicing *theory.Voicing
	Plan    *project.HandPlan
	Bass    *project.BassStyle
	// Profile is the player the arrangement is for, unless the chart has its
	// own; nil is the default one.
	Profile *reach.Profile
	// Reach says how strongly the player's reach bears on the choice of blocks;
	// nil leaves it to the passages.
	Reach *project.ReachWeight
	// After is a realisation of much the same chart, such as the one before an
	// edit. It shortens the work and changes nothing else; nil is none.
	After *Realisation
}

// Realise works out a chart. It is deterministic, never writes to the chart,
// and takes time in proportion to the chart's length.
func Realise(c *project.Chart, o Options) *Realisation {
	s := newStage(c, o)
	r := &Realisation{Chart: c}
	r.Spans, s.readings = analyse(s)
	s.spans = r.Spans
	known := s.known
	s.search = newSearch(s)
	r.standing, s.before = standing{known, s.kinds, s.console, s.profile}, nil
	r.Steps = s.search.steps()
	s.steps = r.Steps
	r.Notes, r.Findings = s.play()
	r.Cues = s.cues()
	r.search = s.search
	r.finger(o)
	return r
}

// StepAt returns the index of the step that sounds at t, if any does.
func (r *Realisation) StepAt(t project.Ticks) (index int, ok bool) {
	i := sort.Search(len(r.Steps), func(i int) bool { return r.Steps[i].Start > t }) - 1
	if i < 0 || r.Steps[i].Start+r.Steps[i].Duration <= t {
		return 0, false
	}
	return i, true
}

// SpanAt returns the index of the span in force at t; -1 without any span.
func (r *Realisation) SpanAt(t project.Ticks) int { return spanAt(r.Spans, t) }

func spanAt(spans []Span, t project.Ticks) int {
	i := sort.Search(len(spans), func(i int) bool { return spans[i].Start > t }) - 1
	return min(max(i, 0), len(spans)-1)
}

// stage is what the parts of one realisation share while it is worked out.
type stage struct {
	chart    *project.Chart
	rule     *project.Ruler
	console  project.Console
	passages []passage
	profile  reach.Profile
	gauge    *reach.Gauge // of the profile
	keys     []theory.Key // the key in force in each bar
	spans    []Span
	readings []reading
	search   *search
	steps    []Step
	// served remembers the families of each chord and goal, because changes
	// recur all through a chart.
	served map[servedKey][]theory.Service
	// treatments remembers the families of spans as passages want them.
	treatments map[wantedKey][]theory.Service
	// tempos is the tempo in force in each bar, quarter notes a minute.
	tempos []float64
	// flow says which bars may follow those that do not just lead to the next one.
	flow map[int][]int
	// kinds lists the treatments and plans of the passages, each once.
	kinds []kind
	// known remembers candidates while the search is built, and is dropped then;
	// before are those of an earlier realisation, where they hold for this one.
	known, before map[standingKey][]candidate
}

// passage is a passage of the chart with the options applied and its stretch
// of time.
type passage struct {
	project.Passage
	start, end project.Ticks
	// kind is the index of the passage's treatment and plan among stage.kinds:
	// what is worked out for one passage serves all of a kind.
	kind int
}

func newStage(c *project.Chart, o Options) *stage {
	s := &stage{chart: c, rule: c.Ruler(), served: map[servedKey][]theory.Service{}, known: map[standingKey][]candidate{}, treatments: map[wantedKey][]theory.Service{}}
	s.profile = o.profile(c)
	var known bool
	if s.console, known = project.ConsoleByID(c.Console); !known {
		s.console, _ = project.ConsoleByID(project.DefaultConsole)
	}
	s.profile = onConsole(s.profile, s.console)
	s.gauge = reach.NewGauge(s.profile)
	s.keys, s.tempos = keysOf(c), temposOf(c)
	for i := range c.Passages {
		p := passage{Passage: c.Passages[i], end: s.rule.Length()}
		p.start = s.rule.BarStart(min(p.First, len(c.Bars)))
		if i+1 < len(c.Passages) {
			p.end = s.rule.BarStart(min(c.Passages[i+1].First, len(c.Bars)))
		}
		s.passages = append(s.passages, o.override(p))
	}
	if len(s.passages) == 0 {
		s.passages = []passage{o.override(passage{Passage: project.DefaultPassage(), end: s.rule.Length()})}
	}
	s.sortKinds()
	s.flow = flowOf(c.Bars)
	s.before = o.After.standingFor(s)
	return s
}

// standing is what a realisation leaves for a later one: its candidates, and
// what they depend on besides their keys.
type standing struct {
	known   map[standingKey][]candidate
	kinds   []kind
	console project.Console
	profile reach.Profile
}

// standingFor returns the candidates that hold for a stage as well; nil for none.
func (r *Realisation) standingFor(s *stage) map[standingKey][]candidate {
	if r == nil || r.standing.console != s.console || r.standing.profile != s.profile || !slices.Equal(r.standing.kinds, s.kinds) {
		return nil
	}
	return r.standing.known
}

// kind is what the candidates of a passage's notes depend on.
type kind struct {
	project.Treatment
	project.HandPlan
}

// sortKinds finds the passages that are treated alike.
func (s *stage) sortKinds() {
	for i := range s.passages {
		p := &s.passages[i]
		k := kind{p.Treatment, p.Plan}
		if p.kind = slices.Index(s.kinds, k); p.kind < 0 {
			p.kind, s.kinds = len(s.kinds), append(s.kinds, k)
		}
	}
}

func (o Options) override(p passage) passage {
	if o.Voicing != nil {
		p.Treatment.Voicing = *o.Voicing
	}
	if o.Plan != nil {
		p.Plan = *o.Plan
	}
	if o.Reach != nil {
		p.Treatment.Reach = *o.Reach
	}
	if o.Bass != nil {
		p.Bass = *o.Bass
	}
	return p
}

func keysOf(c *project.Chart) []theory.Key {
	keys := make([]theory.Key, len(c.Bars))
	key := c.Key
	for i := range c.Bars {
		if c.Bars[i].Key.IsValid() {
			key = c.Bars[i].Key
		}
		keys[i] = key
	}
	return keys
}

func temposOf(c *project.Chart) []float64 {
	tempos := make([]float64, len(c.Bars))
	tempo := c.Tempo
	for i := range c.Bars {
		if c.Bars[i].Tempo > 0 {
			tempo = c.Bars[i].Tempo
		}
		tempos[i] = tempo
	}
	return tempos
}

// tempoAt returns the tempo in a bar, at least 1.
func (s *stage) tempoAt(bar int) float64 {
	if bar >= len(s.tempos) {
		return max(1, s.chart.Tempo)
	}
	return max(1, s.tempos[bar])
}

// passageAt returns the passage that holds position t.
func (s *stage) passageAt(t project.Ticks) *passage {
	i := sort.Search(len(s.passages), func(i int) bool { return s.passages[i].start > t }) - 1
	return &s.passages[max(i, 0)]
}

// keyAt returns the key in force at t.
func (s *stage) keyAt(t project.Ticks) theory.Key {
	if len(s.keys) == 0 {
		return s.chart.Key
	}
	return s.keys[s.rule.BarAt(t)]
}

// meterAt returns the meter in force at t; common time on a chart with no bars.
func (s *stage) meterAt(t project.Ticks) project.Meter {
	if len(s.chart.Bars) == 0 {
		return project.CommonTime
	}
	if m := s.chart.Bars[s.rule.BarAt(t)].Meter; m.IsValid() {
		return m
	}
	return project.CommonTime
}
