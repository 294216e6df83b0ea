package cli

import (
	"context"
	"crypto/ed25519"
	"errors"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
	"canewright/engine/parcel"
)

type packOptions struct {
	recipe, file, as string
	sign             bool
}

func newPackCmd(c *commander) *cobra.Command {
	var o packOptions
	cmd := &cobra.Command{
		Use: "pack RECIPE", Short: "Pack a recipe into one file, to send it", Args: cobra.ExactArgs(1),
		Long: `Pack a recipe into one file that a mail program carries, for a colleague or a
pupil, who opens it with "canewright open FILE". Nothing is sent anywhere.

The recipe is checked first, and its cases are tried; one with errors is not
packed. With it go the cases.yaml and the pictures (pictures/NAME.png or .jpg)
that lie beside a file called recipe.yaml, the recipes that a version of your
own builds on, and the instrument, if it is one of your own without code. An
instrument that is a program is only named: a pack never holds anything that can
be run. What a camera writes beside a picture (place, time, name) stays here; a
picture that lies on its side without it has to be turned first.

--sign signs it with your key. A signature says that whoever has this key signed
the pack, and that nothing in it was changed since; it does not say who that is.
So tell your key's fingerprint to the other side by another way, once: read it
to them. The key is made at the first --sign and lies in your data folder, which
never leaves it; keep a copy, and keep it to yourself. --as says in your own
words who you are.

The same recipe, signed or not, gives the same file, byte for byte. Without -o
the file is called ID-vVERSION.canewright. No file is written over.`,
		Example: "  canewright pack my-reed.yaml\n  canewright pack bassoon/from-shaped-cane -o reed.canewright\n  canewright pack my-reed --sign --as \"the second bassoon\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			o.recipe = args[0]
			if o.as != "" && !o.sign {
				return hinted{usagef("pack: --as says who signs"), "add --sign"}
			}
			return runPack(cmd.Context(), c, o)
		},
	}
	cmd.Flags().StringVarP(&o.file, "output", "o", "", "write to `FILE`, which must not exist (default: ID-vVERSION.canewright)")
	cmd.Flags().BoolVar(&o.sign, "sign", false, "sign it with your key")
	cmd.Flags().StringVar(&o.as, "as", "", "who signs, in your own `WORDS`")
	c.jsonFlag(cmd)
	c.offerRecipes(cmd, false)
	return cmd
}

func runPack(ctx context.Context, c *commander, o packOptions) error {
	w := c.works()
	p, err := w.Pack(ctx, o.recipe)
	if err != nil {
		return packing(o.recipe, err)
	}
	if !c.json {
		if err := p.List.Text(c.sys.Out); err != nil {
			return err
		}
	}
	if o.sign {
		key, err := c.signingKey(w)
		if err != nil {
			return err
		}
		if err := p.Contents.Sign(key, o.as); err != nil {
			return usageError{packing(o.recipe, err)}
		}
	}
	data, err := parcel.Write(p.Contents)
	if err != nil {
		return packing(o.recipe, err)
	}
	h := p.Contents.Heading
	if o.file == "" {
		o.file = fmt.Sprintf("%s-v%d.canewright", h.ID, h.Version)
	}
	there, err := writePack(o.file, data)
	if err != nil {
		return err
	}
	if c.json {
		return c.printJSON(packed(o.file, there, len(data), p))
	}
	c.showPacked(o.file, there, len(data), p)
	return nil
}

// packing says what was being done; refusals come from the contents here.
func packing(name string, err error) error {
	if r, ok := errors.AsType[*parcel.Refusal](err); ok {
		return hinted{fmt.Errorf("pack %s: %w", diagnostic.Clean(name), r), "nothing was written"}
	}
	return err
}

// signingKey is the player's key; it is made when there is none, and they are
// told before.
func (c *commander) signingKey(w *wire.Works) (ed25519.PrivateKey, error) {
	key, err := w.Key()
	if err != nil || key != nil {
		return key, err
	}
	path, err := w.KeyPath()
	if err != nil {
		return nil, err
	}
	// To Err: with --json too it has to be said.
	fmt.Fprintf(c.sys.Err, "You have no signing key yet. One is made now and kept in\n  %s\nKeep a copy of this file, and keep it to yourself: whoever has it signs as you.\n", diagnostic.Clean(path))
	return w.MakeKey()
}

// writePack writes a file that is not there yet; there reports that the same
// bytes were there already.
func writePack(path string, data []byte) (there bool, err error) {
	if info, serr := os.Stat(path); serr == nil && info.Mode().IsRegular() && info.Size() == int64(len(data)) {
		if old, rerr := os.ReadFile(path); rerr == nil && string(old) == string(data) {
			return true, nil
		}
	}
	return false, writeNew("pack", path, data)
}

func (c *commander) showPacked(file string, there bool, size int, p *wire.Packing) {
	h := p.Contents.Heading
	c.wrap("", fmt.Sprintf("Packed: %s (%s, version %d), %s.", h.Title, h.ID, h.Version, count(len(p.Contents.Files), "file")))
	for _, f := range p.Contents.Files {
		line := f.Name
		if f.Role() == parcel.Cases {
			line += ": " + caseCount(p.Played)
		}
		c.printf("  %s\n", line)
	}
	for _, s := range p.Said {
		c.wrap("", s)
	}
	if h.Licence == "" {
		c.wrap("", "The recipe names no licence: the other side may not know whether they may pass it on. A line such as licence: CC-BY-4.0 says it.")
	}
	if s := p.Contents.Signature; s != nil {
		c.printf("Signed. Your key's fingerprint, to read to the other side:\n  %s\n", parcel.Fingerprint(s.Key))
	} else {
		c.printf("Not signed; --sign does it.\n")
	}
	if there {
		c.printf("%s was there already, with just these bytes.\n", diagnostic.Clean(file))
		return
	}
	c.printf("Wrote %s, %s.\n", diagnostic.Clean(file), kib(size))
}

func packed(file string, there bool, size int, p *wire.Packing) any {
	type line struct {
		Name string      `json:"name"`
		Role parcel.Role `json:"role"`
		Size int         `json:"size"`
	}
	out := struct {
		File        string                  `json:"file"`
		Size        int                     `json:"size"`
		There       bool                    `json:"was_there"`
		ID          string                  `json:"id"`
		Version     int                     `json:"version"`
		Files       []line                  `json:"files"`
		Cases       int                     `json:"cases_tried"`
		Said        []string                `json:"said"`
		Fingerprint string                  `json:"fingerprint,omitempty"`
		Findings    []diagnostic.Diagnostic `json:"findings"`
	}{File: file, Size: size, There: there, ID: p.Contents.Heading.ID, Version: p.Contents.Heading.Version, Cases: p.Played,
		Files: []line{}, Said: append([]string{}, p.Said...), Findings: capped(p.List)}
	for _, f := range p.Contents.Files {
		out.Files = append(out.Files, line{f.Name, f.Role(), len(f.Data)})
	}
	if s := p.Contents.Signature; s != nil {
		out.Fingerprint = parcel.Fingerprint(s.Key)
	}
	return out
}

// capped are the findings that are shown of one file.
func capped(l diagnostic.List) []diagnostic.Diagnostic {
	all := l.Sorted()
	return append([]diagnostic.Diagnostic{}, all[:min(len(all), diagnostic.Most)]...)
}

func caseCount(n int) string {
	if n == 1 {
		return "1 case comes out as wanted"
	}
	return fmt.Sprintf("%d cases come out as wanted", n)
}

func kib(n int) string { return fmt.Sprintf("%d KiB", (n+1023)>>10) }

// parcelTrouble is the exit code and hint of errors about packs, keys and
// libraries; exitDone: it is none of these.
func (c *commander) parcelTrouble(err error) (code int, hint string) {
	if r, ok := errors.AsType[*parcel.Refusal](err); ok {
		return exitInvalid, refusalHint(r.Reason)
	}
	if _, ok := errors.AsType[*wire.CasesError](err); ok {
		return exitInvalid, "the readings and verdicts stand in cases.yaml; put right what is wrong, there or in the recipe"
	}
	if e, ok := errors.AsType[*wire.KeyError](err); ok {
		return exitInvalid, e.Hint
	}
	if e, ok := errors.AsType[*wire.KeyListError](err); ok {
		return exitInvalid, "each line is a key, a blank and a name; put the line right or remove it: " + e.Path
	}
	if e, ok := errors.AsType[*wire.OtherKeyError](err); ok {
		return exitUsage, "ask them by another way. If they really have a new key: remove their old line from " + e.Path + ", and say it again"
	}
	return exitDone, ""
}

func refusalHint(r parcel.Reason) string {
	switch r {
	case parcel.Cut, parcel.Damaged, parcel.Empty:
		return "it may not have arrived whole: ask for it again. Nothing was stored"
	case parcel.NotAPack:
		return "canewright pack makes one; a recipe's own file is read with canewright check FILE"
	case parcel.OtherFormat:
		return "get a newer canewright, or ask for an older form. Nothing was stored"
	case parcel.TooLarge, parcel.FileTooLarge, parcel.TooMany:
		return "nothing was stored"
	}
	return "canewright does not write such a file: somebody, or some program, changed it. Ask the sender; nothing was stored"
}
