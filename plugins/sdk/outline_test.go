package sdk

import (
	"strings"
	"testing"
)

func TestServeRefusesInOutlines(t *testing.T) {
	t.Parallel()
	memory := Source{Says: "so", Grade: FromMemory}
	for _, c := range []struct {
		say   string
		value OutlineValue
		want  string
	}{
		{"no number", OutlineValue{Name: "drawn.tip", Value: "wide", Source: memory}, `outline: value of "drawn.tip": "wide"`},
		{"a word of its own in another unit", OutlineValue{Name: "drawn.tip", Value: "3 g", Source: memory}, `"3 g"`},
		{"an odd grade", OutlineValue{Name: "drawn.tip", Value: "3 mm"}, `graded ""`},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			in := shawm()
			in.Outline = &Outline{From: "the butt", Values: []OutlineValue{c.value}}
			var f failing
			Try(&f, in)
			if len(f.said) != 1 || !strings.Contains(f.said[0], c.want) {
				t.Errorf("said %q, want %q", f.said, c.want)
			}
		})
	}
}
