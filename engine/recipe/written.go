package recipe

import (
	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
)

// Written is one setting or target as it stands in a recipe's file, for those
// who say what becomes of it or write another in its place.
type Written struct {
	Stage   string          // name of the stage it stands under, as written; "" for the recipe as a whole
	Name    diagnostic.Text // of the setting, or the dimension as written
	Value   diagnostic.Text // of the setting, or the tolerance; of a grid, "within"
	Why     string          // of a setting
	Flow    bool            // it stands inside {…}, where a comma is no decimal comma
	Setting bool
	Grid    bool // a blade grid: its numbers stand in rows
}

// Written lists the settings and targets of a file: settings first, then the
// recipe's targets, then each stage's, in the order of the file.
func (f *File) Written() []Written {
	var out []Written
	for _, s := range f.settings {
		out = append(out, Written{Name: s.name, Value: s.value, Why: s.why.Value, Flow: s.flow, Setting: true})
	}
	out = append(out, writtenTargets("", f.targets)...)
	return append(out, writtenStages(f.stages)...)
}

// StageNames lists the stages of a file as written, nested ones behind the one
// they stand in.
func (f *File) StageNames() []string { return stageNames(f.stages) }

func stageNames(stages []*stage) []string {
	var out []string
	for _, s := range stages {
		out = append(append(out, s.name.Value), stageNames(s.stages)...)
	}
	return out
}

func writtenStages(stages []*stage) []Written {
	var out []Written
	for _, s := range stages {
		out = append(out, writtenTargets(s.name.Value, s.targets)...)
		out = append(out, writtenStages(s.stages)...)
	}
	return out
}

func writtenTargets(stage string, all []target) []Written {
	var out []Written
	for _, t := range all {
		w := Written{Stage: stage, Name: t.name, Value: t.tolerance, Flow: t.flow, Grid: t.grid != nil}
		if t.grid != nil {
			w.Value = t.grid.within
		}
		out = append(out, w)
	}
	return out
}

// Dimension finds the dimension a text of the recipe names: by its name, alias
// or title; nil if it names none.
func (b *Bound) Dimension(name string) *dimension.Dimension {
	if i, ok := b.byName[name]; ok {
		return b.Slots[i].Dimension
	}
	if d, ok := b.Set.Find(name); ok {
		return d
	}
	return nil
}
