package yamldoc

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"canewright/engine/diagnostic"

	"gopkg.in/yaml.v3"
)

// MaxBytes is the largest file that is read. A long recipe has some 40 KiB; one
// of 10,000 stages has 1.5 MiB.
const MaxBytes = 2 << 20

// The other limits of a file. A long recipe has 2,000 values and a depth of 9;
// one of 10,000 stages has 140,000 values.
const (
	maxBytes = MaxBytes
	maxNodes = 150_000
	maxDepth = 20

	// maxMarks: signs that may make a value, counted before the parser sees
	// them, because it makes all its values before anybody can stop it. Texts
	// have a comma or a colon in 50 letters.
	maxMarks = 190_000

	// maxPainted is how much is read again, in bytes, to find more mistakes
	// behind the first.
	maxPainted = 1 << 20
)

// ParseBytes reads a file. The Node is nil when the file is no YAML, or is
// YAML that does not mean what it seems to: then only the findings matter. A
// Node beside findings can be walked for further ones.
func ParseBytes(name string, data []byte) (*Node, *diagnostic.Source, diagnostic.List) {
	if len(data) > maxBytes {
		src := diagnostic.NewSource(name, nil)
		var list diagnostic.List
		tooLarge(src, &list)
		return nil, src, list
	}
	src := diagnostic.NewSource(name, data)
	root, list := Parse(src)
	return root, src, list
}

// Parse is ParseBytes for a source at hand.
func Parse(src *diagnostic.Source) (*Node, diagnostic.List) {
	var list diagnostic.List
	if len(src.Text()) > maxBytes {
		tooLarge(src, &list)
		return nil, list
	}
	checkRaw(src, &list)
	if list.Len() > 0 {
		return nil, list
	}
	doc := decode(src, &list)
	if list.Len() > 0 {
		return nil, list
	}
	if doc == nil {
		at := diagnostic.Pos{Line: 1, Col: 1}
		return &Node{span: diagnostic.Span{Source: src, From: at, To: at}}, list
	}
	b := &builder{src: src, list: &list}
	root := b.node(doc, false, 1)
	if b.distrust {
		return nil, list
	}
	return root, list
}

func tooLarge(src *diagnostic.Source, list *diagnostic.List) {
	list.Hinted("yaml/too-large", diagnostic.Span{Source: src}, "split it, or leave out what is not part of it",
		"the file has more than %d KiB", maxBytes>>10)
}

// decode is the file's only document, nil if there is none or it has findings.
// A mistake that is understood is painted over and the rest read again, so
// that several of them show at once, of a very large file only the first few.
func decode(src *diagnostic.Source, list *diagnostic.List) *yaml.Node {
	text := src.Text()
	var lines []string
	for n := 0; n < diagnostic.Most && n*len(text) <= maxPainted; n++ {
		doc, err := load(strings.NewReader(text))
		if err == nil {
			return doc
		}
		if lines == nil {
			lines = strings.Split(text, "\n")
		}
		m := explain(src, lines, err)
		if !m.understood && list.Len() > 0 {
			return nil // may only follow from what was painted over
		}
		list.Add(m.finding)
		if m.repair == "" {
			return nil
		}
		lines[m.finding.Span.From.Line-1] = m.repair
		text = strings.Join(lines, "\n")
	}
	return nil
}

// load reads one document. The parser's own panics, of which it has a few for
// states it thinks impossible, come back as errors.
func load(r io.Reader) (doc *yaml.Node, err error) {
	defer func() {
		if p := recover(); p != nil {
			doc, err = nil, fmt.Errorf("yaml: %v", p)
		}
	}()
	dec := yaml.NewDecoder(r)
	var n yaml.Node
	if err := dec.Decode(&n); err != nil {
		if errors.Is(err, io.EOF) {
			return nil, nil
		}
		return nil, err
	}
	var next yaml.Node
	if err := dec.Decode(&next); err == nil {
		return nil, errors.New("yaml: " + secondDocument)
	} else if !errors.Is(err, io.EOF) {
		return nil, err
	}
	if n.Kind != yaml.DocumentNode || len(n.Content) != 1 {
		return nil, errors.New("yaml: no document")
	}
	return n.Content[0], nil
}

const secondDocument = "second document"
