package safety

import (
	"bytes"
	"encoding/json"
	"os"
	"reflect"
	"testing"
)

// UPDATE=1 makes notes.json of notes.yaml.
func TestWorkedOutNotesAreWhatTheFileSays(t *testing.T) {
	c, list := Read("notes.yaml", builtIn)
	if c == nil {
		t.Fatal(list.Sorted())
	}
	want, err := workOut(c)
	if err != nil {
		t.Fatal(err)
	}
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile("notes.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
		workedOut = want
	}
	if !bytes.Equal(workedOut, want) {
		t.Fatal("notes.json is not made of this notes.yaml; run UPDATE=1 go test ./safety")
	}
	got := recall(builtIn, workedOut)
	if got == nil {
		t.Fatal("notes.json is not taken")
	}
	if len(got.entries) < 30 || !reflect.DeepEqual(got, c) {
		t.Errorf("what notes.json says differs from what notes.yaml says")
	}
}

func TestWorkedOutNotesOfAnotherFileAreNotTaken(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct{ data, from []byte }{
		"a changed file":    {append([]byte("# \n"), builtIn...), workedOut},
		"nothing":           {builtIn, nil},
		"no notes":          {builtIn, []byte(`{"SHA256":"` + fingerprint(builtIn) + `"}`)},
		"cut short":         {builtIn, workedOut[:len(workedOut)/2]},
		"another beginning": {builtIn, bytes.Replace(workedOut, []byte(fingerprint(builtIn)), []byte(fingerprint(nil)), 1)},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if recall(c.data, c.from) != nil {
				t.Error("taken all the same")
			}
		})
	}
}

// workOut writes a catalogue down.
func workOut(c *Catalogue) ([]byte, error) {
	w := worked{SHA256: fingerprint(c.data), Precedence: c.precedence, Products: c.products}
	for _, e := range c.entries {
		we := workedEntry{Note: e.note, When: plainOf(e.when), RaisedBy: e.raisedBy}
		for _, s := range e.together {
			we.Together = append(we.Together, plainOf(s))
		}
		w.Entries = append(w.Entries, we)
	}
	out, err := json.MarshalIndent(w, "", " ")
	return append(out, '\n'), err
}

func plainOf(s selector) words { return words{s.tools, s.materials, s.classes, s.actions} }
