package project

import "encoding/json"

// The native file is one JSON object; NAME.organbook. Lists have one element a
// line, so that two versions of a chart can be compared line by line:
//
//	{
//	 "format": "organbook-chart",
//	 "version": 1,
//	 "title": "Night Ferry",
//	 "key": "G minor", "tempo": 132, "swing": 0.62, "console": "full",
//	 "bars": [
//	  {"meter":"4/4","section":"A"},
//	  {}
//	 ],
//	 "changes": [{"start":0,"chord":"Gm6"}],
//	 "melody": [{"start":0,"duration":10080,"pitch":"Bb4"}],
//	 "passages": [ … ],
//	 "pins": [{"start":0,"voicing":"close","voices":["Bb4","G4","E4","D4"]}]
//	}
//
// Positions and lengths are integers, 10080 to the quarter note, counted from
// the first bar. A meter such as "2+3/4" has its beats in groups. A bar without a
// meter has that of the bar before it, and one without a length lasts as long as
// its meter says. Passages start at a bar counted from 0. Whatever is left out is
// empty, off or zero.

const (
	chartFormat  = "organbook-chart"
	chartVersion = 1
)

// wireHeader is read first: it tells whose file it is.
type wireHeader struct {
	Format  string `json:"format"`
	Version int    `json:"version"`
}

// wireChart holds the lists unread, so that their length can be bounded.
type wireChart struct {
	wireHeader
	Title    string          `json:"title"`
	Composer string          `json:"composer"`
	Key      string          `json:"key"`
	Tempo    float64         `json:"tempo"`
	Swing    float64         `json:"swing"`
	Console  string          `json:"console"`
	Bars     json.RawMessage `json:"bars"`
	Changes  json.RawMessage `json:"changes"`
	Melody   json.RawMessage `json:"melody"`
	Passages json.RawMessage `json:"passages"`
	Pins     json.RawMessage `json:"pins"`
	Shelved  json.RawMessage `json:"shelvedPins"`
	Fingers  json.RawMessage `json:"fingerings"`
	Player   *wirePlayer     `json:"player"`
	Tone     *wireTone       `json:"tone"`
}

type wireBar struct {
	Meter       string  `json:"meter,omitempty"`
	Length      Ticks   `json:"length,omitempty"`
	Unnumbered  bool    `json:"unnumbered,omitempty"`
	Key         string  `json:"key,omitempty"`
	Tempo       float64 `json:"tempo,omitempty"`
	Section     string  `json:"section,omitempty"`
	RepeatStart bool    `json:"repeatStart,omitempty"`
	RepeatEnd   bool    `json:"repeatEnd,omitempty"`
	Times       int     `json:"times,omitempty"`
	Ending      []int   `json:"ending,omitempty"`
	EndingStart bool    `json:"endingStart,omitempty"`
	Segno       bool    `json:"segno,omitempty"`
	Coda        bool    `json:"coda,omitempty"`
	Fine        bool    `json:"fine,omitempty"`
	ToCoda      bool    `json:"toCoda,omitempty"`
	Jump        string  `json:"jump,omitempty"`
}

type wireChange struct {
	Start Ticks  `json:"start"`
	Chord string `json:"chord"`
}

type wireNote struct {
	Start    Ticks  `json:"start"`
	Duration Ticks  `json:"duration"`
	Pitch    string `json:"pitch"`
}

type wirePassage struct {
	Name     string `json:"name,omitempty"`
	FirstBar int    `json:"firstBar"`
	wireArrangement
	Takes []wireTake `json:"takes,omitempty"`
	Take  int        `json:"take,omitempty"`
}

type wireRegistration struct {
	Name   string  `json:"name,omitempty"`
	Upper  []int   `json:"upper"`
	Lower  []int   `json:"lower"`
	Pedal  []int   `json:"pedal"`
	Rotary string  `json:"rotary"`
	Swell  float64 `json:"swell"`
	Glide  float64 `json:"glide,omitempty"`
	wireEffects
}

type wirePin struct {
	Start     Ticks    `json:"start"`
	Strength  string   `json:"strength,omitempty"`
	Voicing   string   `json:"voicing"`
	Technique string   `json:"technique,omitempty"`
	Voices    []string `json:"voices,omitempty"`
}
