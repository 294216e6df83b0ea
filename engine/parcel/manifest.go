package parcel

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"regexp"
	"strconv"
	"strings"
)

const manifestFormat = "pack 1"

var (
	idForm         = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	instrumentForm = regexp.MustCompile(`^[a-z][a-z0-9-]{0,31}$`)
	sumForm        = regexp.MustCompile(`^[0-9a-f]{64}$`)
)

// LongestWords is the most letters of a title, an author or a licence in a
// manifest.
const LongestWords = 300

func (h *Heading) check(carried bool) error {
	bad := func(what string) error { return Refuse(BadManifest, manifestName, "%s", what) }
	for _, f := range []struct{ name, text string }{{"title", h.Title}, {"author", h.Author}, {"licence", h.Licence}} {
		if why := words(f.text, LongestWords); why != "" {
			return bad("the words of its " + f.name + " " + why)
		}
	}
	switch {
	case !idForm.MatchString(h.ID) || len(h.ID) > 64:
		return bad("its id cannot be one")
	case h.Version < 1 || h.Version > 1_000_000:
		return bad("its version is no whole number from 1 to 1000000")
	case h.Title == "":
		return bad("it has no title")
	case h.Set != "" && !sumForm.MatchString(h.Set):
		return bad("the digest of its dimensions is none")
	case h.Instrument == "":
		if h.Major != 0 || h.Minor != 0 || h.Set != "" || h.InstrumentFrom != "" {
			return bad("it says something of an instrument and names none")
		}
	case !instrumentForm.MatchString(h.Instrument):
		return bad("the name of its instrument cannot be one")
	case h.Major < 0 || h.Major > 9999 || h.Minor < 0 || h.Minor > 9999:
		return bad("the version of its instrument cannot be one")
	case h.InstrumentFrom != FromCanewright && h.InstrumentFrom != FromPack && h.InstrumentFrom != FromProgram:
		return bad("it does not say where its instrument comes from")
	}
	if carried != (h.InstrumentFrom == FromPack) {
		return Refuse(NotListed, manifestName, "it says something else of the instrument's file than is there")
	}
	return nil
}

// manifest is the manifest of the contents: one form, byte for byte.
func (c *Contents) manifest() []byte {
	h := c.Heading
	var w writer
	w.open("{")
	w.text("canewright", manifestFormat)
	w.text("id", h.ID)
	w.number("version", h.Version)
	w.text("title", h.Title)
	w.text("author", h.Author)
	w.text("licence", h.Licence)
	w.text("instrument", h.Instrument)
	w.number("major", h.Major)
	w.number("minor", h.Minor)
	w.text("set", h.Set)
	w.text("instrument_from", h.InstrumentFrom)
	w.key("files")
	w.open("[")
	for _, f := range c.Files {
		w.item()
		w.open("{")
		w.text("name", f.Name)
		w.text("role", string(f.Role()))
		w.number("size", len(f.Data))
		w.text("sha256", sumOf(f.Data))
		w.close("}")
	}
	w.close("]")
	w.close("}")
	return w.done()
}

// listed is a line of a manifest.
type listed struct {
	Name   string `json:"name"`
	Role   Role   `json:"role"`
	Size   int    `json:"size"`
	SHA256 string `json:"sha256"`
}

func decodeManifest(data []byte) (Heading, []listed, error) {
	var in struct {
		Canewright     string   `json:"canewright"`
		ID             string   `json:"id"`
		Version        int      `json:"version"`
		Title          string   `json:"title"`
		Author         string   `json:"author"`
		Licence        string   `json:"licence"`
		Instrument     string   `json:"instrument"`
		Major          int      `json:"major"`
		Minor          int      `json:"minor"`
		Set            string   `json:"set"`
		InstrumentFrom string   `json:"instrument_from"`
		Files          []listed `json:"files"`
	}
	err := decode(data, &in)
	if strings.HasPrefix(in.Canewright, "pack ") && in.Canewright != manifestFormat || err != nil && newer(data) {
		return Heading{}, nil, Refuse(OtherFormat, manifestName, "this version of canewright reads %q; the pack needs a newer one", manifestFormat)
	}
	if err != nil || in.Canewright != manifestFormat {
		return Heading{}, nil, Refuse(BadManifest, manifestName, "it cannot be read")
	}
	return Heading{in.ID, in.Version, in.Title, in.Author, in.Licence, in.Instrument, in.Major, in.Minor, in.Set, in.InstrumentFrom}, in.Files, nil
}

// newer reports a manifest of a format that is none of this version's, whatever
// else it says.
func newer(data []byte) bool {
	var in struct {
		Canewright string `json:"canewright"`
	}
	return json.Unmarshal(data, &in) == nil && strings.HasPrefix(in.Canewright, "pack ") && in.Canewright != manifestFormat
}

// decode reads one JSON value without unknown keys and nothing behind it. That
// it was written in the one form is seen when it is written again.
func decode(data []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("something stands behind the end")
	}
	return nil
}

// writer writes the small part of JSON (RFC 8259) a pack needs, in one form
// that no library's version changes. Texts hold no control characters.
type writer struct {
	b     []byte
	depth int
	begun bool // something stands in front, on this level
}

func (w *writer) open(bracket string) {
	w.b = append(w.b, bracket...)
	w.depth++
	w.begun = false
}

func (w *writer) close(bracket string) {
	w.depth--
	if w.begun {
		w.line()
	}
	w.b = append(w.b, bracket...)
	w.begun = true
}

func (w *writer) line() { w.b = append(append(w.b, '\n'), strings.Repeat("  ", w.depth)...) }

func (w *writer) item() {
	if w.begun {
		w.b = append(w.b, ',')
	}
	w.begun = true
	w.line()
}

func (w *writer) key(name string) {
	w.item()
	w.b = append(append(w.b, quoted(name)...), ": "...)
}

func (w *writer) text(name, value string) {
	w.key(name)
	w.b = append(w.b, quoted(value)...)
}

func (w *writer) number(name string, value int) {
	w.key(name)
	w.b = strconv.AppendInt(w.b, int64(value), 10)
}

func (w *writer) done() []byte { return append(w.b, '\n') }

func quoted(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}
