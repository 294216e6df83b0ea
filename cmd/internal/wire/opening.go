package wire

import (
	"context"
	"crypto/ed25519"
	"errors"
	"fmt"
	"slices"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/library"
	"canewright/engine/parcel"
	"canewright/engine/recipe"
	"canewright/plugins/folder"
	"canewright/plugins/host"
	"canewright/recipes"
)

// Opening is a pack that was opened and looked at. Nothing of it is stored.
type Opening struct {
	Contents   *parcel.Contents
	Recipe     Recipe // bound to the pack's instrument, if it brings one; else to the one here
	Played     int
	Cases      []CaseFault
	Signer     Signer
	Instrument InstrumentHere
	Yours      []Yours
}

// Signer is what is known of who signed.
type Signer struct {
	Signed bool
	Key    ed25519.PublicKey
	As     string    // their own word
	Known  string    // what the player calls this key; "" if they have given it no name
	Other  *KnownKey // the player gave the name they call themselves to another key
	Own    bool      // it is the player's own key
}

// InstrumentHere is what is here of the instrument of a pack.
type InstrumentHere struct {
	Name    string // "" for a checklist
	Major   int
	Theirs  string         // version the sender had: "1.2"
	Yours   *dimension.Set // nil: it is not here, or not in this major version
	Why     string         // why it cannot be asked, when it is not simply missing
	Program bool           // the one here is an added program
	InPack  *folder.Instrument
	// Shadowed: the pack brings one that has the name of a bundled one; it is
	// neither used nor kept.
	Shadowed bool
	Same     bool // the one here says the same as the sender's did
}

// Missing reports that the recipe cannot be followed for want of it.
func (i InstrumentHere) Missing() bool { return i.Name != "" && i.Yours == nil && i.InPack == nil }

// Yours is a recipe of the same id that is here.
type Yours struct {
	Place   string `json:"place"` // a name canewright takes
	File    string `json:"file"`
	Version string `json:"version"`
	// How the pack's compares with it: same, newer, older, or changed, which is
	// the same version with another text.
	How string `json:"how"`
}

// Open opens a pack; label is what its files are called by in findings. Errors
// are *parcel.Refusal, and *InvalidError where what is in it cannot be used.
func (w *Works) Open(ctx context.Context, label string, data []byte) (*Opening, error) {
	in := func(name string) string { return label + "/" + name }
	c, err := parcel.Open(data)
	if err != nil {
		return nil, err
	}
	o := &Opening{Contents: c}
	if err := o.instrument(ctx, w, in(parcel.InstrumentName)); err != nil {
		return nil, err
	}
	set := o.Instrument.Yours
	if o.Instrument.InPack != nil {
		set = o.Instrument.InPack.Set
	}
	var origins [][]byte
	for _, f := range c.Of(parcel.Origin) {
		origins = append(origins, f.Data)
	}
	if set == nil && o.Instrument.Why != "" {
		// The one here fails: the recipe is read, and bound to nothing.
		t, list, err := w.TextOf(in(parcel.RecipeName), c.File(parcel.RecipeName), origins)
		if err != nil {
			return nil, err
		}
		o.Recipe.Text, o.Recipe.List = t, list
		if t.Whole != nil {
			var more diagnostic.List
			o.Recipe.File, more = recipe.Load(t.WholeName, t.Whole)
			o.Recipe.List.Append(more)
		}
	} else if o.Recipe, err = w.RecipeText(ctx, in(parcel.RecipeName), c.File(parcel.RecipeName), origins, set); err != nil {
		return nil, err
	}
	for _, f := range c.Of(parcel.Origin) {
		if t := o.Recipe.Text; t.Whole != nil && !slices.ContainsFunc(t.Chain, func(d []byte) bool { return recipe.Digest(d) == recipe.Digest(f.Data) }) {
			return nil, parcel.Refuse(parcel.ForeignFile, f.Name, "nothing in the pack builds on it")
		}
	}
	o.Recipe.checkRules()
	if o.Recipe.File == nil {
		return nil, &InvalidError{in(parcel.RecipeName), o.Recipe.List}
	}
	want, have := headingOf(o.Recipe.File), c.Heading
	have.Minor, have.Set, have.InstrumentFrom = 0, "", ""
	if want != have {
		return nil, parcel.Refuse(parcel.OtherHeading, parcel.RecipeName, "the pack's label says something else than the recipe in it")
	}
	if o.Recipe.List.Failed() && !o.Instrument.Missing() {
		return nil, &InvalidError{in(parcel.RecipeName), o.Recipe.List}
	}
	if cases := c.File(parcel.CasesName); cases != nil {
		played, faults, list, err := w.playText(ctx, o.Recipe, in(parcel.CasesName), cases)
		if err != nil {
			return nil, err
		}
		if list.Failed() {
			return nil, &InvalidError{in(parcel.CasesName), list}
		}
		o.Played, o.Cases = played, faults
	}
	if o.Signer, err = w.signer(c.Signature); err != nil {
		return nil, err
	}
	o.Yours, err = w.yours(c)
	return o, err
}

// instrument looks at the instrument of the pack and at the one here.
func (o *Opening) instrument(ctx context.Context, w *Works, label string) error {
	h := o.Contents.Heading
	if h.Instrument == "" {
		return nil
	}
	i := &o.Instrument
	*i = InstrumentHere{Name: h.Instrument, Major: h.Major, Theirs: fmt.Sprintf("%d.%d", h.Major, h.Minor)}
	if data := o.Contents.File(parcel.InstrumentName); data != nil {
		in, list := folder.Load(label, data)
		if in == nil {
			return &InvalidError{label, list}
		}
		if s := in.Set; s.ID != h.Instrument || s.Major != h.Major || s.Minor != h.Minor || fmt.Sprintf("%x", s.Digest()) != h.Set {
			return parcel.Refuse(parcel.OtherHeading, parcel.InstrumentName, "the pack's label says something else than the instrument in it")
		}
		// One that comes with canewright is never replaced; the sender's may be older.
		if i.Shadowed = slices.Contains(w.Store().Taken, h.Instrument); !i.Shadowed {
			i.InPack = in
		}
	}
	set, stop, err := w.Cache().Ask(ctx, h.Instrument, h.Major)
	stop()
	_, missing := errors.AsType[*host.NotFoundError](err)
	switch {
	case ctx.Err() != nil:
		return ctx.Err()
	case err == nil:
		i.Yours = set
		i.Same = fmt.Sprintf("%x", set.Digest()) == h.Set
	case !missing:
		i.Why = err.Error()
	}
	if a, err := w.Store().Find(h.Instrument); err == nil && a != nil {
		i.Program = a.Approval != nil
	}
	return nil
}

func (w *Works) signer(s *parcel.Signature) (Signer, error) {
	if s == nil {
		return Signer{}, nil
	}
	out := Signer{Signed: true, Key: s.Key, As: s.As}
	all, err := w.KnownKeys()
	if err != nil {
		return out, err
	}
	for _, k := range all {
		if k.Key.Equal(s.Key) {
			out.Known = k.Name
		} else if SameName(k.Name, s.As) {
			out.Other = &k
		}
	}
	if own, err := w.Key(); err == nil && own != nil {
		out.Own = own.Public().(ed25519.PublicKey).Equal(s.Key)
	}
	return out, nil
}

// yours are the recipes here that have the id of the pack's, for the same
// instrument.
func (w *Works) yours(c *parcel.Contents) ([]Yours, error) {
	digest := recipe.Digest(c.File(parcel.RecipeName))
	name := shelfOf(c.Heading) + "/" + c.Heading.ID
	var out []Yours
	add := func(place, file, version, sum string) {
		y := Yours{place, file, version, "changed"}
		switch n := number(version); {
		case sum == digest:
			y.How = "same"
		case n < c.Heading.Version:
			y.How = "newer"
		case n > c.Heading.Version:
			y.How = "older"
		}
		out = append(out, y)
	}
	if l, err := library.Named(recipes.Files, name); err == nil {
		for _, e := range l.Entries {
			add(e.Place, "recipes/"+e.File, e.Version, e.Digest)
		}
	}
	all, err := w.Libraries()
	if err != nil {
		return nil, err
	}
	for _, l := range all {
		files, closer, err := l.Files()
		if err != nil {
			continue // a disk that is not here
		}
		list, _ := library.Named(files, name)
		_ = closer.Close()
		for _, e := range list.Entries {
			if e.Name() == name {
				add(e.Place, l.join(e.File), e.Version, e.Digest)
			}
		}
	}
	return out, nil
}

// Needs are what a recipe asks for, each once, in the order of its stages.
type Needs struct {
	Tools     []string `json:"tools"`
	Materials []string `json:"materials"`
	Uses      []string `json:"uses"`
	Settings  []Need   `json:"settings"`
}

// Need is a setting, its value and why.
type Need struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Why   string `json:"why,omitempty"`
}

// NeedsOf lists what a recipe asks for.
func NeedsOf(b *recipe.Bound) Needs {
	n := Needs{Tools: []string{}, Materials: []string{}, Uses: []string{}, Settings: []Need{}}
	add := func(to *[]string, word string) {
		if word = diagnostic.Clean(word); word != "" && !slices.Contains(*to, word) {
			*to = append(*to, word)
		}
	}
	for i := range b.Stages {
		st := &b.Stages[i]
		for _, t := range st.Use.Tools {
			add(&n.Tools, t.Name)
		}
		for _, m := range st.Measures {
			add(&n.Tools, m.Tool.Name)
		}
		for _, m := range st.Use.Materials {
			add(&n.Materials, m.Name)
		}
		for _, u := range st.Uses {
			add(&n.Uses, u)
		}
	}
	for _, s := range b.Settings {
		n.Settings = append(n.Settings, Need{diagnostic.Clean(s.Name), s.Value.String(), diagnostic.Clean(s.Why)})
	}
	return n
}

// NotesOf are the safety notes of a recipe, each once, one line each.
func (w *Works) NotesOf(b *recipe.Bound) ([]string, error) {
	notes, err := w.Notes()
	if err != nil {
		return nil, err
	}
	out := []string{}
	for i := range b.Stages {
		all, err := notes.For(b.Stages[i].Use, b.Stages[i].Use)
		if err != nil {
			return nil, err
		}
		for _, n := range all {
			if l := n.OneLine(); !slices.Contains(out, l) {
				out = append(out, l)
			}
		}
	}
	return out, nil
}
