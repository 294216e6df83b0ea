package sdk

import (
	"strings"
	"testing"
)

func TestServeRefusesInRemedies(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say   string
		spoil func(*Remedy)
		want  string
	}{
		{"nothing touched", func(r *Remedy) { r.Touches = "" }, `remedy "one": it touches ""`},
		{"a fourth wire", func(r *Remedy) { r.Wire = "fourth" }, `wire "fourth"`},
		{"an odd axis", func(r *Remedy) { r.Axis = "below" }, `axis "below"`},
		{"an odd way", func(r *Remedy) { r.Expect = []Effect{{"line", "up"}} }, `expects "up" of "line"`},
		{"an odd grade", func(r *Remedy) { r.Sources = []Source{{Says: "so", Grade: "sure"}} }, `graded "sure"`},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			in := shawm()
			r := Remedy{Name: "one", Symptoms: []string{"hard"}, Because: "thick", Do: "Wait.", Touches: TouchesNothing}
			c.spoil(&r)
			in.Symptoms, in.Remedies = []Symptom{{Name: "hard", Words: "it is hard"}}, []Remedy{r}
			var f failing
			Try(&f, in)
			if len(f.said) != 1 || !strings.Contains(f.said[0], c.want) {
				t.Errorf("said %q, want %q", f.said, c.want)
			}
		})
	}
}
