package host

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"canewright/engine/dimension"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
	"canewright/plugins/sdk"
)

// drawn is an instrument with every field of an outline in use.
func drawn() sdk.Instrument {
	in := shawm(1)
	memory := sdk.Source{Says: "so", Grade: sdk.FromMemory}
	in.Outline = &sdk.Outline{
		From: "the butt",
		Values: []sdk.OutlineValue{
			{Name: "gouge.centre", Value: "1.3", Source: sdk.Source{Says: "1.3 mm", Who: "Nobody, Invented book, 1901", Grade: sdk.Published}},
			{Name: "drawn.shift", Title: "shift", Value: "0 mm", Source: memory},
		},
		Parts: []sdk.OutlinePart{{Title: "tube", Look: "bark", Smooth: true, Points: []sdk.OutlinePoint{
			{At: "drawn.shift", Width: "6 * gouge.centre", Deep: "5 mm"}, {At: "30 mm", Width: "9 mm", Deep: "5 mm"},
		}}},
		Marks: []sdk.OutlineMark{{Title: "wire", As: "wire", At: "20 mm", Middle: "21 mm", Thick: "0.6 mm", Turns: "2", Covered: true}},
		Tip:   &sdk.OutlineTip{Width: "14 mm", Opening: "1 mm", Thickness: "0.1 mm"},
	}
	return in
}

func TestAnOutlineArrivesWhole(t *testing.T) {
	t.Parallel()
	set, err := fromWire(sdk.Try(t, drawn()).Sets[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := checked(set); err != nil {
		t.Fatal(err)
	}
	want := &dimension.Outline{
		From: "the butt",
		Values: []dimension.OutlineValue{
			{Name: "gouge.centre", Text: "1.3 mm", Q: 1_300_000, Source: dimension.Source{Says: "1.3 mm", Who: "Nobody, Invented book, 1901", Grade: dimension.Published}},
			{Name: "drawn.shift", Title: "shift", Text: "0 mm", Source: dimension.Source{Says: "so", Grade: dimension.FromMemory}},
		},
		Parts: []dimension.OutlinePart{{Title: "tube", Look: dimension.LookBark, Smooth: true, Points: []dimension.OutlinePoint{
			{At: "drawn.shift", Width: "6 * gouge.centre", Deep: "5 mm"}, {At: "30 mm", Width: "9 mm", Deep: "5 mm"},
		}}},
		Marks: []dimension.OutlineMark{{Title: "wire", As: dimension.MarkWire, At: "20 mm", Middle: "21 mm", Thick: "0.6 mm", Turns: "2", Covered: true}},
		Tip:   &dimension.OutlineTip{Width: "14 mm", Opening: "1 mm", Thickness: "0.1 mm"},
	}
	if !reflect.DeepEqual(set.Outline, want) {
		t.Errorf("got  %+v\nwant %+v", set.Outline, want)
	}
	f, err := set.Figure(nil)
	if err != nil || f.Parts[0].Points[0].Width != 7_800_000 || f.Marks[0].Turns != 2 {
		t.Errorf("%+v, %v", f, err)
	}
}

func TestHostileOutlinesAreRefused(t *testing.T) {
	t.Parallel()
	long := "6 mm" + strings.Repeat(" + 1 mm", 60)
	for _, c := range []struct {
		say   string
		spoil func(*dimsetv1.Outline)
		want  string
	}{
		{"nothing in it", func(o *dimsetv1.Outline) { *o = dimsetv1.Outline{} }, "0 parts"},
		{"a value without a number", func(o *dimsetv1.Outline) { o.Values[0].Value = nil }, `the value of "gouge.centre" has no number`},
		{"a value without a source", func(o *dimsetv1.Outline) { o.Values[0].Source = nil }, "unknown grade 0"},
		{"ten thousand parts", func(o *dimsetv1.Outline) {
			for len(o.Parts) < 10_000 {
				o.Parts = append(o.Parts, o.Parts[0])
			}
		}, "10000 parts"},
		{"as many long formulas as fit", func(o *dimsetv1.Outline) {
			p := &dimsetv1.OutlinePoint{At: long, Width: long, Deep: long}
			part := &dimsetv1.OutlinePart{Title: "tube", Look: "bark"}
			for len(part.Points) < 60 {
				part.Points = append(part.Points, p)
			}
			o.Parts = []*dimsetv1.OutlinePart{part, part}
		}, "has no length"},
		{"a title that acts on a terminal", func(o *dimsetv1.Outline) { o.Parts[0].Title = "\x1b[2Jtube" }, "control characters"},
		{"a look that acts on a terminal", func(o *dimsetv1.Outline) { o.Parts[0].Look = "bark\u202e" }, "control characters"},
		{"a call", func(o *dimsetv1.Outline) { o.Tip.Width = `repeat("x", 1000000)` }, "repeat cannot be called"},
		{"a million turns", func(o *dimsetv1.Outline) { o.Marks[0].Thick = "900000 m" }, "longer than can be drawn"},
		{"nothing where a point should be", func(o *dimsetv1.Outline) { o.Parts[0].Points[0] = nil }, "deep at 1 of 2"},
		{"nothing where a mark should be", func(o *dimsetv1.Outline) { o.Marks[0] = nil }, "has no title"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			w := sdk.Try(t, drawn()).Sets[0]
			c.spoil(w.Outline)
			start := time.Now()
			set, err := fromWire(w)
			if err == nil {
				err = checked(set)
			}
			if took := time.Since(start); took > 2*time.Second {
				t.Errorf("it took %s", took)
			}
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Fatalf("got %v, want %q", err, c.want)
			}
			if strings.ContainsAny(err.Error(), "\x1b\u202e") {
				t.Errorf("%q would act on a terminal", err)
			}
		})
	}
}
