package arrange

import "testing"

// TestCuesInWords: what the program has named is in its language, what the user has
// is not, and that something was changed is the program's word again.
func TestCuesInWords(t *testing.T) {
	loud := func(form string) string {
		switch form {
		case "reeds":
			return "REEDS"
		case "slow":
			return "SLOW"
		case "%s, changed":
			return "CHANGED %s"
		}
		return form
	}
	for _, tc := range []struct {
		cue  Cue
		want string
	}{
		{Cue{Kind: CueRotary, Value: "slow"}, "SLOW"},
		{Cue{Kind: CueRegistration, Value: "reeds"}, "REEDS"},
		{Cue{Kind: CueRegistration, Value: "reeds, changed"}, "CHANGED REEDS"},
		{Cue{Kind: CueRegistration, Value: "slow"}, "slow"}, // a name of the user's
		{Cue{Kind: CueRegistration, Value: "slow, changed"}, "CHANGED slow"},
		{Cue{Kind: CueExpression, Value: "60 %"}, "60 %"},
	} {
		if got := tc.cue.Words().In(loud); got != tc.want {
			t.Errorf("%s is %q, want %q", tc.cue.Value, got, tc.want)
		}
	}
}
