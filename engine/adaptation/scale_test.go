package adaptation_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"canewright/engine/adaptation"
)

// A stranger's new version may have a thousand stages under other names: asking
// what changed took 42 s once, each stage being held against each other.
func TestManyStagesUnderOtherNamesAreToldSoon(t *testing.T) {
	const stages = 1000
	head := "canewright: recipe 1\ntitle: T\nid: t\nversion: 1\nstages:\n"
	head += "  - stage: first\n    do: [begin]\n"
	older, newer, renamed := head, head, head
	for i := range stages {
		older += fmt.Sprintf("  - stage: s%d\n    do: [a%d]\n", i, i)
		newer += fmt.Sprintf("  - stage: r%d\n    do: [b%d]\n", i, i)
		renamed += fmt.Sprintf("  - stage: r%d\n    do: [a%d]\n", i, i)
	}
	own := "canewright: own version 1\ntitle: O\nid: o\nversion: 1\nbuilds on: {id: t, version: 1, sha256: " + strings.Repeat("0", 64) + "}\nsure: 90 %\n"
	began := time.Now()
	if all := adaptation.Differences([]byte(older), []byte(renamed)); len(all) != stages || all[0].Kind != adaptation.StageRenamed || all[999].Now != "r999" {
		t.Fatalf("renamed: %d differences", len(all))
	}
	r := adaptation.Revise([]byte(own), []byte(older), []byte(newer))
	if len(r.All) != 2*stages {
		t.Fatalf("%d differences", len(r.All))
	}
	for _, d := range r.All {
		r.Keep(d, "")
	}
	o, list := adaptation.Load("own.yaml", r.Bytes())
	if o == nil || len(o.Changes) != 2*stages {
		t.Fatal(list.Sorted())
	}
	if took := time.Since(began); took > 8*time.Second { // 0.3 s; far above it also where the machine is busy
		t.Errorf("it took %s", took)
	}
}
