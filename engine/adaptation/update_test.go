package adaptation

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/recipe"
	"canewright/recipes"
)

// says is what a recipe says, apart from its head and its comments.
func says(t interface{ Fatalf(string, ...any) }, data []byte) string {
	d := open(data)
	var out []string
	for _, p := range d.root.parts {
		switch p.key {
		case "title", "id", "version", "author", "licence", "about":
			continue
		case "settings", "targets": // their order says nothing
			var lines []string
			for _, v := range d.block(p.key).parts {
				lines = append(lines, p.key+" "+canonical(v))
			}
			slices.Sort(lines)
			out = append(out, lines...)
			continue
		case "stages":
			continue
		}
		out = append(out, p.key+": "+p.value().OneLine())
	}
	slices.Sort(out)
	var walk func(l *items, in string)
	walk = func(l *items, in string) {
		if l == nil {
			return
		}
		for _, it := range l.all {
			var lines []string
			for _, p := range it.block.parts {
				switch p.key {
				case "stage", "stages":
				case "targets":
					for _, v := range it.targets().parts {
						lines = append(lines, "targets "+canonical(v))
					}
				default:
					lines = append(lines, p.key+": "+p.value().OneLine())
				}
			}
			slices.Sort(lines)
			out = append(out, in+"- "+it.name()+"\n"+in+strings.Join(lines, "\n"+in))
			walk(it.inner(), in+"  ")
		}
	}
	walk(d.stages(), "")
	return strings.Join(out, "\n")
}

// canonical is a value whatever the order of its parts.
func canonical(p *part) string {
	n := p.value()
	if n.Get("target") == nil && len(n.Entries()) == 0 {
		return p.key + " target: " + n.OneLine()
	}
	var parts []string
	for _, e := range n.Entries() {
		parts = append(parts, e.Key.Value()+": "+e.Value.OneLine())
	}
	slices.Sort(parts)
	return p.key + " " + strings.Join(parts, " ")
}

// drawOwn draws an own version of a recipe: some changes of each kind.
func drawOwn(t *rapid.T, label string, data []byte, prefix string) []byte {
	f, _ := recipe.Load("r", data)
	e := Edit(Begin(OriginOf(f, data), "mine", "Mine", "", ""))
	d := open(data)
	o := outlineOf(d)
	var names []string
	for _, n := range o.names {
		if o.at[n].home == "" && !o.twice[n] {
			names = append(names, n)
		}
	}
	name := rapid.SampledFrom(names)
	gone := map[string]bool{}
	for i := range rapid.IntRange(0, 6).Draw(t, label+" changes") {
		at := func(what string) string { return fmt.Sprintf("%s %d %s", label, i, what) }
		n := name.Draw(t, at("stage"))
		if gone[n] {
			continue
		}
		switch rapid.IntRange(0, 6).Draw(t, at("verb")) {
		case 0:
			if ks := d.block("settings").keys(); len(ks) > 0 {
				e.Setting(rapid.SampledFrom(ks).Draw(t, at("setting")), fmt.Sprintf("%d.5 mm", rapid.IntRange(1, 30).Draw(t, at("value"))), "mine")
			}
		case 1:
			if ks := d.block("targets").keys(); len(ks) > 0 {
				e.Target("", rapid.SampledFrom(ks).Draw(t, at("target")), fmt.Sprintf("%d ± 1 mm", rapid.IntRange(1, 30).Draw(t, at("value"))), "")
			}
		case 2:
			if ks := o.at[n].item.targets().keys(); len(ks) > 0 {
				k := rapid.SampledFrom(ks).Draw(t, at("target"))
				if o.at[n].item.targets().get(k).value().Get("at") == nil {
					e.Target(n, k, fmt.Sprintf("%d ± 1 mm", rapid.IntRange(1, 30).Draw(t, at("value"))), "")
				}
			}
		case 3:
			e.LeaveOut(n, "")
			gone[n] = true
		case 4:
			anchor := name.Draw(t, at("anchor"))
			if anchor != n && !gone[anchor] {
				e.Move(n, "after", anchor, "")
			}
		case 5:
			e.stage(n).put(made("because", []string{"because: " + prefix + " reason"}))
		case 6:
			b := &block{parts: []*part{textPart(Add, fmt.Sprintf("%s stage %d", prefix, i)), textPart("after", n), textPart("do", "something else")}}
			e.append(b)
		}
	}
	return e.Bytes()
}

func applied(t *rapid.T, own, data []byte) []byte {
	o, list := Load("own.yaml", own)
	if o == nil {
		t.Fatalf("%v\n%s", list.Sorted(), own)
	}
	w, list := o.Whole("origin.yaml", data)
	if w == nil {
		t.Fatalf("%v\n%s", list.Sorted(), own)
	}
	return w
}

func drawRecipe(t *rapid.T) []byte {
	name := rapid.SampledFrom([]string{"bassoon/from-tube", "oboe/long-scrape", "bassoon/from-shaped-cane"}).Draw(t, "recipe")
	_, data, _ := recipes.Read(name)
	return data
}

// Taking up everything of a new version, with nothing of one's own, gives the
// new version.
func TestAllTakenUpIsTheNewVersion(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		base := drawRecipe(t)
		newer := applied(t, drawOwn(t, "theirs", base, "their"), base)
		f, _ := recipe.Load("r", newer)
		e := Revise(Begin(OriginOf(f, newer), "mine", "Mine", "", ""), base, newer)
		for _, d := range e.All {
			e.Take(d)
		}
		if got, want := says(t, applied(t, e.Bytes(), newer)), says(t, newer); got != want {
			t.Fatalf("%s\n%s", firstDifference(got, want), e.Bytes())
		}
	})
}

// Keeping everything gives what the own version was on the old one.
func TestAllKeptIsAsItWas(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		base := drawRecipe(t)
		newer := applied(t, drawOwn(t, "theirs", base, "their"), base)
		own := drawOwn(t, "mine", base, "my")
		before := applied(t, own, base)
		e := Revise(own, base, newer)
		for _, d := range e.All {
			e.Keep(d, "")
		}
		got, want := says(t, applied(t, e.Bytes(), newer)), says(t, before)
		if got != want {
			t.Fatalf("%s\ndifferences %+v\nmine\n%s\nnow\n%s", firstDifference(got, want), e.All, own, e.Bytes())
		}
	})
}

// No difference is found between a recipe and itself, nor where only comments
// and layout changed.
func TestNoDifferenceWithItself(t *testing.T) {
	t.Parallel()
	for _, name := range recipes.All() {
		_, data, _ := recipes.Read(name)
		d := open(data)
		openAll(d.root)
		for _, other := range [][]byte{data, []byte("# a word\n" + d.text())} {
			if ds := Differences(data, other); len(ds) > 0 {
				t.Errorf("%s: %+v", name, ds)
			}
		}
	}
}
