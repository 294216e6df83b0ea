package adaptation

import (
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// Whole puts an own version on top of its origin's text, a recipe: the result is
// a recipe too, with the origin's comments, and one beside each change. It is
// nil when a finding is an error. Whether it can be followed is for
// recipe.Load and recipe.Bind to say.
func (o *Own) Whole(originName string, origin []byte) ([]byte, diagnostic.List) {
	root, src, list := yamldoc.ParseBytes(originName, origin)
	if root == nil || list.Failed() {
		return nil, list
	}
	if is := root.Get("instrument").Value(); o.Instrument.Value != "" && o.Instrument.Value != is {
		hint := "write instrument: " + clip(is)
		if is == "" {
			hint = "take the line out"
		}
		list.Hinted("own/origin", o.Instrument.Whole, hint, "what it builds on is not for %q", clip(o.Instrument.Value))
	}
	w := &whole{own: o, list: &list, document: parse(src, root)}
	w.head(root)
	for _, v := range o.Settings {
		w.value(w.top("settings"), v, "value")
	}
	for _, v := range o.Targets {
		w.value(w.top("targets"), v, "target")
	}
	w.changes(o.Changes)
	if list.Failed() {
		return nil, list
	}
	return []byte(w.document.text()), list
}

type whole struct {
	own      *Own
	list     *diagnostic.List
	document *document
	stages   named
}

// head puts the own version's title and names in the place of the origin's,
// and says whose work it is.
func (w *whole) head(root *yamldoc.Node) {
	o, b := w.own, w.document.root
	set := func(key, text string, after string) {
		if text == "" {
			return
		}
		p := made(key, []string{key + ": " + yamldoc.Quote(text, false)})
		if b.get(key) != nil || after == "" {
			b.put(p)
			return
		}
		for i, q := range b.parts {
			if q.key == after {
				b.parts = slices.Insert(b.parts, i+1, p)
				return
			}
		}
		b.put(p)
	}
	credit := root.Get("title").Value() + " (" + root.Get("id").Value() + ", version " + root.Get("version").Value() + ")"
	if a := root.Get("author").Value(); a != "" {
		credit += " by " + a
	}
	if l := root.Get("licence").Value(); l != "" {
		credit += ", " + l
	}
	if p := b.get("title"); p != nil {
		p.lead = append(p.lead, comment("builds on "+credit), comment("sha256 "+o.Origin.SHA256))
	}
	set("title", o.Title, "")
	set("id", o.ID, "")
	set("version", itoa(o.Version), "")
	author := o.Author
	if a := root.Get("author").Value(); a != "" {
		if author == "" {
			author = "a player"
		}
		author += ", after " + a
	}
	set("author", author, "version")
	set("licence", o.Licence, "author")
	if o.About != "" {
		lines := []string{"about: |"}
		for _, l := range strings.Split(strings.TrimSpace(o.About), "\n") {
			if l != "" {
				l = "  " + l
			}
			lines = append(lines, l)
		}
		b.put(made("about", lines))
	}
	if o.Sure != nil {
		w.note(b, made("sure", yamldoc.Entered("sure", o.Sure)), "")
	}
}

// top is the block under a key of the recipe, made where it is missing.
func (w *whole) top(key string) *block {
	b := w.document.root
	p := b.get(key)
	if p == nil {
		p = emptyMap(key)
		before := map[string][]string{"settings": {"targets", "symptoms", "remedies", "stages"}, "targets": {"symptoms", "remedies", "stages"}}[key]
		at := slices.IndexFunc(b.parts, func(q *part) bool { return slices.Contains(before, q.key) })
		if at < 0 {
			at = len(b.parts)
		}
		b.parts = slices.Insert(b.parts, at, p)
	}
	if p.block == nil {
		p.open()
	}
	if p.block == nil { // no map: the reader of recipes says so
		p.block = &block{}
	}
	return p.block
}

// note puts a part in, with a comment saying what it was.
func (w *whole) note(b *block, p *part, why string) {
	was := "new"
	if old := b.get(p.key); old != nil {
		was = "was " + brief(old)
	}
	if why != "" {
		was += "; " + why
	}
	p.lead = append(p.lead, comment("own: "+was))
	b.put(p)
}

// brief is a part's value on one short line.
func brief(p *part) string {
	n := p.value()
	if n.Get("at") != nil {
		return "other rows"
	}
	for _, key := range []string{"target", "value"} {
		if v := n.Get(key); v != nil {
			return clip(v.Value())
		}
	}
	return clip(n.OneLine())
}

// comment is a line of a stranger's words that stays a comment.
func comment(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	return "# " + strings.Map(func(r rune) rune {
		if diagnostic.Unsafe(r) {
			return -1
		}
		return r
	}, s)
}

// value puts a setting or a target into its block.
func (w *whole) value(b *block, v Value, key string) {
	name := v.Name.Value
	if v.LeaveOut {
		if !b.drop(name) {
			w.list.Hinted("own/change", v.Name.Whole, near(name, b.keys()), "the origin has no %s here", clip(name))
		}
		return
	}
	if key == "value" { // as it stands in the file, its why with it
		w.note(b, v.part.copy(), "")
		return
	}
	var was *yamldoc.Node
	if old := b.get(name); old != nil {
		was = old.value()
	}
	w.note(b, made(name, merged(name, v, was)), v.Why)
}

func (b *block) keys() []string {
	var out []string
	for _, p := range b.parts {
		out = append(out, p.key)
	}
	return out
}

// value is a part's node, read from its lines where those were made.
func (p *part) value() *yamldoc.Node {
	if p.node != nil && p.block == nil && p.items == nil {
		return p.node
	}
	if p.read != nil && p.block == nil && p.items == nil {
		return p.read
	}
	root, _, _ := yamldoc.ParseBytes("", []byte(strings.Join(p.lines(), "\n")+"\n"))
	p.read = root.Get(p.key)
	return p.read
}

func near(word string, known []string) string {
	if n := diagnostic.Near(word, known); n != "" {
		return "did you mean " + n + "?"
	}
	if len(known) == 0 {
		return "there is none to leave out"
	}
	return "there are: " + strings.Join(known[:min(len(known), 12)], ", ")
}

// merged is a target of one's own on top of the origin's: what it does not say
// stays.
func merged(name string, own Value, was *yamldoc.Node) []string {
	type entry struct {
		key string
		v   *yamldoc.Node
	}
	var out []entry
	put := func(key string, v *yamldoc.Node) {
		for i := range out {
			if out[i].key == key {
				out[i].v = v
				return
			}
		}
		out = append(out, entry{key, v})
	}
	grid := own.node.Get("at") != nil
	rows := map[string]bool{}
	for _, e := range was.Entries() {
		switch k := e.Key.Value(); k {
		case "target", "above", "below", "from", "within":
			put(k, e.Value)
		default: // the places of a grid and its rows belong together
			if !grid {
				put(k, e.Value)
			}
		}
	}
	if was.Shape() == yamldoc.Scalar {
		put("target", was)
	}
	if own.node.Shape() == yamldoc.Scalar {
		put("target", own.node)
	}
	for _, e := range own.node.Entries() {
		switch k := e.Key.Value(); {
		case k == "why":
		case e.Value.Value() == leaveOut: // what follows no more, or a row
			out = slices.DeleteFunc(out, func(e entry) bool { return e.key == k })
		default:
			put(k, e.Value)
			rows[k] = true
		}
	}
	if was.Get("at") != nil && rows["target"] || was.Get("at") != nil && own.node.Shape() == yamldoc.Scalar {
		// A single number over a grid: left for the reader of recipes to refuse.
		return yamldoc.Entered(yamldoc.Quote(name, false), own.node)
	}
	if grid && was.Get("at") == nil {
		out = slices.DeleteFunc(out, func(e entry) bool { return e.key == "target" })
	}
	if len(out) == 1 && out[0].key == "target" {
		return yamldoc.Entered(yamldoc.Quote(name, false), out[0].v)
	}
	lines := []string{yamldoc.Quote(name, false) + ":"}
	// A grid's keys in the order they are read aloud.
	order := []string{"target", "from", "at"}
	slices.SortStableFunc(out, func(a, b entry) int { return place(order, a.key) - place(order, b.key) })
	for _, e := range out {
		lines = append(lines, "  "+yamldoc.Quote(e.key, false)+": "+e.v.OneLine())
	}
	return lines
}

func place(order []string, key string) int {
	if i := slices.Index(order, key); i >= 0 {
		return i
	}
	switch key {
	case "within":
		return 20
	case "above", "below":
		return 21
	}
	return 10
}

// settingLines is a setting, one thing a line.
func settingLines(name, text, why string) []string {
	key := yamldoc.Quote(name, false)
	if why == "" {
		return []string{key + ": " + yamldoc.Quote(text, false)}
	}
	return []string{key + ":", "  value: " + yamldoc.Quote(text, false), "  why: " + yamldoc.Quote(why, false)}
}
