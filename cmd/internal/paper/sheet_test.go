package paper_test

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"canewright/cmd/internal/paper"
	"canewright/engine/bench"
	"canewright/engine/recipe"
)

// every lays out each recipe on each paper for 1, 7 and 25 pieces.
func every(t *testing.T, each func(t *testing.T, b *recipe.Bound, o paper.Order, s *paper.Sheet)) {
	t.Parallel()
	for name, get := range bundled() {
		for _, size := range paper.Sizes() {
			for _, n := range []int{1, 7, 25} {
				t.Run(fmt.Sprintf("%s/%s/%d", filepath.Base(filepath.Dir(name))+"-"+filepath.Base(name), size.Name, n), func(t *testing.T) {
					t.Parallel()
					b := get(t)
					o := order(t, size, marks(n), []string{"A", "B"})
					s, err := paper.New(b, o)
					if err != nil {
						t.Fatal(err)
					}
					each(t, b, o, s)
				})
			}
		}
	}
}

func TestEverythingLiesWell(t *testing.T) {
	every(t, func(t *testing.T, _ *recipe.Bound, _ paper.Order, s *paper.Sheet) {
		for i, p := range s.Pages {
			for _, f := range faults(p) {
				t.Errorf("page %d: %s", i+1, f)
			}
		}
	})
}

// The boxes of a row, read as a page is read, are those that the bench takes, in
// its order: a line that is typed back from left to right fills them.
func TestEveryBoxIsPrintedOnceInOrder(t *testing.T) {
	every(t, func(t *testing.T, b *recipe.Bound, o paper.Order, s *paper.Sheet) {
		type row struct {
			stage int
			mark  string
		}
		type place struct {
			page int
			paper.Box
		}
		got := map[row][]place{}
		for i, p := range s.Pages {
			for _, x := range p.Boxes {
				got[row{x.Stage, x.Row}] = append(got[row{x.Stage, x.Row}], place{i, x})
			}
		}
		rows := 0
		check := func(stage, number int, mark string) {
			want := b.Boxes(stage, number)
			if st := &b.Stages[stage]; st.Wait != nil && len(st.Do) == 0 && len(st.Measures) == 0 && st.Look == nil && st.Into == 0 {
				want = nil // a wait and nothing else: begun and ended
			}
			its := got[row{stage, mark}]
			slices.SortFunc(its, func(a, b place) int {
				return cmp.Or(a.page-b.page, cmp.Compare(math.Round(a.Y), math.Round(b.Y)), cmp.Compare(a.X, b.X))
			})
			var boxes []recipe.Box
			for _, x := range its {
				boxes = append(boxes, x.Box.Box)
			}
			if !slices.Equal(boxes, want) {
				t.Errorf("%s at %s has the boxes %v, want %v", mark, b.Stages[stage].Name, boxes, want)
			}
			if len(want) > 0 {
				rows++
			}
		}
		for i := range b.Stages {
			st := &b.Stages[i]
			all := o.Pieces
			if st.Tube {
				all = o.Tubes
			}
			if st.Each.Batch {
				check(i, 1, "all")
				continue
			}
			for k, m := range all {
				if st.Each.For(k + 1) {
					check(i, k+1, m)
				} else if len(got[row{i, m}]) > 0 {
					t.Errorf("%s has boxes at %s, which is not for it", m, st.Name)
				}
			}
		}
		if rows != len(got) {
			t.Errorf("%d rows are printed, %d are wanted", len(got), rows)
		}
	})
}

// solid is all that is printed but feet and what says that something goes on,
// without blanks.
func solid(pages []*paper.Page) string {
	var b strings.Builder
	for _, p := range pages {
		for _, x := range p.Texts {
			if x.Y > p.Height-20 || strings.HasSuffix(x.Text, ", continued") {
				continue
			}
			b.WriteString(strings.ReplaceAll(x.Text, " ", ""))
		}
	}
	return b.String()
}

func bare(s string) string { return strings.Join(strings.Fields(s), "") }

// Every note is there whole, before the card; and in one line at its stage.
func TestTheNotesComeFirstAndWhole(t *testing.T) {
	every(t, func(t *testing.T, b *recipe.Bound, o paper.Order, s *paper.Sheet) {
		card := slices.IndexFunc(s.Pages, func(p *paper.Page) bool { return len(p.Boxes) > 0 })
		first, all := solid(s.Pages[:card]), solid(s.Pages)
		stages := solid(s.Pages[card:])
		for i := range b.Stages {
			notes, err := o.Notes(b.Stages[i].Use)
			if err != nil {
				t.Fatal(err)
			}
			at := strings.Index(stages, bare(fmt.Sprintf("%d. %s", i+1, b.Stages[i].Name)))
			if at < 0 {
				t.Fatalf("stage %s is not printed", b.Stages[i].Name)
			}
			for _, n := range notes {
				if !strings.Contains(stages[at:], bare(n.OneLine())) {
					t.Errorf("%s is not at %s", n.ID, b.Stages[i].Name)
				}
				for _, l := range n.Whole(1 << 20)[1:] {
					if strings.HasPrefix(l, "Shown for: ") {
						continue // of all stages together
					}
					if strings.HasPrefix(l, "From: ") && !o.Sources {
						if strings.Contains(first, bare(l)) {
							t.Errorf("%s: its sources are printed unasked", n.ID)
						}
						continue
					}
					if !strings.Contains(first, bare(l)) {
						t.Errorf("%s: %q is not before the card", n.ID, l)
					}
				}
				for _, sign := range n.Symbols {
					if !strings.Contains(first, bare(sign.Number+" "+sign.Means)) {
						t.Errorf("%s: the sign %s is missing", n.ID, sign.Number)
					}
				}
			}
		}
		for _, l := range o.Precedence {
			if !strings.Contains(all, bare(l)) {
				t.Errorf("%q is missing", l)
			}
		}
	})
}

func TestTargetsAreLarge(t *testing.T) {
	every(t, func(t *testing.T, b *recipe.Bound, _ paper.Order, s *paper.Sheet) {
		large := ""
		for _, p := range s.Pages {
			for _, x := range p.Texts {
				if x.Points >= 14 {
					large += bare(x.Text)
				}
			}
		}
		for i := range b.Stages {
			for _, m := range b.Stages[i].Measures {
				if m.Target != nil && b.Slots[m.Slot].Cell == nil && !strings.Contains(large, bare(m.Target.Tolerance.Text)) {
					t.Errorf("%s at %s is not printed in 14 points", m.Target.Tolerance.Text, b.Stages[i].Name)
				}
			}
		}
	})
}

func TestEveryFootSaysWhatItIs(t *testing.T) {
	every(t, func(t *testing.T, b *recipe.Bound, _ paper.Order, s *paper.Sheet) {
		for i, p := range s.Pages {
			said := ""
			for _, x := range p.Texts {
				if x.Y > p.Height-20 {
					said += x.Text + "\n"
				}
			}
			for _, want := range []string{fmt.Sprintf("page %d of %d", i+1, len(s.Pages)), fmt.Sprintf("%s version %d, digest 0123456789ab, printed 2026-01-12", b.File.ID, b.File.Version), b.File.Title} {
				if !strings.Contains(said, want) {
					t.Errorf("page %d: the foot says %q, not %q", i+1, said, want)
				}
			}
		}
	})
}

// Nothing is struck out on the sheet, so its words do not speak of that.
func TestHowItIsTypedBack(t *testing.T) {
	every(t, func(t *testing.T, _ *recipe.Bound, _ paper.Order, s *paper.Sheet) {
		all := solid(s.Pages)
		for _, want := range []string{"canewright follow --resume BATCH --later", "An empty box is a hyphen.", "the numbers over them are their order"} {
			if n := strings.Count(all, bare(want)); n != 1 {
				t.Errorf("%q is said %d times", want, n)
			}
		}
		if strings.Contains(all, "///") {
			t.Error("it speaks of boxes that are struck out")
		}
	})
}

func TestTheSameSheetIsTheSameBytes(t *testing.T) {
	t.Parallel()
	var pdf, svg [][]byte
	for range 2 {
		s, err := paper.New(bundled()["bassoon/from-shaped-cane"](t), order(t, paper.Sizes()[0], marks(7), nil))
		if err != nil {
			t.Fatal(err)
		}
		p, err := paper.PDF(s.Pages, s.Title, moment)
		if err != nil {
			t.Fatal(err)
		}
		v, err := paper.SVG(s.Pages[len(s.Pages)-1], s.Title)
		if err != nil {
			t.Fatal(err)
		}
		pdf, svg = append(pdf, p), append(svg, v)
	}
	if !bytes.Equal(pdf[0], pdf[1]) || !bytes.Equal(svg[0], svg[1]) {
		t.Error("the same sheet gives other bytes")
	}
	for _, want := range []string{"/CreationDate (D:20260112190000)", "/PrintScaling /None"} {
		if !bytes.Contains(pdf[0], []byte(want)) {
			t.Errorf("the file does not hold %q", want)
		}
	}
}

// What stands in the boxes already is printed there, and nowhere else.
func TestWhatIsWrittenStandsInItsBox(t *testing.T) {
	t.Parallel()
	b := bundled()["testdata/every-box.yaml"](t)
	o := order(t, paper.Sizes()[0], []string{"x", "y", "z"}, []string{"A"})
	gouge := b.StageOf("gouge")
	filled := map[string][]string{"x": {"1.31", "1,305", "", "51 thou", "27 1/64", "1,2"}, "y": {"1.1x", "-", "2"}}
	o.Written = func(stage int, row string) []string {
		if stage == gouge {
			return filled[row]
		}
		return nil
	}
	o.Gone = func(stage int, row string) bool { return row == "z" && stage > gouge }
	s, err := paper.New(b, o)
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string][]string{}
	for _, p := range s.Pages {
		for _, f := range faults(p) {
			t.Error(f)
		}
		for _, x := range p.Boxes {
			if x.Row == "z" && x.Stage > gouge {
				t.Errorf("z, which is gone, has a box at %s", b.Stages[x.Stage].Name)
			}
			in := ""
			for _, w := range p.Texts {
				if boxRect(x).holds(ink(w)) {
					in += w.Text
				}
			}
			if x.Stage == gouge {
				seen[x.Row] = append(seen[x.Row], in)
			} else if in != "" {
				t.Errorf("%q stands in a box of %s at %s", in, x.Row, b.Stages[x.Stage].Name)
			}
		}
	}
	filled["z"] = []string{"", "", ""}
	for row, want := range filled {
		if !slices.Equal(seen[row], want) {
			t.Errorf("%s: %q stands there, want %q", row, seen[row], want)
		}
	}
}

// Long marks and words neither leave their places nor the page.
func TestLongWordsLieWell(t *testing.T) {
	t.Parallel()
	b := *bundled()["testdata/every-box.yaml"](t)
	file := *b.File
	file.Title = strings.Repeat("Wide ", 40) + strings.Repeat("W", 200)
	b.File, b.Stages = &file, slices.Clone(b.Stages)
	for i := range b.Stages {
		b.Stages[i].Name = strings.Repeat("WM", 60)
		b.Stages[i].Do = append(slices.Clone(b.Stages[i].Do), strings.Repeat("M", 500), "\u202e\x1b[2J\ttab")
	}
	for _, size := range paper.Sizes() {
		o := order(t, size, []string{strings.Repeat("W", 20), "竹", "3"}, []string{"A"})
		o.Written = func(int, string) []string {
			return []string{strings.Repeat("9", 60), "a b c d e f g h i j k l m n o p q r s t u v"}
		}
		s, err := paper.New(&b, o)
		if err != nil {
			t.Fatal(err)
		}
		if s.Lacking != "竹" {
			t.Errorf("letters that are lacking: %q", s.Lacking)
		}
		for i, p := range s.Pages {
			for _, f := range faults(p) {
				t.Errorf("page %d: %s", i+1, f)
			}
		}
	}
}

func TestASheetWithoutNotesIsRefused(t *testing.T) {
	t.Parallel()
	b := bundled()["testdata/every-box.yaml"](t)
	o := order(t, paper.Sizes()[0], marks(1), nil)
	o.Notes = nil
	if _, err := paper.New(b, o); err == nil {
		t.Error("nobody gave the notes, and there is a sheet")
	}
	o.Notes = func(recipe.Use) ([]bench.Note, error) { return nil, fmt.Errorf("no catalogue") }
	if _, err := paper.New(b, o); err == nil || !strings.Contains(err.Error(), "no catalogue") {
		t.Errorf("the notes cannot be read, and it says %v", err)
	}
	if _, err := paper.PDF(nil, "", moment); err == nil {
		t.Error("no pages, and there is a file")
	}
}

func TestATooLargeCardIsRefused(t *testing.T) {
	t.Parallel()
	b := *bundled()["bassoon/from-shaped-cane"](t)
	b.Stages = slices.Repeat(b.Stages, 40)
	if _, err := paper.New(&b, order(t, paper.Sizes()[0], marks(60), nil)); !errors.Is(err, paper.ErrTooLarge) {
		t.Errorf("%d stages for 60 pieces are laid out: %v", len(b.Stages), err)
	}
}
