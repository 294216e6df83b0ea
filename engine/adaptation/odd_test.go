package adaptation_test

import (
	"strings"
	"testing"

	"canewright/engine/adaptation"
)

// Whatever way a recipe is laid out, putting a version on top of it that changes
// one thing leaves the others as they are.
func TestOddLayoutsStayAsTheyAre(t *testing.T) {
	t.Parallel()
	own := "canewright: own version 1\ntitle: O\nid: o\nversion: 1\nbuilds on: {id: t, version: 1, sha256: " + strings.Repeat("0", 64) + "}\nchanges:\n  - change: last\n    condition: dry\n"
	head := "canewright: recipe 1\ntitle: T\nid: t\nversion: 1\n"
	for name, body := range map[string]string{
		"a stage in brackets among others":    "stages:\n  - stage: a\n    do: [x]\n  # why b\n  - {stage: b, do: [y]}\n  - stage: last\n    do: [z]\n",
		"the first stage in brackets":         "stages:\n  - {stage: b,\n     do: [y]}\n  - stage: last\n    do: [z]\n",
		"the last stage in brackets":          "stages:\n  - stage: a\n    do: [y]\n  - {stage: last, do: [z]}\n# end\n",
		"a comment behind the dash":           "stages:\n  - stage: a\n    do: [x]\n  - # a word\n    stage: b\n    do: [y]\n  - stage: last\n    do: [z]\n",
		"a dash alone":                        "stages:\n  -\n    stage: a\n    do: [x]\n  -\n\n    stage: last\n    do: [z]\n",
		"blanks at the end of a block's line": "about: |\n  one   \n  two\n   \n  three\nstages:\n- stage: a\n  do:\n  - |\n    x  \n    y\n- stage: last\n  do: [z]\n",
		"wide dashes":                         "stages:\n  -   stage: a\n      do:\n        - |2\n            keep\n          # no comment\n        - \"double \\\n           goes on\"\n  -   stage: last\n      do: [z]\n",
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			o, list := adaptation.Load("own.yaml", []byte(own))
			if o == nil {
				t.Fatal(list.Sorted())
			}
			whole, list := o.Whole("origin.yaml", []byte(head+body))
			if whole == nil {
				t.Fatal(list.Sorted())
			}
			all := o.Differences([]byte(head+body), whole)
			if len(all) != 1 || all[0].Stage != "last" || all[0].Name != "condition" {
				t.Errorf("differences %+v in\n%s", all, whole)
			}
			p, list := adaptation.PlacesOf("whole", whole)
			if p == nil {
				t.Fatalf("%v\n%s", list.Sorted(), whole)
			}
			if was, _ := adaptation.PlacesOf("origin", []byte(head+body)); strings.Join(p.Stages, "/") != strings.Join(was.Stages, "/") {
				t.Errorf("stages %q\n%s", p.Stages, whole)
			}
		})
	}
}

// A file from another system keeps its line ends and its mark.
func TestLineEndsSurvive(t *testing.T) {
	t.Parallel()
	own := "canewright: own version 1\ntitle: O\nid: o\nversion: 1\nbuilds on: {id: t, version: 1, sha256: " + strings.Repeat("0", 64) + "}\nsettings:\n  a: 1 mm\n"
	dos := "\ufeff" + strings.ReplaceAll(own, "\n", "\r\n")
	e := adaptation.Edit([]byte(dos))
	e.Setting("a", "2 mm", "")
	if got, want := string(e.Bytes()), strings.Replace(dos, "1 mm", "2 mm", 1); got != want {
		t.Errorf("%q\nwant %q", got, want)
	}
}
