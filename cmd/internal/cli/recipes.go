package cli

import (
	"github.com/spf13/cobra"

	"canewright/engine/recipe"
	"canewright/recipes"
)

func newRecipesCmd(c *commander) *cobra.Command {
	cmd := &cobra.Command{
		Use: "recipes", Short: "List the bundled recipes, and those of your library", Args: cobra.NoArgs,
		Long: `List the recipes that come with canewright. Any of them can be read with
"canewright show NAME" and followed with "canewright follow NAME". A recipe of
your own is a file: give its path in place of the name.

Behind them stand the recipes of your library, which have names too;
"canewright library" says more of them. With --json it is the bundled ones.`,
		RunE: func(*cobra.Command, []string) error { return runRecipes(c) },
	}
	c.jsonFlag(cmd)
	return cmd
}

func runRecipes(c *commander) error {
	type line struct {
		Name       string `json:"name"`
		Title      string `json:"title"`
		Version    int    `json:"version"`
		Instrument string `json:"instrument"`
		Licence    string `json:"licence"`
	}
	all := []line{}
	for _, name := range recipes.All() {
		file, data, _ := recipes.Read(name)
		f, list := recipe.Load(file, data)
		if f == nil {
			list.Text(c.sys.Err)
			return errShown{exitInvalid}
		}
		all = append(all, line{name, f.Title, f.Version, f.Instrument, f.Licence})
	}
	if c.json {
		return c.printJSON(all)
	}
	for _, l := range all {
		c.printf("%s\n    %s, version %d\n", l.Name, l.Title, l.Version)
	}
	return c.recipesOfLibraries()
}
