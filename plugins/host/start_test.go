package host

import (
	"context"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"

	"canewright/plugins/folder"
	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// Ours is start, Describe, Get, the whole Check and the stop; bare is
// go-plugin as it comes, with AutoMTLS, Get and Kill, of the same program. Five
// is the same as ours for five bundled instruments at once; the others are what
// a player has added, copied and hashed again at each start: programs, and
// instruments without code.
//
// All of it goes round in turn in one run, since a machine is not the same from
// one minute to the next; told are the medians beside those of one.
func BenchmarkStart(b *testing.B) {
	ctx := context.Background()
	five := []string{"bassoon", "contrabassoon", "english-horn", "oboe", "oboe-damore"}
	h, _ := testHost(b, five...)
	programs, folders := fiveAdded(b, five)
	wants := func(n int) (out []Want) {
		for _, name := range five[:n] {
			out = append(out, Want{name, 1})
		}
		return out
	}
	asked := func(h *Host, n int) func() {
		return func() {
			for _, g := range h.Sets(ctx, wants(n)) {
				if g.Err != nil {
					b.Fatal(g.Err)
				}
			}
		}
	}
	exe, err := os.Executable()
	if err != nil {
		b.Fatal(err)
	}
	all := []struct {
		name   string
		beside int // which one it is told beside
		do     func()
	}{
		{"one", 0, asked(h, 1)},
		{"bare", 1, func() { bareGet(b, exec.Command(exe, proto.ServeArg, "bassoon")) }},
		{"five", 0, asked(h, 5)},
		{"program", 0, asked(programs, 1)},
		{"five-programs", 3, asked(programs, 5)},
		{"folder", 0, asked(folders, 1)},
		{"five-folders", 5, asked(folders, 5)},
	}
	took := make([][]time.Duration, len(all))
	for b.Loop() {
		for i, one := range all {
			begun := time.Now()
			one.do()
			took[i] = append(took[i], time.Since(begun))
		}
	}
	median := func(i int) float64 {
		slices.Sort(took[i])
		return float64(took[i][len(took[i])/2].Microseconds()) / 1000
	}
	for i, one := range all {
		b.ReportMetric(median(i), one.name+"-ms")
		if one.beside != i {
			b.ReportMetric(median(i)/median(one.beside), one.name+"/"+all[one.beside].name)
		}
	}
	b.ReportMetric(median(0)/median(1), "one/bare")
	b.ReportMetric(median(2)/median(1), "five/bare")
	b.ReportMetric(0, "ns/op")
}

// fiveAdded are hosts with five added instruments of these names: programs that
// serve what the bundled ones do, and folders without code.
func fiveAdded(b *testing.B, names []string) (programs, folders *Host) {
	b.Helper()
	made := func() *Host {
		h := addingHost(b)
		h.Bundled, h.Store.Taken = nil, nil
		return h
	}
	programs, folders = made(), made()
	text := accepted(b)
	for _, name := range names {
		o, err := programs.Offer(name, program(b, name))
		if err != nil {
			b.Fatal(err)
		}
		if _, err := o.Approve(context.Background(), time.Now()); err != nil {
			b.Fatal(err)
		}
		if err := folders.Store.Keep(name, folder.File, []byte(strings.ReplaceAll(text, "id: bombard\n", "id: "+name+"\n"))); err != nil {
			b.Fatal(err)
		}
	}
	return programs, folders
}

func bareGet(b *testing.B, cmd *exec.Cmd) {
	c := bareClient(cmd, proto.Wire)
	defer c.Kill()
	p, err := c.Client()
	if err != nil {
		b.Fatal(err)
	}
	raw, err := p.Dispense(proto.Service)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := raw.(dimsetv1.DimensionSetsClient).Get(context.Background(), &dimsetv1.GetRequest{Id: "bassoon", Major: 1}); err != nil {
		b.Fatal(err)
	}
}

func bareClient(cmd *exec.Cmd, wire int) *plugin.Client {
	return plugin.NewClient(&plugin.ClientConfig{
		HandshakeConfig:  plugin.HandshakeConfig{MagicCookieKey: proto.CookieKey, MagicCookieValue: proto.CookieValue},
		VersionedPlugins: map[int]plugin.PluginSet{wire: {proto.Service: service{}}},
		AllowedProtocols: []plugin.Protocol{plugin.ProtocolGRPC},
		Cmd:              cmd, AutoMTLS: true, Logger: hclog.NewNullLogger(),
	})
}

// startFault tells wires that do not meet by go-plugin's words, having nothing
// else; this holds the words.
func TestTheWordsAboutWiresThatDoNotMeet(t *testing.T) {
	t.Parallel()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	c := bareClient(exec.Command(exe, proto.ServeArg, "shawm"), proto.Wire+1)
	defer c.Kill()
	_, err = c.Client()
	if err == nil || !strings.HasPrefix(err.Error(), "incompatible API version with plugin. Plugin version: 1, Client versions: [2]") {
		t.Fatalf("go-plugin says %v", err)
	}
	if m := wireMismatch.FindStringSubmatch(err.Error()); m == nil || m[1] != "1" {
		t.Errorf("%v was read as %q", err, m)
	}
}
