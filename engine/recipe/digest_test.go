package recipe_test

import (
	"testing"

	"canewright/engine/recipe"
)

// "abc": FIPS 180-2, appendix B.1.
func TestDigest(t *testing.T) {
	t.Parallel()
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	if got := recipe.Digest([]byte("abc")); got != abc {
		t.Errorf("abc: %s", got)
	}
	same := recipe.Digest([]byte("a: 1\nb: 2\n"))
	for _, other := range []string{"a: 1\r\nb: 2\r\n", "\ufeffa: 1\nb: 2\n"} {
		if got := recipe.Digest([]byte(other)); got != same {
			t.Errorf("%q has another digest", other)
		}
	}
	if recipe.Digest([]byte("a: 1\nb: 3\n")) == same {
		t.Error("another number has the same digest")
	}
	if got := string(recipe.Text([]byte("\ufeffa: 1\r\nb: 2"))); got != "a: 1\nb: 2" {
		t.Errorf("what counts is %q", got)
	}
}
