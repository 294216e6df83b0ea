package adaptation

import (
	"bytes"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// Editor changes the text of an own version and keeps its comments. It is for
// texts that Load has read.
type Editor struct {
	document *document
	// As the file has it, and keeps it.
	mark bool // a byte order mark at its beginning
	crlf bool // lines end with CR and LF

	// byStage finds changes by what they say of which stage; nil: to be made. A
	// stranger's new version may bring thousands of them.
	byStage map[said][]*item
}

// said is a word of a change and the stage it names: "leave out" gouge, "after"
// ream.
type said struct{ word, stage string }

var sayings = []string{ChangeStage, LeaveOut, Move, Add, "after", "before"}

// find are the changes that say the word of a stage.
func (e *Editor) find(word, stage string) []*item {
	if stage == "" || e.document.root.get("changes") == nil {
		return nil
	}
	if e.byStage == nil {
		e.byStage = map[said][]*item{}
		for _, it := range e.changes().all {
			e.note(it)
		}
	}
	return e.byStage[said{word, stage}]
}

// note adds a change to what find knows.
func (e *Editor) note(it *item) {
	if e.byStage == nil {
		return
	}
	for _, w := range sayings {
		if n := it.verb(w); n != "" {
			e.byStage[said{w, n}] = append(e.byStage[said{w, n}], it)
		}
	}
}

// remove takes changes out of the list.
func (e *Editor) remove(these ...*item) {
	if len(these) == 0 {
		return
	}
	l := e.changes()
	l.all = slices.DeleteFunc(l.all, func(it *item) bool { return slices.Contains(these, it) })
	e.byStage = nil
}

// Edit opens a text that Load reads.
func Edit(data []byte) *Editor {
	root, src, _ := yamldoc.ParseBytes("", data)
	return &Editor{document: parse(src, root), mark: bytes.HasPrefix(data, []byte("\ufeff")), crlf: bytes.Contains(data, []byte("\r\n"))}
}

// Begin is the text of an own version that changes nothing yet. Empty texts are
// left out.
func Begin(o Origin, id, title, author, licence string) []byte {
	lines := []string{"canewright: " + Format, "title: " + yamldoc.Quote(title, false), "id: " + yamldoc.Quote(id, false), "version: 1"}
	if o.Instrument != "" {
		lines = append(lines, "instrument: "+yamldoc.Quote(o.Instrument, false))
	}
	if author != "" {
		lines = append(lines, "author: "+yamldoc.Quote(author, false))
	}
	if licence != "" {
		lines = append(lines, "licence: "+yamldoc.Quote(licence, false))
	}
	lines = append(lines, originLines(o)...)
	return []byte(strings.Join(lines, "\n") + "\n")
}

func originLines(o Origin) []string {
	out := []string{"builds on:"}
	if o.Title != "" {
		out = append(out, "  title: "+yamldoc.Quote(o.Title, false))
	}
	return append(out, "  id: "+o.ID, "  version: "+itoa(o.Version), "  sha256: "+o.SHA256)
}

// Bytes is the text as it is now.
func (e *Editor) Bytes() []byte {
	text := e.document.text()
	if e.crlf {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	if e.mark {
		text = "\ufeff" + text
	}
	return []byte(text)
}

// block is the block of a top key, made where it is missing.
func (e *Editor) block(key string) *block {
	b := e.document.root
	p := b.get(key)
	if p == nil {
		p = emptyMap(key)
		p.lead = []string{""}
		// settings, targets, changes: in this order.
		at := len(b.parts)
		if key != "changes" {
			if i := slices.IndexFunc(b.parts, func(q *part) bool { return q.key == "changes" || q.key == "targets" && key == "settings" }); i >= 0 {
				at = i
			}
		}
		b.parts = slices.Insert(b.parts, at, p)
	}
	p.open()
	return p.block
}

// changes is the list of changes, made where it is missing.
func (e *Editor) changes() *items {
	p := e.document.root.get("changes")
	if p == nil {
		p = &part{key: "changes", lead: []string{""}, header: "changes:", items: &items{dash: 2}}
		e.document.root.parts = append(e.document.root.parts, p)
	}
	p.open()
	return p.items
}

// Setting sets a setting; text and why as the player wrote them.
func (e *Editor) Setting(name, text, why string) {
	e.block("settings").put(made(name, settingLines(name, text, why)))
}

// LeaveOutValue lets a setting, or a target of the whole recipe, go.
func (e *Editor) LeaveOutValue(key, name string) {
	e.block(key).put(made(name, []string{yamldoc.Quote(name, false) + ": " + leaveOut}))
}

// Target sets the tolerance of a target: of the whole recipe where stage is "",
// else of that stage. What is to follow stays the origin's.
func (e *Editor) Target(stage, name, text, why string) {
	e.targets(stage).put(made(name, targetLines(name, text, why)))
}

func targetLines(name, text, why string) []string {
	key := yamldoc.Quote(name, false)
	if why == "" {
		return []string{key + ": " + yamldoc.Quote(text, false)}
	}
	return []string{key + ":", "  target: " + yamldoc.Quote(text, false), "  why: " + yamldoc.Quote(why, false)}
}

// targets are those of the whole recipe or of a stage.
func (e *Editor) targets(stage string) *block {
	if stage == "" {
		return e.block("targets")
	}
	b := e.stage(stage)
	p := b.get("targets")
	if p == nil {
		p = emptyMap("targets")
		b.parts = append(b.parts, p)
	}
	p.open()
	return p.block
}

// stage is the change, or the added stage, of that name; a change is begun
// where there is none.
func (e *Editor) stage(name string) *block {
	for _, word := range []string{ChangeStage, Add} {
		if found := e.find(word, name); len(found) > 0 {
			return found[0].block
		}
	}
	return e.append(&block{parts: []*part{textPart(ChangeStage, name)}})
}

func textPart(key, text string) *part {
	return made(key, []string{key + ": " + yamldoc.Quote(text, false)})
}

// verb is the stage a change is about, "" if it is another kind of change.
func (it *item) verb(verb string) string {
	if p := it.block.get(verb); p != nil {
		return strings.TrimSpace(p.value().Value())
	}
	return ""
}

// LeaveOut leaves a stage out.
func (e *Editor) LeaveOut(stage, why string) {
	e.Forget(stage)
	b := &block{parts: []*part{textPart(LeaveOut, stage)}}
	if why != "" {
		b.parts = append(b.parts, textPart("why", why))
	}
	e.append(b)
}

// Move puts a stage after another, or before it.
func (e *Editor) Move(stage, where, anchor, why string) {
	e.remove(e.find(Move, stage)...)
	b := &block{parts: []*part{textPart(Move, stage), textPart(where, anchor)}}
	if why != "" {
		b.parts = append(b.parts, textPart("why", why))
	}
	e.append(b)
}

// append adds a change behind the others.
func (e *Editor) append(b *block) *block {
	l, it := e.changes(), &item{block: b}
	l.all = append(l.all, it)
	e.note(it)
	return b
}

// Forget lets go of whatever is said of a stage, a setting, or a target of the
// whole recipe, and reports that there was something.
func (e *Editor) Forget(name string) bool {
	found := false
	for _, key := range []string{"settings", "targets"} {
		if e.document.root.get(key) != nil {
			found = e.block(key).drop(name) || found
		}
	}
	var these []*item
	for _, word := range []string{ChangeStage, LeaveOut, Move, Add} {
		these = append(these, e.find(word, name)...)
	}
	e.remove(these...)
	if found = found || len(these) > 0; found {
		e.tidy()
	}
	return found
}

// ForgetTarget lets go of a stage's target.
func (e *Editor) ForgetTarget(stage, name string) bool {
	if stage == "" {
		if e.document.root.get("targets") == nil {
			return false
		}
		defer e.tidy()
		return e.block("targets").drop(name)
	}
	for _, it := range e.find(ChangeStage, stage) {
		if p := it.block.get("targets"); p != nil {
			p.open()
			found := p.block.drop(name)
			if found {
				e.tidy()
			}
			return found
		}
	}
	return false
}

// forgetKey lets go of a stage's key.
func (e *Editor) forgetKey(stage, key string) {
	dropped := false
	for _, it := range e.find(ChangeStage, stage) {
		dropped = it.block.drop(key) || dropped
	}
	if dropped {
		e.tidy()
	}
}

// tidy takes out what says nothing any more.
func (e *Editor) tidy() {
	root := e.document.root
	for _, key := range []string{"settings", "targets"} {
		if p := root.get(key); p != nil && p.block != nil && len(p.block.parts) == 0 {
			root.drop(key)
		}
	}
	p := root.get("changes")
	if p == nil {
		return
	}
	p.open()
	before := len(p.items.all)
	p.items.all = slices.DeleteFunc(p.items.all, func(it *item) bool {
		if it.verb(ChangeStage) == "" {
			return false
		}
		if t := it.block.get("targets"); t != nil && t.block != nil && len(t.block.parts) == 0 {
			it.block.drop("targets")
		}
		return !slices.ContainsFunc(it.block.parts, func(p *part) bool { return p.key != ChangeStage && p.key != "why" })
	})
	if len(p.items.all) < before {
		e.byStage = nil
	}
	if len(p.items.all) == 0 {
		root.drop("changes")
	}
}

// Head sets a text of the head: title, author …
func (e *Editor) Head(key, text string) {
	p := textPart(key, text)
	b := e.document.root
	if b.get(key) == nil {
		if i := slices.IndexFunc(b.parts, func(q *part) bool { return q.key == "builds on" }); i >= 0 {
			b.parts = slices.Insert(b.parts, i, p)
			return
		}
	}
	b.put(p)
}

// Origin sets what it builds on.
func (e *Editor) Origin(o Origin) { e.document.root.put(made("builds on", originLines(o))) }

// key sets a stage's key to the lines it has elsewhere.
func (e *Editor) key(stage string, p *part) { e.stage(stage).put(p.copy()) }

// without leaves a key of a stage out.
func (e *Editor) without(stage, key string) {
	b := e.stage(stage)
	var all []string
	if p := b.get("without"); p != nil {
		var list diagnostic.List
		for _, n := range p.value().TextItems(&list, "a key") {
			all = append(all, n.Value())
		}
	}
	if !slices.Contains(all, key) {
		all = append(all, key)
	}
	b.put(made("without", []string{"without: [" + strings.Join(all, ", ") + "]"}))
}
