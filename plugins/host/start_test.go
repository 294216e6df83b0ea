package host

import (
	"context"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"

	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// Ours is start, Describe, Get, the whole Check and the stop; bare is
// go-plugin as it comes, with AutoMTLS, Get and Kill, of the same program.
func BenchmarkStart(b *testing.B) {
	b.Run("ours", func(b *testing.B) {
		h, _ := testHost(b, "bassoon")
		for b.Loop() {
			if _, err := h.Set(context.Background(), "bassoon", 1); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("bare", func(b *testing.B) {
		exe, err := os.Executable()
		if err != nil {
			b.Fatal(err)
		}
		for b.Loop() {
			c := bareClient(exec.Command(exe, proto.ServeArg, "bassoon"), proto.Wire)
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
			c.Kill()
		}
	})
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
