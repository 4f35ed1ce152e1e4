package projecttest_test

import (
	"testing"

	"pgregory.net/rapid"

	"organbook/internal/project/projecttest"
)

func TestChartsAreValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := projecttest.Charts(projecttest.Small).Draw(t, "chart")
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
	})
}
