package adaptation

import (
	"slices"
	"strings"

	"canewright/engine/yamldoc"
)

// Kind is what a difference of two versions is about.
type Kind string

// The kinds of difference.
const (
	SettingDiffers Kind = "setting"
	TargetDiffers  Kind = "target"
	KeyDiffers     Kind = "key" // of a stage
	StageAdded     Kind = "stage added"
	StageGone      Kind = "stage gone"
	StageMoved     Kind = "stage moved"
	StageRenamed   Kind = "stage renamed"
	HeadDiffers    Kind = "head" // about, licence, remedies …: always taken up
)

// Difference is one thing that is not as it was in an earlier version.
type Difference struct {
	Kind     Kind   `json:"kind"`
	Stage    string `json:"stage,omitempty"` // as it is called in the newer version, if it is there
	Name     string `json:"name,omitempty"`  // the setting, dimension or key
	Was      string `json:"was,omitempty"`   // "" where there was none
	Now      string `json:"now,omitempty"`
	Conflict string `json:"conflict,omitempty"` // what of the own version it meets

	was, now *part  // values and keys
	inner    *block // the whole stage that went
	// Where it stood in the older version, and what its stages are called in the
	// newer one.
	stood  placed
	called func(string) string
	within []string // the stages inside one that went
}

// Settled: it is always taken up.
func (d Difference) Settled() bool { return d.Kind == HeadDiffers }

// outline is a recipe's stages by name.
type outline struct {
	names []string // in order, inner ones too
	at    map[string]placed
	twice map[string]bool
}

type placed struct {
	item *item
	list *items
	i    int
	home string // the stage it lies in
}

func outlineOf(d *document) outline {
	o := outline{at: map[string]placed{}, twice: map[string]bool{}}
	var walk func(l *items, home string)
	walk = func(l *items, home string) {
		if l == nil {
			return
		}
		for i, it := range l.all {
			n := it.name()
			if _, ok := o.at[n]; ok {
				o.twice[n] = true
				continue
			}
			o.names = append(o.names, n)
			o.at[n] = placed{it, l, i, home}
			walk(it.inner(), n)
		}
	}
	walk(d.stages(), "")
	return o
}

// content is what a stage says, but for its name and the stages in it.
func (it *item) content() string {
	var out []string
	for _, p := range it.block.parts {
		if p.key != "stage" && p.key != "stages" {
			out = append(out, p.key+": "+p.value().OneLine())
		}
	}
	slices.Sort(out)
	return strings.Join(out, "\n")
}

// Differences are what a newer text of a recipe has otherwise than an older
// one, in the newer one's order. Comments and layout do not count, nor do title,
// version and author.
func Differences(older, newer []byte) []Difference { return differences(older, newer, nil) }

// Differences are what the own version's whole has otherwise than its origin.
func (o *Own) Differences(origin, whole []byte) []Difference {
	moves := map[string]bool{}
	for _, c := range o.Changes {
		if c.Verb == Move {
			moves[strings.TrimSpace(c.Stage.Value)] = true
		}
	}
	return differences(origin, whole, moves)
}

// differences; of stages that changed places, those in moves are said to have
// moved, where that explains it as well as another.
func differences(older, newer []byte, moves map[string]bool) []Difference {
	was, now := open(older), open(newer)
	var out []Difference
	for _, key := range topKeys(was, now) {
		switch key {
		case "canewright", "title", "id", "version", "author", "stages":
		case "settings", "targets":
			kind := SettingDiffers
			if key == "targets" {
				kind = TargetDiffers
			}
			out = append(out, valueDifferences(kind, "", was.block(key), now.block(key))...)
		default:
			if a, b := was.line(key), now.line(key); a != b {
				out = append(out, Difference{Kind: HeadDiffers, Name: key, Was: clip(a), Now: clip(b)})
			}
		}
	}
	return append(out, stageDifferences(outlineOf(was), outlineOf(now), moves)...)
}

func open(data []byte) *document {
	root, src, _ := yamldoc.ParseBytes("", data)
	return parse(src, root)
}

func topKeys(was, now *document) []string {
	keys := now.root.keys()
	for _, k := range was.root.keys() {
		if !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
	}
	return keys
}

func (d *document) block(key string) *block {
	p := d.root.get(key)
	if p == nil || p.block == nil && p.node.Shape() != yamldoc.Map {
		return &block{}
	}
	p.open()
	return p.block
}

func (d *document) line(key string) string {
	if p := d.root.get(key); p != nil {
		return p.value().OneLine()
	}
	return ""
}

// valueDifferences are those of settings, or of targets in one place.
func valueDifferences(kind Kind, stage string, was, now *block) []Difference {
	var out []Difference
	for _, name := range topKeysOf(was, now) {
		a, b := was.get(name), now.get(name)
		d := Difference{Kind: kind, Stage: stage, Name: name, was: a, now: b}
		if a != nil {
			d.Was = brief(a)
		}
		if b != nil {
			d.Now = brief(b)
		}
		if a != nil && b != nil {
			if a.value().OneLine() == b.value().OneLine() {
				continue
			}
			if d.Was == d.Now && a.value().Get("at") == nil { // the number stays; what follows, or why, does not
				d.Was, d.Now = clip(a.value().OneLine()), clip(b.value().OneLine())
			}
		}
		out = append(out, d)
	}
	return out
}

func topKeysOf(was, now *block) []string {
	keys := now.keys()
	for _, k := range was.keys() {
		if !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
	}
	return keys
}

func stageDifferences(was, now outline, moves map[string]bool) []Difference {
	var out []Difference
	// A stage that went and one that came with the same content: renamed.
	newName, taken := map[string]string{}, map[string]bool{}
	came := map[string][]string{} // by content
	for _, m := range now.names {
		if _, old := was.at[m]; !old {
			c := now.at[m].item.content()
			came[c] = append(came[c], m)
		}
	}
	for _, n := range was.names {
		if _, ok := now.at[n]; ok || len(came) == 0 {
			continue
		}
		c := was.at[n].item.content()
		if c == "" || len(came[c]) == 0 {
			continue
		}
		m := came[c][0]
		came[c], newName[n], taken[m] = came[c][1:], m, true
		out = append(out, Difference{Kind: StageRenamed, Stage: m, Was: n, Now: m})
	}
	called := func(n string) string {
		if m, ok := newName[n]; ok {
			return m
		}
		return n
	}
	moved := map[string]bool{}
	for _, n := range outOfOrder(was, now, called, moves) {
		moved[n] = true
	}
	for _, n := range was.names {
		p := was.at[n]
		d := Difference{Stage: called(n), stood: p, called: called}
		q, ok := now.at[called(n)]
		if !ok {
			if _, home := now.at[called(p.home)]; p.home != "" && !home {
				continue // it went with the stage it lay in
			}
			d.Kind, d.Was, d.inner = StageGone, n, p.item.block
			p.item.inner().each(func(l *items, i int) bool {
				if inner := l.all[i].name(); was.at[inner].item == l.all[i] {
					if _, here := now.at[called(inner)]; !here {
						d.within = append(d.within, inner)
					}
				}
				return true
			})
			out = append(out, d)
			continue
		}
		for _, key := range append([]string{"targets"}, stageKeys...) {
			a, b := p.item.block.get(key), q.item.block.get(key)
			switch {
			case key == "stages":
			case key == "targets":
				out = append(out, valueDifferences(TargetDiffers, called(n), p.item.targets(), q.item.targets())...)
			case a == nil && b == nil, a != nil && b != nil && a.value().OneLine() == b.value().OneLine():
			default:
				k := Difference{Kind: KeyDiffers, Stage: called(n), Name: key, was: a, now: b}
				if a != nil {
					k.Was = clip(a.value().OneLine())
				}
				if b != nil {
					k.Now = clip(b.value().OneLine())
				}
				out = append(out, k)
			}
		}
		if moved[n] {
			d.Kind, d.Was = StageMoved, whereText(p)
			d.Now = whereText(q)
			out = append(out, d)
		}
	}
	for _, m := range now.names {
		home := now.at[m].home
		if _, old := was.at[home]; home != "" && !old && !taken[home] {
			continue // it came with the stage it lies in
		}
		if _, old := was.at[m]; !old && !taken[m] {
			out = append(out, Difference{Kind: StageAdded, Stage: m, Now: whereText(now.at[m])})
		}
	}
	return out
}

func (it *item) targets() *block {
	p := it.block.get("targets")
	if p == nil || p.block == nil && p.node != nil && p.node.Shape() != yamldoc.Map {
		return &block{}
	}
	p.open()
	return p.block
}

// neighbours are the names before and behind a stage in its list.
func neighbours(p placed) (after, before string) {
	if p.i > 0 {
		after = p.list.all[p.i-1].name()
	}
	if p.i+1 < len(p.list.all) {
		before = p.list.all[p.i+1].name()
	}
	return after, before
}

func whereText(p placed) string {
	after, before := neighbours(p)
	switch {
	case after != "":
		return "after " + after
	case before != "":
		return "before " + before
	case p.home != "":
		return "in " + p.home
	}
	return "alone"
}

// outOfOrder are the stages of the older outline that do not stand in the same
// order in the newer one: what is left beside a longest run that does. Stages
// that went to another list are among them.
func outOfOrder(was, now outline, called func(string) string, moves map[string]bool) []string {
	var names []string
	var at []int
	position := map[string]int{}
	for i, n := range now.names {
		position[n] = i
	}
	var out []string
	for _, n := range was.names {
		i, ok := position[called(n)]
		if !ok {
			continue
		}
		if called(was.at[n].home) != now.at[called(n)].home {
			out = append(out, n)
			continue
		}
		names, at = append(names, n), append(at, i)
	}
	// Longest increasing run; recipes have some forty stages.
	best, from := make([]int, len(at)), make([]int, len(at))
	end := -1
	for i := range at {
		worth := len(at) + 1
		if moves[names[i]] {
			worth--
		}
		best[i], from[i] = worth, -1
		for j := range i {
			if at[j] < at[i] && best[j]+worth > best[i] {
				best[i], from[i] = best[j]+worth, j
			}
		}
		if end < 0 || best[i] > best[end] {
			end = i
		}
	}
	keep := map[int]bool{}
	for ; end >= 0; end = from[end] {
		keep[end] = true
	}
	for i, n := range names {
		if !keep[i] {
			out = append(out, n)
		}
	}
	return out
}
