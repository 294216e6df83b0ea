package conform

import (
	"fmt"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/tool"
)

// checkOf sorts the engine's findings into checks; what is not named belongs
// to usable.
func checkOf(d diagnostic.Diagnostic) string {
	switch d.Code {
	case "dimension/missing":
		if strings.HasSuffix(d.Message, "has no source") { // a source without words or without an author
			return sources
		}
		return words
	case "dimension/name", "dimension/repeated", "dimension/set":
		return names
	case "dimension/source":
		return sources
	case "dimension/plausible":
		return ranges
	case "dimension/condition", "dimension/words":
		return words
	case "dimension/formula":
		return formulas
	}
	if strings.HasPrefix(d.Code, "formula/") {
		return formulas
	}
	return usable
}

// whatToDo is said where a finding brings no hint of its own.
var whatToDo = map[string]string{
	names:    "give each dimension its own name: lower case words joined by dots, such as wire.first",
	sources:  "name what the source says and, where it is published, who by; or grade it common practice or from memory",
	ranges:   "write the smaller limit first, in the dimension's own kind, with what is usual between them",
	words:    "fill them in; they stand on the player's screen",
	formulas: "mend the formula; it may use the names of this set, numbers with units, and the functions that canewright functions lists",
	usable:   "mend it; dimset.proto says what each field may hold",
}

// content judges the sets.
func (k *kit) content() {
	seen, do, remarks := map[string][]string{}, map[string]string{}, []string{}
	notCompiled := false
	tools := tool.Standard()
	for _, set := range k.sets {
		misspelt, unknown := toolWords(set, tools)
		seen[words] = append(seen[words], misspelt...)
		remarks = append(remarks, unknown...)
		found := set.Check()
		compiled, kept := true, false
		for _, d := range found.Sorted() {
			check := checkOf(d)
			text := describeFinding(d)
			if d.Severity != diagnostic.Error {
				remarks = append(remarks, "worth a look: "+text)
				continue
			}
			if len(seen[check]) == 0 && check != sources {
				do[check] = d.Hint
			}
			seen[check] = append(seen[check], text)
			if check == formulas {
				kept = true
			} else if strings.HasPrefix(d.Code, "dimension/") {
				compiled = false
			}
		}
		notCompiled = notCompiled || !compiled && !kept
		if more := outOfOrder(set); len(more) > 0 {
			seen[ranges] = append(seen[ranges], more...)
		}
	}
	for _, check := range []string{names, sources, ranges, words, formulas, usable} {
		switch {
		case len(seen[check]) > 0:
			if do[check] == "" {
				do[check] = whatToDo[check]
			}
			k.fail(check, do[check], seen[check]...)
		case check == formulas && notCompiled:
			k.skip(formulas, "they are compiled when the other findings are mended")
		case check == usable:
			k.ok(usable, remarks...)
		default:
			k.ok(check)
		}
	}
}

// describeFinding is a finding without the set's own name, which is that of
// every finding; one of a formula says where.
func describeFinding(d diagnostic.Diagnostic) string {
	if d.Span.Source != nil && strings.HasPrefix(d.Code, "formula/") {
		return fmt.Sprintf("%s, column %d: %s", d.Span.Source.Name, d.Span.From.Col, d.Message)
	}
	return d.Message
}

// toolWords are what a set says it is read with and canewright does not know:
// words that are nearly one of the list, which no author means, and others.
func toolWords(set *dimension.Set, tools *tool.Catalogue) (misspelt, unknown []string) {
	for _, d := range set.Dimensions {
		if _, ok := tools.Tool(d.Tool); ok || strings.TrimSpace(d.Tool) == "" {
			continue
		}
		text := fmt.Sprintf("the tool of %s, %q, is not in the tool list", clip(d.Name), clip(d.Tool))
		if n := diagnostic.Near(strings.ToLower(d.Tool), tools.ToolNames()); n != "" {
			misspelt = append(misspelt, text+"; did you mean "+n+"?")
			continue
		}
		unknown = append(unknown, "worth a look: "+text+", so its step and its uncertainty are not known")
	}
	return misspelt, unknown
}

// outOfOrder: the engine knows limits; the usual value has to lie between them.
func outOfOrder(set *dimension.Set) []string {
	var out []string
	for _, d := range set.Dimensions {
		p := d.Plausible
		if p.Nominal.Set && (p.Low.Set && p.Nominal.Q < p.Low.Q || p.High.Set && p.Nominal.Q > p.High.Q) {
			out = append(out, fmt.Sprintf("the usual value of %s lies outside its plausible range %q", clip(d.Name), clip(p.Text)))
		}
	}
	return out
}
