package conform

import "context"

// Tester is the part of *testing.T that Test uses.
type Tester interface {
	Helper()
	Context() context.Context
	Logf(format string, a ...any)
	Errorf(format string, a ...any)
	Fatalf(format string, a ...any)
}

// Test runs the kit on a plugin and fails the test for every check that
// failed. Under the race detector a Go plugin needs Patience.
func Test(t Tester, p Program, o ...Options) {
	t.Helper()
	var opts Options
	if len(o) > 0 {
		opts = o[0]
	}
	r, err := Run(t.Context(), p, opts)
	if err != nil {
		t.Fatalf("%v", err)
		return
	}
	for _, c := range r.Checks {
		if c.Result == Failed {
			t.Errorf("%s: %v; do: %s", c.Name, c.Seen, c.Do)
		}
	}
	t.Logf("%s", r)
}
