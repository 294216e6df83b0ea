package cli

import (
	"fmt"
	"slices"

	"canewright/cmd/internal/wire"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/review"
)

// compareRecipes says what the pupil's recipe has otherwise than the teacher's.
func compareRecipes(name string, own []byte, rec review.Record, b *recipe.Bound) (*compared, error) {
	x := &compared{Name: name, Same: recipe.Digest(own) == recipe.Digest(rec.Recipe)}
	if x.Same {
		return x, nil
	}
	f, list := recipe.Load(name, own)
	if f == nil {
		return nil, &wire.InvalidError{Name: name, List: list}
	}
	if f.ID != b.File.ID || f.Version != b.File.Version {
		x.Different = append(x.Different, fmt.Sprintf("yours is %s, version %d; the pupil's is %s, version %d", f.ID, f.Version, b.File.ID, b.File.Version))
	}
	mine, theirs := byPlace(f), byPlace(b.File)
	for _, k := range mine.order {
		if now, there := theirs.text[k]; !there {
			x.Different = append(x.Different, k+": "+mine.text[k]+" in yours, not in the pupil's")
		} else if !alike(now, mine.text[k]) {
			x.Different = append(x.Different, k+": "+mine.text[k]+" in yours, "+now+" in the pupil's")
		}
	}
	for _, k := range theirs.order {
		if _, there := mine.text[k]; !there {
			x.Different = append(x.Different, k+": "+theirs.text[k]+" in the pupil's, not in yours")
		}
	}
	for _, name := range f.StageNames() {
		if !slices.Contains(b.File.StageNames(), name) {
			x.Different = append(x.Different, "stage "+name+": in yours, not in the pupil's")
		}
	}
	for _, name := range b.File.StageNames() {
		if !slices.Contains(f.StageNames(), name) {
			x.Different = append(x.Different, "stage "+name+": in the pupil's, not in yours")
		}
	}
	if len(x.Different) == 0 {
		x.Different = []string{"settings, targets and the names of stages are alike; other words differ"}
	}
	return x, nil
}

// alike reports that two texts say the same number, in whatever unit. What lies
// within rounding is for compare to tell.
func alike(a, b string) bool {
	if a == b {
		return true
	}
	if x, err := quantity.ParseAny(a, quantity.Style{}); err == nil {
		y, err := quantity.ParseAny(b, quantity.Style{})
		return err == nil && x.Value == y.Value
	}
	x, errX := quantity.ParseAnyTolerance(a)
	y, errY := quantity.ParseAnyTolerance(b)
	return errX == nil && errY == nil && x.Kind == y.Kind && x.Low == y.Low && x.High == y.High && x.Nominal == y.Nominal
}

type writtenNumbers struct {
	order []string
	text  map[string]string
}

// byPlace are the numbers of a recipe by where they stand.
func byPlace(f *recipe.File) writtenNumbers {
	out := writtenNumbers{text: map[string]string{}}
	for _, w := range f.Written() {
		key := w.Name.Value
		if w.Stage != "" {
			key += ", at " + w.Stage
		}
		if _, twice := out.text[key]; twice {
			continue
		}
		out.order = append(out.order, key)
		out.text[key] = w.Value.Value
		if w.Grid {
			out.text[key] = "a grid within " + w.Value.Value
		}
	}
	return out
}
