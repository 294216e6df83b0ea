package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/terminal"
	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
	"canewright/engine/parcel"
)

type openOptions struct {
	file, trustAs      string
	keep, noInstrument bool
}

func newOpenCmd(c *commander) *cobra.Command {
	var o openOptions
	cmd := &cobra.Command{
		Use: "open FILE", Short: "Look at a recipe somebody sent; keep it if you like", Args: cobra.ExactArgs(1),
		Long: `Look at a pack, which is a recipe in one file, as "canewright pack" writes it.
You are shown who signed it, what it is, which instrument it is for and whether
you have that, what it asks for, its safety notes, how it stands to a recipe of
the same id you have, and what "canewright check" finds. Nothing is stored
until you say so: with --keep, or with a yes at a terminal.

A pack that was changed by as much as one bit, or that holds anything a pack
does not hold, is refused, and the reason is said (exit code 3).

Kept recipes lie in your library and have a name from then on. A recipe you have
is never written over: the new one lies beside it, under its version. An
instrument that comes along goes through the same door as "canewright
instruments add"; where it would take the place of another you are asked.
--no-instrument keeps the recipe without it.

A signature proves that whoever has this key signed the pack, and that nothing
in it was changed since. It does not prove who that is. When you know, because
they read you the fingerprint: --trust-as gives the key a name of yours, and
from then on you are told when it is the same key again, and warned when
somebody of that name comes with another.`,
		Example: "  canewright open reed.canewright\n  canewright open reed.canewright --keep\n  canewright open reed.canewright --trust-as \"my teacher\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			if cmd.Flags().Changed("trust-as") {
				if err := mayBeTrusted(o.trustAs); err != nil {
					return err
				}
			}
			return runOpen(cmd.Context(), c, o)
		},
	}
	cmd.Flags().BoolVar(&o.keep, "keep", false, "put it into your library")
	cmd.Flags().BoolVar(&o.noInstrument, "no-instrument", false, "keep the recipe without the instrument that comes along")
	cmd.Flags().StringVar(&o.trustAs, "trust-as", "", "call the key that signed it by this `NAME`")
	c.jsonFlag(cmd)
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, onlyThese
		}
		return []cobra.Completion{"canewright"}, cobra.ShellCompDirectiveFilterFileExt
	}
	return cmd
}

func mayBeTrusted(name string) error {
	if t := strings.TrimSpace(name); t == "" || t != name || len([]rune(name)) > parcel.LongestAs || strings.ContainsFunc(name, diagnostic.Unsafe) || strings.ContainsAny(name, "\n\r\t") {
		return usagef("open: %q cannot be a name for a key; write a few words, such as my teacher", diagnostic.Clean(name))
	}
	return nil
}

func runOpen(ctx context.Context, c *commander, o openOptions) error {
	data, err := readPack(o.file)
	if err != nil {
		return err
	}
	w := c.works()
	w.Fresh = true // looking leaves nothing behind
	in, err := w.Open(ctx, diagnostic.Clean(filepath.Base(o.file)), data)
	if err != nil {
		return c.refuse(o.file, err)
	}
	if o.trustAs != "" && !in.Signer.Signed {
		return hinted{usagef("open %s: it is not signed, so there is no key to give a name to", diagnostic.Clean(o.file)), "ask for one packed with --sign"}
	}
	if c.json {
		return c.openJSON(ctx, w, in, o)
	}
	if err := c.showOpening(w, in); err != nil {
		return err
	}
	if o.trustAs != "" {
		if err := c.trust(w, in, o); err != nil {
			return err
		}
	}
	keep := o.keep
	if !keep && c.sys.Typed {
		c.printf("\nType yes to keep it, or press Enter to leave it: ")
		line, err := terminal.NewLineReader(c.sys.In).ReadLine()
		keep = err == nil && strings.TrimSpace(strings.ToLower(line)) == "yes"
		c.printf("\n")
	}
	if !keep {
		c.printf("\nNothing was kept. canewright open %s --keep keeps it.\n", diagnostic.Clean(o.file))
		return nil
	}
	c.printf("\n")
	if err := c.keepInstrument(ctx, in, o); err != nil {
		return err
	}
	kept, err := w.Keep(in.Contents)
	if err != nil {
		return err
	}
	c.showKept(w, in, kept)
	return nil
}

// readPack reads at most one byte more than a pack may have, so that it says so
// itself.
func readPack(file string) ([]byte, error) {
	if info, err := os.Stat(file); err == nil && !info.Mode().IsRegular() { // to open a pipe waits
		return nil, usagef("open %s: this is no ordinary file", diagnostic.Clean(file))
	}
	f, err := os.Open(file)
	if p, ok := errors.AsType[*fs.PathError](err); ok {
		err = p.Err
	}
	if err != nil {
		return nil, usagef("open %s: %w", diagnostic.Clean(file), err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, parcel.MaxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", diagnostic.Clean(file), err)
	}
	return data, nil
}

// refuse says why a pack is not opened; nothing of it was stored.
func (c *commander) refuse(file string, err error) error {
	r, ok := errors.AsType[*parcel.Refusal](err)
	if c.json {
		out := map[string]any{"file": file, "refused": map[string]any{"reason": "invalid", "why": diagnostic.Clean(err.Error())}}
		if ok {
			out["refused"] = map[string]any{"reason": r.Reason, "in": diagnostic.Clean(r.Name), "why": r.Error()}
		} else if e, invalid := errors.AsType[*wire.InvalidError](err); invalid {
			out["findings"] = capped(e.List)
		} else {
			return err
		}
		if err := c.printJSON(out); err != nil {
			return err
		}
		return errShown{exitInvalid}
	}
	if ok {
		return fmt.Errorf("open %s: refused (%s): %w", diagnostic.Clean(file), r.Reason, r)
	}
	return err
}

func (c *commander) trust(w *wire.Works, in *wire.Opening, o openOptions) error {
	was, err := w.Trust(in.Signer.Key, o.trustAs)
	if err != nil {
		return fmt.Errorf("open %s: %w", diagnostic.Clean(o.file), err)
	}
	c.printf("\n")
	switch was {
	case "":
		c.wrap("", fmt.Sprintf("From now on you call this key %q.", o.trustAs))
	case o.trustAs:
		c.wrap("", fmt.Sprintf("You call this key %q already.", o.trustAs))
	default:
		c.wrap("", fmt.Sprintf("From now on you call this key %q; until now it was %q.", o.trustAs, diagnostic.Clean(was)))
	}
	return nil
}

// keepInstrument lets an instrument that comes along in by the door of
// "instruments add".
func (c *commander) keepInstrument(ctx context.Context, in *wire.Opening, o openOptions) error {
	data := in.Contents.File(parcel.InstrumentName)
	if in.Instrument.InPack == nil || in.Instrument.Same && !in.Instrument.Program {
		return nil
	}
	if o.noInstrument {
		c.printf("The instrument %s was left in the pack.\n", in.Instrument.Name)
		return nil
	}
	err := c.addFile(ctx, filepath.Base(o.file)+"/"+parcel.InstrumentName, data, false)
	if h, ok := errors.AsType[hinted](err); ok {
		return hinted{h.error, h.hint + "; --no-instrument keeps the recipe alone"}
	}
	return err
}

func (c *commander) showKept(w *wire.Works, in *wire.Opening, kept wire.Kept) {
	name := kept.Place
	// The name must lead to what was kept, and to nothing else.
	if file, _, err := w.ReadRecipe(name); err != nil || filepath.Dir(file) != kept.Dir {
		name = filepath.Join(kept.Dir, parcel.RecipeName)
	}
	if kept.Already {
		c.printf("You have it already, just like this: %s\n", name)
		return
	}
	c.printf("Kept in %s\n", diagnostic.Clean(kept.Dir))
	if kept.Beside != "" {
		c.wrap("", "Your own "+kept.Beside+" stays as it is; this one lies beside it.")
	}
	if in.Instrument.Missing() || c.instrumentGone(w, in) {
		c.wrap("", "It can be followed when the instrument "+in.Instrument.Name+" is here.")
		return
	}
	c.printf("Follow it with\n  canewright follow %s\n", diagnostic.Clean(name))
}

// instrumentGone reports that the instrument was in the pack and was not kept.
func (c *commander) instrumentGone(w *wire.Works, in *wire.Opening) bool {
	if in.Instrument.InPack == nil || in.Instrument.Yours != nil {
		return false
	}
	a, err := w.Store().Find(in.Instrument.Name)
	return err != nil || a == nil
}
