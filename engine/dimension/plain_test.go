package dimension

import (
	"testing"

	"pgregory.net/rapid"
)

func TestIsPlainAgreesWithPlain(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringMatching(`[a-bA-B. ä\t-]{0,8}`).Draw(t, "name")
		got := plain(name)
		if isPlain(name) && name != got {
			t.Fatalf("%q is said to be plain and becomes %q", name, got)
		}
	})
	for name, want := range map[string]bool{"": true, "wire.first": true, "first wire": true, "a-b": true, "Wire": false, "a  b": false, " a": false, "a ": false, "a .b": false, "a. b": false, "ä": false, "a\tb": false} {
		if isPlain(name) != want {
			t.Errorf("%q: %v", name, !want)
		}
	}
}
