package formula

import (
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"

	"canewright/engine/diagnostic"
)

const rule = "gouge.centre - gouge.side >= 0.10 mm"

func BenchmarkHolds(b *testing.B) {
	for _, c := range []struct{ name, text string }{
		{"exact", rule},
		{"quotient", "gouge.centre / 3 - gouge.side >= 0.10 mm"},
		{"and", "gouge.centre > 1.25 mm and gouge.side < 1.20 mm"},
	} {
		b.Run(c.name, func(b *testing.B) {
			f := mustCompile(b, c.text)
			s := slots(b, "gouge.centre", "1.30 mm", "gouge.side", "1.10 mm")
			b.ReportAllocs()
			for b.Loop() {
				if _, err := f.Holds(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A new reading each time: values that change are put in anew.
func BenchmarkHoldsChanging(b *testing.B) {
	f := mustCompile(b, rule)
	s := slots(b, "gouge.centre", "1.30 mm", "gouge.side", "1.10 mm")
	centre := slot("gouge.centre")
	b.ReportAllocs()
	for b.Loop() {
		s[centre]++
		if _, err := f.Holds(s); err != nil {
			b.Fatal(err)
		}
	}
}

// The same rule without units, in millimetres, on nested maps.
func BenchmarkBareExpr(b *testing.B) {
	env := map[string]any{"gouge": map[string]any{"centre": 1.30, "side": 1.10}}
	p, err := expr.Compile("gouge.centre - gouge.side >= 0.10", expr.Env(env), expr.AsBool())
	if err != nil {
		b.Fatal(err)
	}
	var m vm.VM
	b.ReportAllocs()
	for b.Loop() {
		if _, err := m.Run(p, env); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkMargin(b *testing.B) {
	f := mustCompile(b, rule)
	s := slots(b, "gouge.centre", "1.30 mm", "gouge.side", "1.10 mm")
	b.ReportAllocs()
	for b.Loop() {
		if _, ok := f.Margin(s); !ok {
			b.Fatal("no margin")
		}
	}
}

func BenchmarkCompile(b *testing.B) {
	text := diagnostic.Plain("rule", rule)
	b.ReportAllocs()
	for b.Loop() {
		if f, _ := Compile(text, bench{}); f == nil {
			b.Fatal("refused")
		}
	}
}
