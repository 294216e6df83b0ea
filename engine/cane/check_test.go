package cane

import (
	"errors"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Where a test names a printed value, its tolerance is half the last digit
// printed; a second value with more digits was worked out in other software
// (mpmath, SciPy, sympy). "Worked example" is a sum done before this package, by
// hand or in other software, and printed as rounded as it stands.

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.12g, want %.12g ± %g", what, got, want, tolerance)
	}
}

// near compares to a share of the wanted value.
func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	within(t, what, got, want, math.Abs(want)*share)
}

// must takes the value of a call that should succeed.
func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// refused checks that an error came, and whether it says no solution.
func refused(t *testing.T, what string, err error, none bool) {
	t.Helper()
	if err == nil {
		t.Errorf("%s was not refused", what)
		return
	}
	if got := errors.Is(err, ErrNoSolution); got != none {
		t.Errorf("%s: %v: is no solution: %v, want %v", what, err, got, none)
	}
	if s := err.Error(); strings.HasSuffix(s, ".") || !strings.Contains(s, ": ") || strings.Contains(s, "%!") {
		t.Errorf("%s: error reads %q", what, s)
	}
}

// table reads a file of published values: a comment line, a line of column
// names, then rows.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/checks/" + name)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimRight(string(data), "\n"), "\n")
	if len(lines) < 3 || !strings.HasPrefix(lines[0], "#") {
		t.Fatalf("%s does not begin with its source", name)
	}
	head := strings.Split(lines[1], "\t")
	var rows []map[string]string
	for _, l := range lines[2:] {
		row := map[string]string{}
		for i, cell := range strings.Split(l, "\t") {
			row[head[i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

const degree = math.Pi / 180
