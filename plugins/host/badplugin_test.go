package host

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"
	"google.golang.org/grpc"
	"google.golang.org/protobuf/encoding/protowire"
	gproto "google.golang.org/protobuf/proto"

	"canewright/plugins/bassoon"
	"canewright/plugins/contrabassoon"
	"canewright/plugins/englishhorn"
	"canewright/plugins/oboe"
	"canewright/plugins/oboedamore"
	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
	"canewright/plugins/sdk"
)

// The test binary is every plugin of these tests, told apart by its second
// argument, and with beHost a host that is going to be killed.
const beHost = "be-a-host"

func TestMain(m *testing.M) {
	if serveAdded(filepath.Base(os.Args[0])) {
		os.Exit(0)
	}
	switch {
	case len(os.Args) > 2 && os.Args[1] == proto.ServeArg:
		if several := modes(); len(several) > 1 {
			serveSeveral(several)
		} else {
			servePlugin(os.Args[2])
		}
		os.Exit(0)
	case len(os.Args) == 4 && os.Args[1] == beHost:
		hostOf(os.Args[2], os.Args[3])
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// rawStdout is the real standard output, which the sdk hides until Serve.
func rawStdout() *os.File { return os.NewFile(1, "stdout") }

// modes are the instruments this start is for: all arguments but the marker.
func modes() (out []string) {
	for _, a := range os.Args[2:] {
		if !strings.HasPrefix(a, "marker-") {
			out = append(out, a)
		}
	}
	return out
}

// served are the modes that use the sdk, nil for any other.
func served(mode string) []sdk.Instrument {
	in := shawm(1)
	switch mode {
	case "bassoon":
		return []sdk.Instrument{bassoon.Plugin()}
	case "contrabassoon":
		return []sdk.Instrument{contrabassoon.Plugin()}
	case "english-horn":
		return []sdk.Instrument{englishhorn.Plugin()}
	case "oboe":
		return []sdk.Instrument{oboe.Plugin()}
	case "oboe-damore":
		return []sdk.Instrument{oboedamore.Plugin()}
	case "shawm":
		return []sdk.Instrument{in}
	case "two-majors":
		in.ID, in.Major = mode, 2
		three := in
		three.Major = 3
		return []sdk.Instrument{in, three}
	case "chatty":
		in.ID = mode
		return []sdk.Instrument{in}
	case "speechless": // the sdk sends it, the host's Check refuses it
		in.ID, in.Version, in.Contact = mode, "0.1", "somebody else"
		in.Dimensions[0].More = ""
		return []sdk.Instrument{in}
	}
	return nil
}

// serveSeveral is one process for several instruments, as the bundled ones
// have. One that goes wrong without the sdk takes the whole process with it.
func serveSeveral(modes []string) {
	var all []sdk.Instrument
	for _, mode := range modes {
		some := served(mode)
		if some == nil {
			servePlugin(mode)
			return
		}
		all = append(all, some...)
	}
	sdk.Serve(all...)
}

func servePlugin(mode string) {
	if some := served(mode); some != nil {
		if mode == "chatty" {
			fmt.Println("good morning from an author who uses the sdk")
		}
		sdk.Serve(some...)
		return
	}
	switch mode {
	case "prints-early":
		_, _ = fmt.Fprintln(rawStdout(), "good\x1b[2J morning")
		raw(&answers{mode: mode}, proto.Wire)
	case "ends-at-once":
		_, _ = fmt.Fprintln(os.Stderr, "cannot find my tables\x1b[31m")
		os.Exit(7)
	case "hangs-at-start":
		time.Sleep(time.Hour)
	case "shakes-hands-only":
		path := os.Getenv("PLUGIN_UNIX_SOCKET_DIR") + "/nobody"
		l, err := net.Listen("unix", path)
		if err != nil {
			panic(err)
		}
		l.(*net.UnixListener).SetUnlinkOnClose(false)
		_ = l.Close() // a socket is there, and nobody behind it
		_, _ = fmt.Fprintf(rawStdout(), "1|%d|unix|%s|grpc|\n", proto.Wire, path)
		time.Sleep(time.Hour)
	case "listens-only":
		path := os.Getenv("PLUGIN_UNIX_SOCKET_DIR") + "/s"
		if _, err := net.Listen("unix", path); err != nil {
			panic(err)
		}
		_, _ = fmt.Fprintf(rawStdout(), "1|%d|unix|%s|grpc|\n", proto.Wire, path)
		time.Sleep(time.Hour)
	case "wire-2":
		raw(&answers{mode: mode}, 2)
	case "parent":
		child := exec.Command(os.Args[0], proto.ServeArg, "hangs-at-start", os.Args[3])
		child.Stdout, child.Stderr = os.Stderr, os.Stderr // holds the pipe open
		if err := child.Start(); err != nil {
			panic(err)
		}
		raw(&answers{mode: mode}, proto.Wire)
	case "ignores-shutdown":
		raw(&answers{mode: mode}, proto.Wire)
		time.Sleep(time.Hour)
	default:
		if !serveWorse(mode) {
			raw(&answers{mode: mode}, proto.Wire)
		}
	}
}

// raw serves without the sdk, as an author in another language would.
func raw(a *answers, wire int) {
	plugin.Serve(&plugin.ServeConfig{
		HandshakeConfig:  plugin.HandshakeConfig{MagicCookieKey: proto.CookieKey, MagicCookieValue: proto.CookieValue},
		VersionedPlugins: map[int]plugin.PluginSet{wire: {proto.Service: rawService{answers: a}}},
		GRPCServer:       plugin.DefaultGRPCServer,
		Logger:           hclog.NewNullLogger(),
	})
}

func init() {
	// raw plugins have no Serve of the sdk to put the standard output back.
	if len(os.Args) > 2 && os.Args[1] == proto.ServeArg {
		if slices.ContainsFunc(modes(), func(m string) bool { return served(m) == nil }) {
			os.Stdout = rawStdout()
		}
	}
}

type rawService struct {
	plugin.NetRPCUnsupportedPlugin
	answers *answers
}

func (r rawService) GRPCServer(_ *plugin.GRPCBroker, g *grpc.Server) error {
	dimsetv1.RegisterDimensionSetsServer(g, r.answers)
	return nil
}

func (rawService) GRPCClient(context.Context, *plugin.GRPCBroker, *grpc.ClientConn) (any, error) {
	return nil, errors.New("only serves")
}

// answers misbehaves in the way its mode says.
type answers struct {
	dimsetv1.UnimplementedDimensionSetsServer
	mode string
}

func (a *answers) Describe(_ context.Context, r *dimsetv1.DescribeRequest) (*dimsetv1.DescribeResponse, error) {
	d := &dimsetv1.DescribeResponse{Id: a.mode, Wire: proto.Wire}
	switch a.mode {
	case "wire-0":
		d.Wire = 0
	case "needy":
		d.RequiredCapabilities = []string{"outlines"}
	case "newer":
		d.Capabilities = []string{"something-later"}
		addUnknown(d)
	case "tells-request":
		d.PluginVersion = fmt.Sprintf("capabilities %d, unknown bytes %d", len(r.GetCapabilities()), len(r.ProtoReflect().GetUnknown()))
	}
	return d, nil
}

func addUnknown(m gproto.Message) {
	b := protowire.AppendTag(nil, 4711, protowire.BytesType)
	m.ProtoReflect().SetUnknown(protowire.AppendString(b, "from later"))
}

func (a *answers) List(context.Context, *dimsetv1.ListRequest) (*dimsetv1.ListResponse, error) {
	return &dimsetv1.ListResponse{Sets: []*dimsetv1.Summary{{Id: a.mode, Major: 1, Title: a.mode}}}, nil
}

func (a *answers) Get(context.Context, *dimsetv1.GetRequest) (*dimsetv1.GetResponse, error) {
	set := wireShawm(a.mode)
	getWorse(a.mode, set)
	first := set.Dimensions[0]
	switch a.mode {
	case "hangs-in-a-call":
		time.Sleep(time.Hour)
	case "dies-mid-call":
		os.Exit(3)
	case "panics":
		panic("my own fault")
	case "huge":
		set.About = strings.Repeat("x", 5<<20)
	case "bad-name":
		first.Name = "Gouge Centre"
	case "low-above-high":
		first.Plausible = &dimsetv1.Tolerance{Text: "2 .. 1 mm", Unit: "mm", Low: gproto.Int64(2e6), High: gproto.Int64(1e6)}
	case "unknown-kind":
		first.Kind = "colour"
	case "unknown-unit":
		first.Unit = "furlong"
	case "unknown-condition":
		first.Condition = 99
	case "escape-sequences":
		first.Title = "gouge\x1b[2J"
	case "empty-answer":
		return &dimsetv1.GetResponse{}, nil
	case "another-set":
		set.Id = "dulcian"
	case "newer":
		addUnknown(set)
		addUnknown(first)
	case "reads-stdin":
		line, err := bufio.NewReader(os.Stdin).ReadString('\n')
		set.About = fmt.Sprintf("read %q, end %v", line, err == io.EOF)
	case "tells-environment":
		wd, _ := os.Getwd()
		var names []string
		for _, e := range os.Environ() {
			name, _, _ := strings.Cut(e, "=")
			names = append(names, name)
		}
		set.About = wd + "\n" + strings.Join(names, " ")
	}
	return &dimsetv1.GetResponse{Set: set}, nil
}

func shawm(major int) sdk.Instrument {
	return sdk.Instrument{
		ID: "shawm", Title: "shawm, invented", Major: major, Version: "0.9", Contact: "nobody",
		Dimensions: []sdk.Dimension{{
			Name: "gouge.centre", Title: "gouge", Kind: "length", Unit: "mm", Across: true,
			How: "touch", More: "thick", Less: "thin", Plausible: "1.0 .. 1.6 mm",
			Sources: []sdk.Source{{Says: "invented", Grade: sdk.FromMemory}},
		}},
	}
}

func wireShawm(id string) *dimsetv1.Set {
	return &dimsetv1.Set{
		Id: id, Title: "shawm, invented", Major: 1,
		Dimensions: []*dimsetv1.Dimension{{
			Name: "gouge.centre", Title: "gouge", Kind: "length", Unit: "mm", Across: true, Subject: "piece",
			Condition: dimsetv1.Condition_CONDITION_EITHER, How: "touch", More: "thick", Less: "thin",
			Plausible: &dimsetv1.Tolerance{Text: "1.0 .. 1.6 mm", Unit: "mm", Step: 1e5, Low: gproto.Int64(1e6), High: gproto.Int64(16e5)},
			Sources:   []*dimsetv1.Source{{Says: "invented", Grade: dimsetv1.Grade_GRADE_FROM_MEMORY}},
		}},
	}
}

// hostOf is a host that asks one plugin and waits for an answer for an hour.
func hostOf(mode, marker string) {
	h := &Host{
		Bundled: []string{mode}, StartTimeout: 30 * time.Second, CallTimeout: time.Hour,
		Args: markedArgs(marker),
	}
	set, err := h.Set(context.Background(), mode, 1)
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	fmt.Println(set.About)
}
