package proto_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/reflect/protoreflect"

	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// given are the numbers of all fields and enum values of the file, each as
// "Message.7 name kind".
func given() []string {
	file := dimsetv1.File_dimset_v1_dimset_proto
	var out []string
	for i := range file.Messages().Len() {
		m := file.Messages().Get(i)
		for j := range m.Fields().Len() {
			f := m.Fields().Get(j)
			kind := f.Kind().String()
			switch {
			case f.Message() != nil:
				kind = string(f.Message().Name())
			case f.Enum() != nil:
				kind = string(f.Enum().Name())
			}
			out = append(out, fmt.Sprintf("%s.%d %s %s %s", m.Name(), f.Number(), f.Name(), f.Cardinality(), kind))
		}
	}
	for i := range file.Enums().Len() {
		e := file.Enums().Get(i)
		for j := range e.Values().Len() {
			v := e.Values().Get(j)
			out = append(out, fmt.Sprintf("%s.%d %s", e.Name(), v.Number(), v.Name()))
		}
	}
	slices.Sort(out)
	return out
}

// withdrawn: number and name are reserved, so that neither comes back with
// another meaning.
func withdrawn(line string) bool {
	place, rest, _ := strings.Cut(line, " ")
	name, _, _ := strings.Cut(rest, " ")
	owner, number, _ := strings.Cut(place, ".")
	n := 0
	if _, err := fmt.Sscan(number, &n); err != nil {
		return false
	}
	file := dimsetv1.File_dimset_v1_dimset_proto
	if m := file.Messages().ByName(protoreflect.Name(owner)); m != nil {
		return m.ReservedRanges().Has(protoreflect.FieldNumber(n)) && m.ReservedNames().Has(protoreflect.Name(name))
	}
	if e := file.Enums().ByName(protoreflect.Name(owner)); e != nil {
		return e.ReservedRanges().Has(protoreflect.EnumNumber(n)) && e.ReservedNames().Has(protoreflect.Name(name))
	}
	return false
}

// The list of every number ever given only grows: UPDATE=1 adds to it and
// takes nothing away.
func TestNumbersAreGivenOnceForEver(t *testing.T) {
	t.Parallel()
	path := filepath.Join("..", "..", "testdata", "golden", "dimset_v1_numbers.txt")
	old, err := os.ReadFile(path)
	if err != nil && !(os.IsNotExist(err) && os.Getenv("UPDATE") != "") {
		t.Fatal(err)
	}
	known, now := strings.FieldsFunc(string(old), func(r rune) bool { return r == '\n' }), given()
	for _, line := range known {
		if !slices.Contains(now, line) && !withdrawn(line) {
			t.Errorf("%s is gone or has changed; a field that goes is reserved, number and name, and a changed one gets a new number", line)
		}
	}
	var fresh []string
	for _, line := range now {
		if !slices.Contains(known, line) {
			fresh = append(fresh, line)
		}
	}
	if len(fresh) == 0 {
		return
	}
	if os.Getenv("UPDATE") == "" {
		t.Fatalf("not in %s: %q; run with UPDATE=1", path, fresh)
	}
	all := append(known, fresh...)
	slices.Sort(all)
	if err := os.WriteFile(path, []byte(strings.Join(all, "\n")+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
}

// What the host and the kit send to be ignored can never be a field.
func TestNumbersKeptForWhatIsIgnored(t *testing.T) {
	t.Parallel()
	for _, name := range []protoreflect.Name{"DescribeRequest", "ListRequest", "GetRequest", "DescribeResponse", "ListResponse", "GetResponse", "Set"} {
		m := dimsetv1.File_dimset_v1_dimset_proto.Messages().ByName(name)
		for _, n := range []protoreflect.FieldNumber{1000, 1999} {
			if !m.ReservedRanges().Has(n) {
				t.Errorf("%s does not reserve %d", name, n)
			}
		}
	}
}
