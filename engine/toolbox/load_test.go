package toolbox

import (
	"strings"
	"testing"
)

func TestTheTemplateIsAnEmptyToolbox(t *testing.T) {
	t.Parallel()
	box, list := Load("my-tools.yaml", []byte(Template()))
	if box == nil || list.Len() > 0 {
		t.Fatalf("%v", list.Sorted())
	}
	if len(box.All) != 0 {
		t.Errorf("%v", box.All)
	}
	for _, f := range Fields() {
		if !strings.Contains(Template(), f.How) {
			t.Errorf("how to measure %s is not there", f.Name())
		}
		if e, err := f.Parse(f.Example(), true); err != nil || f.Doubt(e) != "" {
			t.Errorf("%s: %v %s", f.Name(), err, f.Doubt(e))
		}
	}
}
