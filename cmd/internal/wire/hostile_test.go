package wire_test

import (
	"context"
	"errors"
	"testing"

	"canewright/engine/parcel"
	"canewright/engine/recipe"
	"canewright/recipes"
)

// Nothing travels in a pack that the recipe in it does not build on: Keep would
// store it unseen.
func TestAPackWithAnOriginTooManyIsRefused(t *testing.T) {
	t.Parallel()
	w := works(t)
	p, err := w.Pack(context.Background(), recipes.All()[0])
	if err != nil {
		t.Fatal(err)
	}
	text := recipe.Text([]byte("nobody asked for this\n"))
	p.Contents.Add(parcel.OriginName(recipe.Digest(text)), text)
	data, err := parcel.Write(p.Contents)
	if err != nil {
		t.Fatal(err)
	}
	var r *parcel.Refusal
	if _, err := w.Open(context.Background(), "sent", data); !errors.As(err, &r) || r.Reason != parcel.ForeignFile {
		t.Errorf("got %v, want it refused as a file that does not belong", err)
	}
}
