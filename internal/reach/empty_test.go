package reach

import "testing"

func TestNothingToPlay(t *testing.T) {
	for _, c := range []Console{FullConsole, ShortConsole, ConcertConsole, SingleConsole} {
		r := Check(Piece{Console: c, Profile: DefaultProfile()})
		if !r.Playable() || len(r.Findings) != 0 || len(r.Marks) != 0 || r.Care != "" {
			t.Errorf("silence: %+v", r)
		}
	}
	if h := newHand(nil, nil, RightHand, FullConsole, DefaultProfile()); h.solve().cost != 0 {
		t.Error("silence costs")
	}
}

func TestProfilesOfNoPlayer(t *testing.T) {
	for name, change := range map[string]func(*Profile){
		"wider than its widest": func(p *Profile) { p.Hands[0].Comfortable = p.Hands[0].Maximal + 1 },
		"a hand of a giant":     func(p *Profile) { p.Hands[1].Maximal = MaxStretch + 1 },
		"no speed":              func(p *Profile) { p.Speed = 0 },
	} {
		p := DefaultProfile()
		change(&p)
		if p.Check() == nil {
			t.Errorf("%s passes", name)
		}
	}
	for _, p := range Profiles() {
		if err := p.Check(); err != nil {
			t.Errorf("%s: %v", p.Name, err)
		}
	}
}
