package adaptation

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
	"canewright/engine/yamldoc"
)

// Format is the value of the first key of an own version.
const Format = "own version 1"

// Own is a player's own version of a recipe, as written.
type Own struct {
	Source  *diagnostic.Source
	Title   string
	ID      string
	Version int
	Author  string
	Licence string
	About   string
	Origin  Origin
	// Instrument is as the origin has it: written down for people and lists.
	Instrument diagnostic.Text
	Sure       *yamldoc.Node

	Settings []Value
	Targets  []Value // of the whole recipe
	Changes  []Change
}

// Origin is what an own version builds on.
type Origin struct {
	ID      string
	Version int
	SHA256  string // recipe.Digest of its text
	Title   string // for people; may be empty
	// Instrument and its major version, "bassoon 1"; empty for a checklist. Used
	// when an own version is begun.
	Instrument string
	at         diagnostic.Span
}

// Value is a setting or a target of one's own. Text is "" where a target is
// made of several parts.
type Value struct {
	Name     diagnostic.Text
	Text     string
	Why      string
	LeaveOut bool

	node *yamldoc.Node
	part *part // as it stands in the file
}

// What a change does to a stage.
const (
	ChangeStage = "change"
	LeaveOut    = "leave out"
	Move        = "move"
	Add         = "add"
)

// Change is one change of the stages.
type Change struct {
	Verb    string
	Stage   diagnostic.Text
	Why     string
	After   diagnostic.Text // or Before: where to, of move and add
	Before  diagnostic.Text
	Rename  string
	Without []diagnostic.Text // keys of the stage
	Targets []Value

	keys []*part // the other keys of a stage
	item *item   // as it stands in the file
}

// IsOwn tells an own version from a recipe by its first key.
func IsOwn(data []byte) bool {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	return firstKey.Match(data[:min(len(data), 4096)])
}

// Comments and empty lines may stand before it.
var firstKey = regexp.MustCompile(`^(?:[ \t]*(?:#[^\n]*)?\r?\n)*canewright:[ \t]*['"]?own version\b`)

var digestForm = regexp.MustCompile(`^[0-9a-f]{64}$`)

// stageKeys are what a stage may have, beside its name.
var stageKeys = []string{"for", "because", "tools", "materials", "do", "uses", "takes off", "condition", "becomes", "mark again", "no way back",
	"into", "again", "times", "stages", "measure", "expect", "look", "wait"}

// Load reads an own version. The Own is nil when a finding is an error.
func Load(name string, data []byte) (*Own, diagnostic.List) {
	root, src, list := yamldoc.ParseBytes(name, data)
	if root == nil || list.Failed() {
		return nil, list
	}
	l := &loader{list: &list, document: parse(src, root)}
	o := &Own{Source: src}
	word := func(into *string, what string) func(k, v *yamldoc.Node) {
		return func(_, v *yamldoc.Node) { *into = l.word(v, what).Value }
	}
	root.Fields("an own version", &list,
		need("canewright", func(_, v *yamldoc.Node) {
			if t := l.word(v, "canewright"); t.Value != Format && t.Value != "" {
				list.Hinted("own/format", t.Whole, "this version reads: canewright: "+Format, "%q is not a format this version reads", clip(t.Value))
			}
		}),
		need("title", word(&o.Title, "title")),
		need("id", func(_, v *yamldoc.Node) {
			t := l.word(v, "id")
			if o.ID = t.Value; o.ID != "" && !recipe.IsID(o.ID) {
				list.Hinted("own/shape", t.Whole, "small letters, digits and single hyphens: my-medium-reed", "%q cannot be an id", clip(o.ID))
			}
		}),
		need("version", func(_, v *yamldoc.Node) { o.Version = l.number(v, "version") }),
		want("instrument", func(_, v *yamldoc.Node) { o.Instrument = l.word(v, "instrument") }),
		want("author", word(&o.Author, "author")),
		want("licence", word(&o.Licence, "licence")),
		want("about", word(&o.About, "about")),
		need("builds on", func(k, v *yamldoc.Node) { o.Origin = l.origin(k, v) }),
		want("sure", func(_, v *yamldoc.Node) { o.Sure = v }),
		want("settings", func(_, v *yamldoc.Node) { o.Settings = l.values(v, l.at("settings"), "a setting", "value") }),
		want("targets", func(_, v *yamldoc.Node) { o.Targets = l.values(v, l.at("targets"), "a target", "target") }),
		want("changes", func(_, v *yamldoc.Node) { o.Changes = l.changes(v) }))
	if list.Failed() {
		return nil, list
	}
	return o, list
}

type loader struct {
	list     *diagnostic.List
	document *document
}

func need(name string, read func(k, v *yamldoc.Node)) yamldoc.Field {
	return yamldoc.Field{Name: name, Required: true, Read: read}
}
func want(name string, read func(k, v *yamldoc.Node)) yamldoc.Field {
	return yamldoc.Field{Name: name, Read: read}
}

func (l *loader) word(n *yamldoc.Node, what string) diagnostic.Text {
	if n.Shape() != yamldoc.Scalar {
		l.list.Hinted("own/shape", n.Span(), "write a text after "+what+":", "%s is not a text", what)
		return diagnostic.Text{}
	}
	return n.Text()
}

func (l *loader) number(n *yamldoc.Node, what string) int {
	t := l.word(n, what)
	v, err := strconv.Atoi(t.Value)
	if err != nil || v < 1 || v > 1_000_000 || strconv.Itoa(v) != t.Value {
		if t.Value != "" {
			l.list.Hinted("own/shape", t.Whole, "write a whole number from 1 to 1000000", "%q is not a whole number that fits here", clip(t.Value))
		}
		return 1
	}
	return v
}

func (l *loader) origin(k, n *yamldoc.Node) Origin {
	o := Origin{at: k.Span()}
	n.Fields("builds on", l.list,
		need("id", func(_, v *yamldoc.Node) { o.ID = l.word(v, "id").Value }),
		need("version", func(_, v *yamldoc.Node) { o.Version = l.number(v, "version") }),
		need("sha256", func(_, v *yamldoc.Node) {
			t := l.word(v, "sha256")
			if o.SHA256 = t.Value; t.Value != "" && !digestForm.MatchString(t.Value) {
				l.list.Hinted("own/origin", t.Whole, "64 digits of 0-9 and a-f; canewright adapt writes them", "this is no SHA-256")
			}
		}),
		want("title", func(_, v *yamldoc.Node) { o.Title = l.word(v, "title").Value }))
	return o
}

// at is the block of a top key, opened.
func (l *loader) at(key string) *block {
	p := l.document.root.get(key)
	if p == nil {
		return nil
	}
	p.open()
	return p.block
}

const leaveOut = "leave out"

// values reads settings or targets. The parts of a target are left to the
// reader of recipes.
func (l *loader) values(n *yamldoc.Node, b *block, what, key string) []Value {
	if n.Shape() != yamldoc.Map || b == nil {
		l.list.Hinted("own/shape", n.Span(), "write one line each: name: value", "this is no list of names and values")
		return nil
	}
	var out []Value
	for _, e := range n.Entries() {
		v := Value{Name: e.Key.Text(), node: e.Value, part: b.get(e.Key.Value())}
		switch e.Value.Shape() {
		case yamldoc.Scalar:
			v.Text = e.Value.Value()
			v.LeaveOut = v.Text == leaveOut
		case yamldoc.Map:
			v.Text = e.Value.Get(key).Value()
			if w := e.Value.Get("why"); w != nil {
				v.Why = l.word(w, "why").Value
			}
			if len(e.Value.Entries()) == 0 || len(e.Value.Entries()) == 1 && v.Why != "" {
				l.list.Hinted("own/shape", e.Key.Span(), "write "+key+": and the number", "%s says nothing new", what)
			}
		default:
			l.list.Hinted("own/shape", e.Key.Span(), "write "+clip(e.Key.Value())+": 14.6 mm", "%s has no value", what)
		}
		out = append(out, v)
	}
	return out
}

func (l *loader) changes(n *yamldoc.Node) []Change {
	if n.Shape() != yamldoc.List {
		l.list.Hinted("own/shape", n.Span(), "write each change on a line of its own: - change: gouge", "changes is not a list")
		return nil
	}
	p := l.document.root.get("changes")
	p.open()
	var out []Change
	for i, it := range n.Items() {
		if it.Shape() != yamldoc.Map {
			l.list.Hinted("own/shape", it.Span(), "write - change: and the stage's name", "this is no change")
			continue
		}
		c := Change{item: p.items.all[i]}
		l.change(it, &c)
		out = append(out, c)
	}
	return out
}

func (l *loader) change(n *yamldoc.Node, c *Change) {
	var verbs []*yamldoc.Node
	verb := func(name string) yamldoc.Field {
		return want(name, func(k, v *yamldoc.Node) {
			verbs = append(verbs, k)
			c.Verb, c.Stage = name, l.word(v, name)
		})
	}
	text := func(name string, into *diagnostic.Text) yamldoc.Field {
		return want(name, func(_, v *yamldoc.Node) { *into = l.word(v, name) })
	}
	fields := []yamldoc.Field{verb(ChangeStage), verb(LeaveOut), verb(Move), verb(Add),
		want("why", func(_, v *yamldoc.Node) { c.Why = l.word(v, "why").Value }),
		text("after", &c.After), text("before", &c.Before),
		want("rename", func(_, v *yamldoc.Node) { c.Rename = strings.TrimSpace(l.word(v, "rename").Value) }),
		want("without", func(_, v *yamldoc.Node) {
			for _, it := range v.TextItems(l.list, "a key") {
				c.Without = append(c.Without, it.Text())
			}
		}),
		want("targets", func(_, v *yamldoc.Node) {
			t := c.item.block.get("targets")
			t.open()
			c.Targets = l.values(v, t.block, "a target", "target")
		})}
	var content *yamldoc.Node
	for _, key := range stageKeys {
		fields = append(fields, want(key, func(k, v *yamldoc.Node) {
			content = k
			c.keys = append(c.keys, c.item.block.get(key))
		}))
	}
	n.Fields("a change", l.list, fields...)
	refuse := func(at diagnostic.Span, hint, message string) {
		l.list.Hinted("own/change", at, hint, "%s", message)
	}
	switch {
	case len(verbs) != 1:
		refuse(n.Span(), "begin it with one of change:, leave out:, move:, add:", "this does not say what it changes")
		return
	case strings.TrimSpace(c.Stage.Value) == "":
		return // reported by word
	}
	where := c.After.Value != "" || c.Before.Value != ""
	switch {
	case c.After.Value != "" && c.Before.Value != "":
		refuse(c.Before.Whole, "keep one of the two", "it cannot stand after one stage and before another")
	case (c.Verb == Move || c.Verb == Add) && !where:
		refuse(verbs[0].Span(), "add a line after: or before: with a stage's name", "this does not say where to")
	case (c.Verb == ChangeStage || c.Verb == LeaveOut) && where:
		refuse(verbs[0].Span(), "write a change of its own: - move: "+clip(c.Stage.Value), c.Verb+" moves nothing")
	case (c.Verb == LeaveOut || c.Verb == Move) && (content != nil || c.Targets != nil || c.Rename != "" || c.Without != nil):
		refuse(verbs[0].Span(), "write a change of its own: - change: "+clip(c.Stage.Value), c.Verb+" changes nothing inside a stage")
	case c.Verb == Add && (c.Rename != "" || c.Without != nil):
		refuse(verbs[0].Span(), "an added stage says what it has, and has the name after add:", "rename and without belong to a change")
	case c.Verb == ChangeStage && content == nil && c.Targets == nil && c.Rename == "" && c.Without == nil:
		refuse(verbs[0].Span(), "write below it what is different: targets:, tools:, do: …", "this changes nothing")
	}
}

func clip(s string) string { return diagnostic.Clip(s) }

// OriginOf is a recipe as what an own version builds on.
func OriginOf(f *recipe.File, data []byte) Origin {
	o := Origin{ID: f.ID, Version: f.Version, SHA256: recipe.Digest(data), Title: f.Title}
	if f.Instrument != "" {
		o.Instrument = f.Instrument + " " + strconv.Itoa(f.Major)
	}
	return o
}
