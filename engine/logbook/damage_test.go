package logbook

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"reflect"
	"testing"

	"canewright/engine/bench"
)

// Bytes of a large file are changed here and there. Whatever is read then is
// right or refused with a message and a hint: never something else, never a
// panic, and the file stays as it is.
func TestChangedBytesAreNeverTakenForTheTruth(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	_, data := good(t)
	path := newPath(t)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	l := open(t, path)
	want, wantEvents, err := l.Load(ctx, "batch")
	if err != nil {
		t.Fatal(err)
	}
	wantList, err := l.Batches(ctx)
	if err != nil {
		t.Fatal(err)
	}
	l.Close()
	wantReadings := 0
	for _, e := range wantEvents {
		if _, ok := e.Body.(bench.ReadingTaken); ok {
			wantReadings++
		}
	}
	const seed = 11
	random := rand.New(rand.NewPCG(seed, seed))
	right, refused := 0, 0
	for round := range 150 {
		bad := append([]byte(nil), data...)
		at, n := 100+random.IntN(len(data)-164), 1<<random.IntN(7)
		for i := range n {
			bad[at+i] ^= byte(1 + random.IntN(255))
		}
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		say := fmt.Sprintf("round %d, seed %d: %d bytes at %d", round, seed, n, at)
		err := func() error {
			l, err := Open(ctx, path)
			if err != nil {
				return err
			}
			defer l.Close()
			_, err = l.Batches(ctx)
			if err != nil {
				return err
			}
			b, evs, err := l.Load(ctx, "batch")
			if err != nil {
				return err
			}
			if !reflect.DeepEqual(evs, wantEvents) || !reflect.DeepEqual(b.Snapshot.Recipe, want.Recipe) || !reflect.DeepEqual(b.Set, want.Set) {
				t.Errorf("%s: something else was read", say)
			}
			i := 0
			for r, err := range l.Events(ctx, "batch") {
				if err != nil {
					return err
				}
				if body, err := bench.DecodeBody(r.Kind, r.Body); err != nil || !reflect.DeepEqual(body, wantEvents[i].Body) {
					t.Errorf("%s: event %d is something else; %v", say, r.Seq, err)
				}
				i++
			}
			n := 0
			for _, err := range l.Readings(ctx, "batch") {
				if err != nil {
					return err
				}
				n++
			}
			if n != wantReadings {
				t.Errorf("%s: %d readings, want %d", say, n, wantReadings)
			}
			return nil
		}()
		var fe *FileError
		var none *NotFoundError
		switch {
		case err == nil:
			right++
		case errors.As(err, &fe) && fe.Hint != "" && fe.Path == path, errors.As(err, &none):
			refused++
		default:
			t.Errorf("%s: %v", say, err)
		}
		for _, end := range []string{"-wal", "-shm"} {
			os.Remove(path + end)
		}
	}
	t.Logf("%d right, %d refused", right, refused)
	if refused < 20 || len(wantList) != 1 {
		t.Errorf("only %d of 150 were refused", refused)
	}
}
