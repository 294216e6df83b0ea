package parcel

import (
	"bytes"
	"errors"
	"slices"
	"testing"
)

// refused fails unless err is a refusal with a reason of the list.
func refused(t testing.TB, err error) Reason {
	t.Helper()
	r, ok := errors.AsType[*Refusal](err)
	if !ok {
		t.Fatalf("%v is no refusal", err)
	}
	if !slices.Contains(Reasons(), r.Reason) || r.Error() == "" {
		t.Fatalf("%+v has no reason of the list", r)
	}
	return r.Reason
}

func FuzzOpen(f *testing.F) {
	whole := signedSample(f)
	f.Add(whole)
	f.Add(written(f, sample(f)))
	f.Add(whole[:len(whole)/2])
	f.Add([]byte("PK\x05\x06" + string(make([]byte, 18))))
	for _, k := range tricks(f) {
		if len(k.data) < 1<<20 {
			f.Add(k.data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := Open(data)
		if err != nil {
			refused(t, err)
			return
		}
		if again, err := Write(c); err != nil || !bytes.Equal(again, data) {
			t.Fatalf("written again it has other bytes (%v)", err)
		}
	})
}
