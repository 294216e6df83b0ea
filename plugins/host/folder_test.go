package host

import (
	"runtime"
	"strings"
	"testing"
)

// A folder for temporary files that lies deep, as on darwin, leaves no room for
// the path to a socket.
func TestSocketsLieWhereTheirPathsFit(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("plugins are reached over loopback there")
	}
	deep := "/var/folders/zz/" + strings.Repeat("z", 30) + "/T"
	short := t.TempDir()
	if got := socketBase(deep, short); got != short {
		t.Errorf("deep: %s", got)
	}
	if got := socketBase("/tmp", short); got != "/tmp" {
		t.Errorf("short already: %s", got)
	}
	if got := socketBase(deep, short+"/missing"); got != deep {
		t.Errorf("nothing shorter: %s", got)
	}
}

func TestAPluginStartsFromADeepFolder(t *testing.T) {
	h, _ := testHost(t, "bassoon")
	h.TempDir = ""
	t.Cleanup(func() { h.TempDir = t.TempDir() }) // what is left is looked for elsewhere
	deep := t.TempDir()
	for len(deep) < 120 {
		deep += "/deeper"
	}
	t.Setenv("TMPDIR", deep)
	if _, err := h.Set(t.Context(), "bassoon", 1); err != nil {
		t.Fatal(err)
	}
}
