package wire

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/library"
	"canewright/engine/parcel"
	"canewright/engine/recipe"
	"canewright/plugins/folder"
	"canewright/recipes"
)

// Packing is what would be sent, and what should be said of it.
type Packing struct {
	Contents *parcel.Contents
	List     diagnostic.List // warnings and remarks
	Played   int             // cases
	Said     []string        // what is left out, and what the other side will need
}

// CasesError: a recipe's own cases do not come out.
type CasesError struct {
	File   string
	Faults []CaseFault
}

func (e *CasesError) Error() string {
	return fmt.Sprintf("%s: %d of its cases do not come out as wanted; the first, %q: %s", e.File, len(e.Faults), e.Faults[0].Case, e.Faults[0].Why)
}

// Pack gathers a recipe and what belongs to it: the cases beside it, its
// instrument where that is a file without code, pictures, and the texts of the
// recipes it builds on. It is checked first: errors are *InvalidError,
// *CasesError, *parcel.Refusal, and those of Recipe.
func (w *Works) Pack(ctx context.Context, name string) (*Packing, error) {
	at, err := w.find(name)
	if err != nil {
		return nil, err
	}
	r, err := w.RecipeText(ctx, at.file, at.data, nil, nil)
	if err != nil {
		return nil, err
	}
	r.checkRules()
	if r.Bound == nil || r.List.Failed() {
		return nil, &InvalidError{name, r.List}
	}
	p := &Packing{Contents: &parcel.Contents{Heading: headingOf(r.File)}, List: r.List}
	p.Contents.Add(parcel.RecipeName, at.data)
	if err := p.beside(ctx, w, at, r); err != nil {
		return nil, err
	}
	if err := p.instrument(w, r); err != nil {
		return nil, err
	}
	for _, o := range r.Text.Chain {
		text := recipe.Text(o)
		p.Contents.Add(parcel.OriginName(recipe.Digest(o)), text)
	}
	_, err = parcel.Write(p.Contents) // what cannot be packed says so now
	return p, err
}

// checkRules adds what is found of rules that can never be true, or false, and of
// what papers get wrong, as the command check does.
func (r *Recipe) checkRules() {
	if r.Bound != nil {
		_, more := r.Bound.CheckRules()
		r.List.Append(more)
		r.List.Append(r.Bound.CheckPaper())
	}
}

// headingOf is what a manifest says of a recipe: its own words, as far as a
// line can show them. A pack whose heading says something else is refused.
func headingOf(f *recipe.File) parcel.Heading {
	line := func(s string) string {
		s = strings.Map(func(r rune) rune {
			if r == '\ufffd' || r == '\u2028' || r == '\u2029' {
				return '?'
			}
			return r
		}, diagnostic.Clean(s))
		s = strings.Join(strings.Fields(s), " ")
		if r := []rune(s); len(r) > parcel.LongestWords {
			s = strings.TrimSpace(string(r[:parcel.LongestWords-1])) + "…"
		}
		return s
	}
	h := parcel.Heading{ID: f.ID, Version: f.Version, Title: line(f.Title), Author: line(f.Author), Licence: line(f.Licence), Instrument: f.Instrument}
	if f.Instrument != "" {
		h.Major = f.Major
	}
	if h.Title == "" {
		h.Title = f.ID
	}
	return h
}

// beside adds what stands beside a recipe in a folder of its own. A single file
// has nothing beside it: the folder it lies in is anybody's.
func (p *Packing) beside(ctx context.Context, w *Works, at found, r Recipe) error {
	var files fs.FS
	where := filepath.Dir(at.file)
	switch {
	case at.bundled != "":
		sub, err := fs.Sub(recipes.Files, at.bundled)
		if err != nil {
			return err
		}
		files = sub
	case filepath.Base(at.file) == "recipe.yaml":
		root, err := os.OpenRoot(where)
		if err != nil {
			return fmt.Errorf("read folder %s: %w", where, withoutPath(err))
		}
		defer func() { _ = root.Close() }()
		files = root.FS()
	default:
		p.Said = append(p.Said, "Packed alone. In a folder of its own and called recipe.yaml, the pictures and cases beside it go along.")
		return nil
	}
	data, err := readBeside(files, parcel.CasesName, parcel.MaxText)
	if err != nil {
		return fmt.Errorf("read the cases of %s: %w", at.file, withoutPath(err))
	}
	if data != nil {
		file := filepath.Join(where, parcel.CasesName)
		played, faults, list, err := w.playText(ctx, r, file, data)
		if err != nil {
			return err
		}
		if list.Failed() {
			return &InvalidError{file, list}
		}
		if len(faults) > 0 {
			return &CasesError{file, faults}
		}
		p.Played = played
		p.Contents.Add(parcel.CasesName, data)
	}
	return p.pictures(files)
}

// playText reads and plays cases.
func (w *Works) playText(ctx context.Context, r Recipe, file string, data []byte) (int, []CaseFault, diagnostic.List, error) {
	cases, list := recipe.LoadCases(file, data)
	if list.Failed() || r.Bound == nil {
		return 0, nil, list, nil
	}
	notes, err := w.Notes()
	if err != nil {
		return 0, nil, list, err
	}
	played, faults := PlayCases(ctx, r.Bound, cases, notes.For)
	return played, faults, list, ctx.Err()
}

// readBeside is an ordinary file, nil if there is none; a link is none.
func readBeside(files fs.FS, name string, most int) ([]byte, error) {
	info, err := fs.Lstat(files, name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is a link, a folder or a device, not an ordinary file", name)
	}
	if info.Size() > int64(most) {
		return nil, fmt.Errorf("%s has more than %d KiB", name, most>>10)
	}
	return fs.ReadFile(files, name)
}

func (p *Packing) pictures(files fs.FS) error {
	entries, err := fs.ReadDir(files, "pictures")
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return fmt.Errorf("read the folder pictures: %w", withoutPath(err))
	}
	out := func(name, why string) {
		p.Said = append(p.Said, "Left out: pictures/"+diagnostic.Clean(name)+": "+why+".")
	}
	taken := 0
	for _, d := range entries {
		name := parcel.PictureName(d.Name())
		switch {
		case strings.HasPrefix(d.Name(), "."):
			continue
		case strings.EqualFold(filepath.Ext(d.Name()), ".svg"):
			out(d.Name(), "a drawing in SVG may hold programs and addresses; a PNG of it goes")
			continue
		case (parcel.File{Name: name}).Role() != parcel.Picture:
			out(d.Name(), "a picture is called in small letters, digits, - and _, and ends in .png or .jpg")
			continue
		case taken == parcel.MaxPictures:
			out(d.Name(), fmt.Sprintf("a pack holds at most %d pictures", parcel.MaxPictures))
			continue
		}
		data, err := readBeside(files, name, parcel.MaxPicture)
		if err != nil {
			out(d.Name(), withoutPath(err).Error())
			continue
		}
		plain, why := parcel.Plain(name, data)
		if why != "" {
			out(d.Name(), why)
			continue
		}
		if len(plain) != len(data) {
			p.Said = append(p.Said, "What the camera or program wrote beside "+name+" (such as place and time) stays here.")
		}
		taken++
		p.Contents.Add(name, plain)
	}
	return nil
}

// instrument names the instrument, and adds it where it is a file without
// code. A program is never sent.
func (p *Packing) instrument(w *Works, r Recipe) error {
	h := &p.Contents.Heading
	if h.Instrument == "" {
		return nil
	}
	h.Minor, h.Set = r.Bound.Set.Minor, fmt.Sprintf("%x", r.Bound.Set.Digest())
	attached, _ := w.Attached()
	if _, ok := attached[h.Instrument]; ok {
		h.InstrumentFrom = parcel.FromProgram
		p.Said = append(p.Said, "The instrument "+h.Instrument+" is answered by a program; a pack never holds one.")
		return nil
	}
	if slices.Contains(w.Store().Taken, h.Instrument) {
		h.InstrumentFrom = parcel.FromCanewright
		return nil
	}
	a, err := w.Store().Find(h.Instrument)
	switch {
	case err != nil:
		return err
	case a == nil:
		return fmt.Errorf("pack the instrument %s: it is no longer there", h.Instrument)
	case a.Approval != nil:
		h.InstrumentFrom = parcel.FromProgram
		p.Said = append(p.Said, "The instrument "+h.Instrument+" is a program. A pack never holds one: it is named, and the other side has to get it and add it.")
		return nil
	}
	data, err := folder.Read(a.Dir)
	if err != nil {
		return err
	}
	h.InstrumentFrom = parcel.FromPack
	p.Contents.Add(parcel.InstrumentName, data)
	return nil
}

// shelfOf is where a recipe lies in the player's own library.
func shelfOf(h parcel.Heading) string {
	if h.Instrument == "" {
		return library.Shelf
	}
	return h.Instrument
}

// PlayBeside reads and plays the cases beside a recipe's file.
func (w *Works) PlayBeside(ctx context.Context, r Recipe, file string) (played int, faults []CaseFault, list diagnostic.List, err error) {
	dir := filepath.Dir(file)
	root, err := os.OpenRoot(dir)
	if err != nil {
		return 0, nil, list, fmt.Errorf("read folder %s: %w", dir, withoutPath(err))
	}
	defer func() { _ = root.Close() }()
	data, err := readBeside(root.FS(), parcel.CasesName, parcel.MaxText)
	if err != nil || data == nil {
		return 0, nil, list, err
	}
	return w.playText(ctx, r, filepath.Join(dir, parcel.CasesName), data)
}
