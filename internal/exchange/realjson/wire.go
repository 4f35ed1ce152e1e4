package realjson

// The types below are the document; their fields stand in the order of the
// file. They know nothing of how a realisation is made.

type document struct {
	Format          string    `json:"format"`
	Version         int       `json:"version"`
	TicksPerQuarter int       `json:"ticksPerQuarter"`
	Title           string    `json:"title"`
	Key             string    `json:"key"`
	Bars            []bar     `json:"bars"`
	Melody          []sound   `json:"melody"`
	Chords          []chord   `json:"chords"`
	Steps           []step    `json:"steps"`
	Notes           []note    `json:"notes"`
	Cues            []cue     `json:"cues"`
	Findings        []finding `json:"findings"`
}

type bar struct {
	// Number is the printed number; bars that do not count carry the number
	// of the bar before them, 0 at the start.
	Number int   `json:"number"`
	Start  int64 `json:"start"`
	Length int64 `json:"length"`
}

type sound struct {
	Start    int64 `json:"start"`
	Duration int64 `json:"duration"`
	Key      int   `json:"key"`
}

type chord struct {
	Start  int64  `json:"start"`
	Symbol string `json:"symbol"`
}

type step struct {
	Start    int64 `json:"start"`
	Duration int64 `json:"duration"`
	// Bar is the printed number of the bar, Beat the place in it: 1 is its
	// start, and fractions lie between the beats of the meter.
	Bar       int      `json:"bar"`
	Beat      float64  `json:"beat"`
	Melody    int      `json:"melody"`
	Chord     string   `json:"chord"`
	Family    *family  `json:"family,omitempty"`
	Technique string   `json:"technique"`
	Voicing   string   `json:"voicing"`
	Voices    []int    `json:"voices"`
	Spelled   []string `json:"spelled"`
	Name      string   `json:"name"`
	Reason    string   `json:"reason"`
	Pinned    bool     `json:"pinned"`
}

type family struct {
	Tonic string `json:"tonic"`
	Sixth string `json:"sixth"`
}

type note struct {
	Start    int64  `json:"start"`
	Duration int64  `json:"duration"`
	Key      int    `json:"key"`
	Division string `json:"division"`
	Limb     string `json:"limb"`
	Layer    string `json:"layer"`
	// Finger is 1 (thumb) to 5; 0 where none applies.
	Finger int `json:"finger"`
	// Then is the finger that silently takes the held key over.
	Then int `json:"then,omitempty"`
	// Glide tells that the finger or foot slides over from the key before.
	Glide bool `json:"glide,omitempty"`
	// Part is toe or heel, Cross in front or behind; for feet only.
	Part  string `json:"part,omitempty"`
	Cross string `json:"cross,omitempty"`
}

type cue struct {
	Start int64  `json:"start"`
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

type finding struct {
	Bar      int      `json:"bar"`
	Beat     float64  `json:"beat"`
	Limb     string   `json:"limb"`
	Severity string   `json:"severity"`
	Text     string   `json:"text"`
	Remedies []string `json:"remedies"`
}
