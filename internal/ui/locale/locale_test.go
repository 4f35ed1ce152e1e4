package locale

import "testing"

func TestNeutral(t *testing.T) {
	for locale, want := range map[string]bool{
		"": false, "C": false, "POSIX": false, "C.UTF-8": true, "POSIX.utf8": true,
		"en_US.UTF-8": false, "de": false, "Cy.UTF-8": false,
	} {
		if got := neutral(locale); got != want {
			t.Errorf("neutral(%q) = %v, want %v", locale, got, want)
		}
	}
}
