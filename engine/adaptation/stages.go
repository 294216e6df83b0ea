package adaptation

import (
	"slices"
	"strconv"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

func itoa(n int) string { return strconv.Itoa(n) }

// stages are the recipe's stages, opened; nil where it has none.
func (d *document) stages() *items {
	p := d.root.get("stages")
	if p == nil || p.items == nil && p.node.Shape() != yamldoc.List {
		return nil
	}
	p.open()
	return p.items
}

// name is the stage's name.
func (it *item) name() string {
	p := it.block.get("stage")
	if p == nil {
		return ""
	}
	return strings.TrimSpace(p.value().Value())
}

// inner are the stages a stage holds, opened.
func (it *item) inner() *items {
	p := it.block.get("stages")
	if p == nil || p.items == nil && p.node.Shape() != yamldoc.List {
		return nil
	}
	p.open()
	return p.items
}

// each visits every stage, those inside others too; do stops it with false.
func (l *items) each(do func(list *items, at int) bool) bool {
	if l == nil {
		return true
	}
	for i := 0; i < len(l.all); i++ {
		if !do(l, i) || !l.all[i].inner().each(do) {
			return false
		}
	}
	return true
}

// named are the origin's stages by name, and those added under names it does
// not have: changes speak of stages by the names they have there, whatever
// other changes do.
type named struct {
	items map[string]*item
	twice map[string]bool
	names []string
}

func (d *document) named() named {
	n := named{map[string]*item{}, map[string]bool{}, nil}
	d.stages().each(func(l *items, i int) bool {
		n.add(l.all[i].name(), l.all[i])
		return true
	})
	return n
}

// added is for a stage of one's own: the origin's names come first.
func (n *named) added(name string, it *item) {
	if n.items[name] == nil {
		n.add(name, it)
	}
	it.inner().each(func(l *items, i int) bool {
		if inner := l.all[i].name(); n.items[inner] == nil {
			n.add(inner, l.all[i])
		}
		return true
	})
}

func (n *named) add(name string, it *item) {
	if n.items[name] != nil {
		n.twice[name] = true
		return
	}
	n.items[name] = it
	n.names = append(n.names, name)
}

// find is where a stage stands.
func (w *whole) find(t diagnostic.Text) (list *items, at int, ok bool) {
	name := strings.TrimSpace(t.Value)
	it := w.stages.items[name]
	switch {
	case it == nil:
		hint := "canewright show of the origin lists its stages"
		if n := diagnostic.Near(name, w.stages.names); n != "" {
			hint = "did you mean " + n + "?"
		}
		w.list.Hinted("own/stage", t.Whole, hint, "the origin has no stage %q", clip(name))
		return nil, 0, false
	case w.stages.twice[name]:
		w.list.Hinted("own/stage", t.Whole, "ask its author to give each stage a name of its own", "the origin has several stages called %q", clip(name))
		return nil, 0, false
	}
	w.document.stages().each(func(l *items, i int) bool {
		if l.all[i] == it {
			list, at, ok = l, i, true
		}
		return !ok
	})
	return list, at, ok
}

// changes makes all changes: those that take a stage away, and new names, come
// last, so that the others find the stages they speak of.
func (w *whole) changes(all []Change) {
	w.stages = w.document.named()
	for i := range all {
		if all[i].Verb != LeaveOut {
			w.change(&all[i])
		}
	}
	for i := range all {
		c := &all[i]
		if c.Verb == LeaveOut {
			if list, at, ok := w.find(c.Stage); ok {
				list.take(at, comment(strings.TrimSuffix("own: left out, "+list.all[at].name()+"; "+c.Why, "; ")))
			}
		}
	}
	for i := range all {
		if c := &all[i]; c.Rename != "" {
			if it := w.stages.items[strings.TrimSpace(c.Stage.Value)]; it != nil {
				it.block.put(textPart("stage", c.Rename))
			}
		}
	}
}

func (w *whole) change(c *Change) {
	if c.Verb == Add {
		it := &item{block: c.stageBlock()}
		w.insert(c, it, "own: added")
		w.stages.added(strings.TrimSpace(c.Stage.Value), it)
		return
	}
	list, at, ok := w.find(c.Stage)
	if !ok {
		return
	}
	it := list.all[at]
	if c.Verb == Move {
		if w.within(it, c) {
			w.list.Hinted("own/change", c.Stage.Whole, "name a stage outside it", "%q cannot stand inside or beside itself", clip(c.Stage.Value))
			return
		}
		if _, _, ok := w.find(c.anchor()); ok {
			list.take(at, "")
			w.insert(c, it, "own: moved")
		}
		return
	}
	w.inside(c, it)
}

// within reports that a move's anchor is the stage itself or lies in it.
func (w *whole) within(it *item, c *Change) bool {
	anchor := w.stages.items[strings.TrimSpace(c.anchor().Value)]
	return anchor == it || !it.inner().each(func(l *items, i int) bool { return l.all[i] != anchor })
}

// take takes a stage out; what stood above it stays.
func (l *items) take(at int, note string) {
	lead := l.all[at].lead
	if note != "" {
		lead = append(lead[:len(lead):len(lead)], note)
	}
	if l.all = slices.Delete(l.all, at, at+1); at < len(l.all) {
		l.all[at].lead = joined(lead, l.all[at].lead)
		return
	}
	l.tail = joined(lead, l.tail)
}

// anchor is the stage a move or an added stage goes by.
func (c *Change) anchor() diagnostic.Text {
	if c.After.Value != "" {
		return c.After
	}
	return c.Before
}

// insert puts a stage where a change says.
func (w *whole) insert(c *Change, it *item, note string) {
	list, at, ok := w.find(c.anchor())
	if !ok {
		return
	}
	if c.After.Value != "" {
		at++
	}
	if c.Why != "" {
		note += "; " + c.Why
	}
	it.lead = []string{"", comment(note)}
	list.all = slices.Insert(list.all, at, it)
}

// stageBlock is an added stage as a recipe writes it.
func (c *Change) stageBlock() *block {
	b := &block{parts: []*part{made("stage", []string{"stage: " + yamldoc.Quote(strings.TrimSpace(c.Stage.Value), false)})}}
	for _, p := range c.keys {
		b.parts = append(b.parts, p.copy())
	}
	if len(c.Targets) > 0 {
		t := emptyMap("targets")
		for _, v := range c.Targets {
			t.block.parts = append(t.block.parts, made(v.Name.Value, merged(v.Name.Value, v, nil)))
		}
		b.parts = slices.Insert(b.parts, 1, t)
	}
	return b
}

// inside changes a stage.
func (w *whole) inside(c *Change, it *item) {
	b := it.block
	if c.Why != "" {
		it.lead = append(it.lead[:len(it.lead):len(it.lead)], comment("own: "+c.Why))
	}
	for _, t := range c.Without {
		if !slices.Contains(stageKeys, t.Value) && t.Value != "targets" || !b.drop(t.Value) {
			w.list.Hinted("own/change", t.Whole, near(t.Value, slices.DeleteFunc(b.keys(), func(k string) bool { return k == "stage" })), "the stage %q has no %q", clip(it.name()), clip(t.Value))
		}
	}
	for _, p := range c.keys {
		w.note(b, p.copy(), "")
	}
	if len(c.Targets) > 0 {
		t := b.get("targets")
		if t == nil {
			t = emptyMap("targets")
			b.parts = slices.Insert(b.parts, 1, t)
		} else {
			t.open()
		}
		for _, v := range c.Targets {
			w.value(t.block, v, "target")
		}
	}
}
