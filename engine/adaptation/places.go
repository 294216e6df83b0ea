package adaptation

import (
	"slices"

	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// Places are what a recipe has that an own version may change.
type Places struct {
	Settings []string
	Stages   []string // in order, inner ones too
	Names    []string // of targets, in the order they first stand there
	Targets  map[string][]Place
	Values   map[string]string // of settings, as written
	Whys     map[string]string
}

// Place is where a target is set: a stage, or "" for the whole recipe.
type Place struct {
	Stage, Text string
	Grid        bool // rows of stations, which Text says in words
}

// PlacesOf reads a recipe; nil when it is no YAML.
func PlacesOf(name string, data []byte) (*Places, diagnostic.List) {
	root, src, list := yamldoc.ParseBytes(name, data)
	if root == nil || list.Failed() {
		return nil, list
	}
	d := parse(src, root)
	p := &Places{Targets: map[string][]Place{}, Values: map[string]string{}, Whys: map[string]string{}}
	for _, e := range root.Get("settings").Entries() {
		k := e.Key.Value()
		p.Settings = append(p.Settings, k)
		p.Values[k], p.Whys[k] = e.Value.Value(), e.Value.Get("why").Value()
		if v := e.Value.Get("value"); v != nil {
			p.Values[k] = v.Value()
		}
	}
	note := func(stage string, n *yamldoc.Node) {
		for _, e := range n.Entries() {
			k, text, grid := e.Key.Value(), e.Value.Value(), false
			if v := e.Value.Get("target"); v != nil {
				text = v.Value()
			} else if e.Value.Get("at") != nil {
				text, grid = "rows of stations", true
			}
			if !slices.Contains(p.Names, k) {
				p.Names = append(p.Names, k)
			}
			p.Targets[k] = append(p.Targets[k], Place{stage, text, grid})
		}
	}
	note("", root.Get("targets"))
	d.stages().each(func(l *items, i int) bool {
		it := l.all[i]
		p.Stages = append(p.Stages, it.name())
		if t := it.block.get("targets"); t != nil {
			note(it.name(), t.value())
		}
		return true
	})
	return p, list
}
