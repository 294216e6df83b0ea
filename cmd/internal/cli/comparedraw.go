package cli

import (
	"canewright/engine/comparison"
	"canewright/engine/recipe"
)

func (c *commander) drawBoth(found *comparison.Comparison, a, b *recipe.Bound, o compareOptions) error {
	return nil
}
