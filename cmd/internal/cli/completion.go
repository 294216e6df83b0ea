package cli

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"canewright/engine/diagnostic"
	"canewright/engine/logbook"
	"canewright/engine/yamldoc"
	"canewright/recipes"
)

func newCompletionCmd(c *commander) *cobra.Command {
	return &cobra.Command{
		Use: "completion bash|zsh|fish|powershell", Short: "Print what makes your shell complete canewright's words",
		Long: `Print a script that teaches your shell to complete commands, flags, and the
names of recipes, batches, instruments and stages, when you press Tab.

bash (with the package bash-completion), once, then open a new window:
  mkdir -p ~/.local/share/bash-completion/completions
  canewright completion bash > ~/.local/share/bash-completion/completions/canewright

zsh, once; the two lines after the first belong into ~/.zshrc, if they are not
there yet:
  mkdir -p ~/.zfunc && canewright completion zsh > ~/.zfunc/_canewright
  fpath=(~/.zfunc $fpath)
  autoload -U compinit && compinit

fish, once:
  mkdir -p ~/.config/fish/completions
  canewright completion fish > ~/.config/fish/completions/canewright.fish

PowerShell; this line belongs into the file that $PROFILE names:
  canewright completion powershell | Out-String | Invoke-Expression

To try it in this window alone:
  source <(canewright completion bash)        (in bash; zsh in the same way)
  canewright completion fish | source         (in fish)`,
		Args:      cobra.MatchAll(cobra.ExactArgs(1), cobra.OnlyValidArgs),
		ValidArgs: []string{"bash", "zsh", "fish", "powershell"},
		RunE: func(cmd *cobra.Command, args []string) error {
			switch root := cmd.Root(); args[0] {
			case "bash":
				return root.GenBashCompletionV2(c.sys.Out, true)
			case "zsh":
				return root.GenZshCompletion(c.sys.Out)
			case "fish":
				return root.GenFishCompletion(c.sys.Out, true)
			default:
				return root.GenPowerShellCompletionWithDesc(c.sys.Out)
			}
		},
	}
}

// What a shell is offered is only read: no logbook is made, changed or held up,
// no plugin is started, and what cannot be read is not offered, in silence.

// mostOffered names are offered; more help nobody.
const mostOffered = 200

const (
	onlyThese = cobra.ShellCompDirectiveNoFileComp
	asListed  = cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveKeepOrder
)

// offerBatches completes batch names: one, or several.
func (c *commander) offerBatches(cmd *cobra.Command, several bool) {
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) > 0 && !several {
			return nil, onlyThese
		}
		return c.batchNames(cmd, args, word), asListed
	}
	if cmd.Flags().Lookup("format") != nil {
		_ = cmd.RegisterFlagCompletionFunc("format", cobra.FixedCompletions([]cobra.Completion{"jsonl\teverything that was kept", "csv\tthe readings"}, asListed))
	}
}

// offerRecipes completes names of recipes: one, or several.
func (c *commander) offerRecipes(cmd *cobra.Command, several bool) {
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) > 0 && !several {
			return nil, onlyThese
		}
		return c.recipeNames(word)
	}
}

// offerRecipesTo completes a flag that takes a recipe.
func (c *commander) offerRecipesTo(cmd *cobra.Command, flag string) {
	_ = cmd.RegisterFlagCompletionFunc(flag, func(_ *cobra.Command, _ []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return c.recipeNames(word)
	})
}

// offerInstruments completes names of instruments, bundled and added; after
// them, or beside them, only what then says.
func (c *commander) offerInstruments(cmd *cobra.Command, then cobra.ShellCompDirective) {
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, onlyThese
		}
		store := c.works().Store()
		var out []cobra.Completion
		for _, name := range slices.Concat(store.Taken, store.Names()) {
			if strings.HasPrefix(name, word) {
				out = append(out, name)
			}
		}
		slices.Sort(out)
		return out[:min(len(out), mostOffered)], then
	}
}

// offerFollow completes a recipe, or with --resume a batch, and the flags that
// take names. It is called when the flags are there.
func (c *commander) offerFollow(cmd *cobra.Command) {
	resumed := func() bool {
		r, err := cmd.Flags().GetBool("resume")
		return err == nil && r
	}
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
		switch {
		case len(args) > 0:
			return nil, onlyThese
		case resumed():
			return c.batchNames(cmd, nil, word), asListed
		}
		return c.recipeNames(word)
	}
	_ = cmd.RegisterFlagCompletionFunc("batch", func(_ *cobra.Command, _ []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if !resumed() {
			return nil, onlyThese // a new name is the player's own
		}
		return c.batchNames(cmd, nil, word), asListed
	})
	_ = cmd.RegisterFlagCompletionFunc("from", func(_ *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return nil, onlyThese
		}
		return c.stageNames(args[0], word), asListed
	})
}

func (c *commander) batchNames(cmd *cobra.Command, given []string, word string) []cobra.Completion {
	path, err := c.works().BookPath()
	if err != nil {
		return nil
	}
	var out []cobra.Completion
	for _, n := range logbook.Names(cmd.Context(), path, mostOffered) {
		if strings.HasPrefix(n.Name, word) && !slices.Contains(given, n.Name) && !strings.ContainsFunc(n.Name, diagnostic.Unsafe) {
			out = append(out, cobra.CompletionWithDesc(n.Name, diagnostic.Clean(n.Title)))
		}
	}
	return out
}

// recipeNames are the bundled recipes, those of the libraries, and the recipe
// files and folders where the word leads.
func (c *commander) recipeNames(word string) ([]cobra.Completion, cobra.ShellCompDirective) {
	var out []cobra.Completion
	for _, n := range recipes.All() {
		if strings.HasPrefix(n, word) {
			out = append(out, n)
		}
	}
	for _, n := range c.libraryPlaces(word) {
		if !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	directive := onlyThese
	lead, start := filepath.Split(word)
	folder, err := os.Open(filepath.Join(".", lead))
	if filepath.IsAbs(lead) {
		folder, err = os.Open(lead)
	}
	if err != nil {
		return out, directive
	}
	defer folder.Close()
	const mostFiles = 10_000
	entries, _ := folder.ReadDir(mostFiles)
	slices.SortFunc(entries, func(a, b fs.DirEntry) int { return strings.Compare(a.Name(), b.Name()) })
	files := 0
	for _, e := range entries {
		name := e.Name()
		if !strings.HasPrefix(name, start) || start == "" && strings.HasPrefix(name, ".") || strings.ContainsFunc(name, diagnostic.Unsafe) || files == mostOffered {
			continue
		}
		switch ext := strings.ToLower(filepath.Ext(name)); {
		case e.IsDir():
			// More follows; so no blank after any of these.
			directive |= cobra.ShellCompDirectiveNoSpace
			out = append(out, lead+name+string(filepath.Separator))
		case ext == ".yaml" || ext == ".yml":
			out = append(out, lead+name)
		default:
			continue
		}
		files++
	}
	return out, directive
}

// stageNames are the stages of a recipe as its file has them.
func (c *commander) stageNames(recipe, word string) []cobra.Completion {
	path := recipe
	if info, err := os.Stat(path); err == nil {
		if info.IsDir() {
			info, err = os.Stat(filepath.Join(path, "recipe.yaml"))
		}
		if err != nil || !info.Mode().IsRegular() {
			return nil // reading a pipe would wait
		}
	}
	file, data, err := c.works().ReadRecipe(recipe)
	if err != nil {
		return nil
	}
	root, _, _ := yamldoc.ParseBytes(file, data)
	var out []cobra.Completion
	var walk func(n *yamldoc.Node)
	walk = func(n *yamldoc.Node) {
		for _, s := range n.Get("stages").Items() {
			name := strings.TrimSpace(s.Get("stage").Value())
			if name != "" && strings.HasPrefix(name, word) && !slices.Contains(out, name) && !strings.ContainsFunc(name, diagnostic.Unsafe) && len(out) < mostOffered {
				out = append(out, name)
			}
			walk(s)
		}
	}
	walk(root)
	return out
}
