package recipe_test

import (
	"math"
	"testing"

	"canewright/engine/cane"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Every function of cane reaches formulas, in the units of formulas.
func TestFunctionsOfCaneReachFormulas(t *testing.T) {
	t.Parallel()
	joined := recipe.Functions()
	if want := cane.Functions(); len(joined) != len(want) {
		t.Fatalf("%d of %d functions are joined", len(joined), len(want))
	}
	for _, f := range joined {
		if f.Name != "radius" && f.Name != "radius_of" && f.Name != "radius_of_arc" {
			continue
		}
		// needs.md G4: a chord of 16 mm with a sagitta of 2.895 mm has the radius
		// 12.5 mm (the sagitta is printed to 0.001).
		got, err := f.Run([]float64{16e6, 2.895e6})
		if err != nil || math.Abs(got-12.5e6) > 0.002e6 {
			t.Errorf("%s(16 mm, 2.895 mm) = %v nm, %v", f.Name, got, err)
		}
		if f.Result != quantity.Length {
			t.Errorf("%s gives %v", f.Name, f.Result)
		}
		return
	}
	var names []string
	for _, f := range joined {
		names = append(names, f.Name)
	}
	t.Fatalf("no function gives a radius: %v", names)
}
