package wire_test

import (
	"context"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
	"canewright/plugins/proto"
	"canewright/plugins/sdk"
	"canewright/recipes"
)

// The test binary serves the bundled instruments as canewright itself does.
func TestMain(m *testing.M) {
	if len(os.Args) > 2 && os.Args[1] == proto.ServeArg {
		var served []sdk.Instrument
		for _, name := range os.Args[2:] {
			served = append(served, wire.Bundled()[name]())
		}
		sdk.Serve(served...)
		return
	}
	os.Exit(m.Run())
}

func works(t testing.TB) *wire.Works {
	dir := t.TempDir()
	return &wire.Works{
		Env: func(k string) string {
			if k == "XDG_DATA_HOME" {
				return dir
			}
			return ""
		},
		Now:  func() time.Time { return time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC) },
		Rand: strings.NewReader(strings.Repeat("0123456789", 100)),
	}
}

var (
	readOnce  sync.Once
	readBound = map[string]*recipe.Bound{}
	readFault string
)

// bundled binds every bundled recipe once, over the real wire.
func bundled(t testing.TB) map[string]*recipe.Bound {
	t.Helper()
	readOnce.Do(func() {
		w := works(t)
		for _, name := range recipes.All() {
			r, err := w.Recipe(context.Background(), name)
			switch {
			case err != nil:
				readFault = name + ": " + err.Error()
				return
			case r.List.Len() > 0:
				readFault = findings(r.List)
				return
			}
			readBound[name] = r.Bound
		}
	})
	if readFault != "" {
		t.Fatal(readFault)
	}
	if len(readBound) == 0 {
		t.Fatal("no recipe is bundled")
	}
	return readBound
}

func findings(l diagnostic.List) string {
	var b strings.Builder
	l.Text(&b)
	return b.String()
}

func notes(t testing.TB) func(now, evening recipe.Use) ([]bench.Note, error) {
	t.Helper()
	c, err := works(t).Notes()
	if err != nil {
		t.Fatal(err)
	}
	return c.For
}
