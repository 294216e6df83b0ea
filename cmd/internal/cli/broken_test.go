package cli

import (
	"slices"
	"testing"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

func TestBrokenIsWhatRecipesCannotUseAnyMore(t *testing.T) {
	t.Parallel()
	set := func(dims ...dimension.Dimension) *dimension.Set {
		return &dimension.Set{ID: "shawm", Major: 1, Dimensions: dims}
	}
	before := set(
		dimension.Dimension{Name: "tip.opening", Kind: quantity.Length},
		dimension.Dimension{Name: "reed.mass", Kind: quantity.Mass},
		dimension.Dimension{Name: "reed.length", Kind: quantity.Length},
		dimension.Dimension{Name: "wire.first", Kind: quantity.Length},
	)
	now := set(
		dimension.Dimension{Name: "reed.mass", Kind: quantity.Length},
		dimension.Dimension{Name: "reed.whole", Kind: quantity.Length, Was: []string{"reed.length"}}, // renamed: recipes are still read
		dimension.Dimension{Name: "wire.first", Kind: quantity.Length},
		dimension.Dimension{Name: "new", Kind: quantity.Length},
	)
	if got, want := broken(before, now), []string{"tip.opening", "reed.mass (was mass, is length)"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
	if got := broken(before, before); len(got) > 0 {
		t.Errorf("of the same: %q", got)
	}
}
