package paper_test

import (
	"bytes"
	"context"
	"os"
	"sync"
	"testing"
	"time"

	"canewright/cmd/internal/paper"
	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/recipe"
	"canewright/plugins/proto"
	"canewright/plugins/sdk"
	"canewright/recipes"
	"canewright/safety"
)

// The test binary serves the bundled instruments as canewright itself does.
func TestMain(m *testing.M) {
	if len(os.Args) == 3 && os.Args[1] == proto.ServeArg {
		sdk.Serve(wire.Bundled()[os.Args[2]]())
		return
	}
	os.Exit(m.Run())
}

var moment = time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC)

func bind(t testing.TB, name string) *recipe.Bound {
	t.Helper()
	w := &wire.Works{Env: func(string) string { return "" }, Now: func() time.Time { return moment }, Rand: bytes.NewReader(make([]byte, 64))}
	r, err := w.Recipe(context.Background(), name)
	if err != nil || r.Bound == nil {
		t.Fatalf("%s: %v %v", name, err, r.List.Sorted())
	}
	return r.Bound
}

// bundled binds every bundled recipe, and the one that has every kind of box.
var bundled = sync.OnceValue(func() map[string]func(testing.TB) *recipe.Bound {
	out := map[string]func(testing.TB) *recipe.Bound{}
	for _, name := range append(recipes.All(), "testdata/every-box.yaml") {
		var once sync.Once
		var b *recipe.Bound
		out[name] = func(t testing.TB) *recipe.Bound {
			once.Do(func() { b = bind(t, name) })
			if b == nil {
				t.Fatalf("%s: it could not be bound", name)
			}
			return b
		}
	}
	return out
})

var catalogue = sync.OnceValues(safety.Load)

func order(t testing.TB, size paper.Size, pieces, tubes []string) paper.Order {
	t.Helper()
	notes, err := catalogue()
	if err != nil {
		t.Fatal(err)
	}
	return paper.Order{Size: size, Pieces: pieces, Tubes: tubes, Precedence: notes.Precedence(), Printed: moment, Sources: len(pieces) == 7,
		Digest: "0123456789abcdef", Notes: func(u recipe.Use) ([]bench.Note, error) { return notes.For(u, u) }}
}

func marks(n int) []string {
	var out []string
	for i := range n {
		out = append(out, string(rune('1'+i%9))+string(rune('a'+i/9)))
	}
	return out
}
