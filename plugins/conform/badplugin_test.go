package conform

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"encoding/base64"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/credentials"
	"google.golang.org/grpc/stats"
	"google.golang.org/grpc/status"
	gproto "google.golang.org/protobuf/proto"

	"canewright/plugins/host"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// The test binary is every plugin of these tests. It serves as an author
// without go-plugin has to, from what plugins/proto says alone.
const bePlugin = "be-a-plugin"

func TestMain(m *testing.M) {
	if len(os.Args) > 2 && os.Args[1] == bePlugin {
		servePlugin(os.Args[2])
		os.Exit(0)
	}
	os.Exit(m.Run())
}

func must[T any](v T, err error) T {
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(9)
	}
	return v
}

func servePlugin(mode string) {
	switch mode {
	case "prints-early":
		fmt.Println("good\x1b[2J morning")
	case "ends-at-once":
		fmt.Fprintln(os.Stderr, "cannot find my tables\x1b[31m")
		os.Exit(7)
	case "hangs-at-start":
		time.Sleep(time.Hour)
	case "floods-memory":
		flood()
	}
	network, at := "unix", filepath.Join(os.Getenv("PLUGIN_UNIX_SOCKET_DIR"), "s")
	switch mode {
	case "listens-elsewhere":
		at = filepath.Join(os.Getenv("TMPDIR"), "s")
	case "listens-to-everybody":
		network, at = "tcp", "0.0.0.0:0"
	case "listens-twice":
		must(net.Listen("tcp", "127.0.0.1:0"))
	}
	l := must(net.Listen(network, at))
	conf, _, err := host.MutualTLS(time.Now())
	must(0, err)
	der := conf.Certificates[0].Certificate[0]
	conf.ClientCAs = x509.NewCertPool()
	conf.ClientCAs.AppendCertsFromPEM([]byte(os.Getenv("PLUGIN_CLIENT_CERT")))
	if mode == "shows-another-certificate" {
		other, _, err := host.MutualTLS(time.Now())
		must(0, err)
		conf.Certificates = []tls.Certificate{other.Certificates[0]}
	}
	a := &answers{mode: mode}
	server := grpc.NewServer(grpc.Creds(credentials.NewTLS(conf)), grpc.StatsHandler(connections{mode}), grpc.UnknownServiceHandler(a.controller))
	dimsetv1.RegisterDimensionSetsServer(server, a)

	line := fmt.Sprintf("1|1|%s|%s|grpc|%s", network, l.Addr(), base64.RawStdEncoding.EncodeToString(der))
	switch mode {
	case "wire-7":
		line = "1|7" + line[3:]
	case "framing-2":
		line = "2" + line[1:]
	case "speaks-json":
		line = strings.Replace(line, "grpc", "json", 1)
	case "no-certificate":
		line = line[:strings.LastIndex(line, "|")]
	case "padded-certificate":
		line += "="
	}
	fmt.Println(line)
	switch mode {
	case "prints-later":
		fmt.Println("serving now")
	case "writes-files":
		must(0, os.WriteFile("notes.txt", []byte("mine"), 0o600))
	case "leaves-a-child":
		must(0, exec.Command("/bin/sleep", "60").Start())
	}
	_ = server.Serve(l)
	time.Sleep(time.Hour)
}

func flood() {
	var kept [][]byte
	for range 400 { // 400 MiB, well above what the tests allow
		b := make([]byte, 1<<20)
		for i := 0; i < len(b); i += 4096 {
			b[i] = 1
		}
		kept = append(kept, b)
		time.Sleep(time.Millisecond)
	}
	time.Sleep(time.Hour)
	fmt.Println(len(kept))
}

// connections ends the program with its only connection.
type connections struct{ mode string }

func (c connections) HandleConn(_ context.Context, s stats.ConnStats) {
	if _, ok := s.(*stats.ConnEnd); ok && c.mode != "stays-for-ever" && c.mode != "knows-shutdown-alone" {
		os.Exit(0)
	}
}
func (connections) TagConn(ctx context.Context, _ *stats.ConnTagInfo) context.Context { return ctx }
func (connections) TagRPC(ctx context.Context, _ *stats.RPCTagInfo) context.Context   { return ctx }
func (connections) HandleRPC(context.Context, stats.RPCStats)                         {}

type answers struct {
	dimsetv1.UnimplementedDimensionSetsServer
	mode  string
	count atomic.Int64
	works sync.Once
}

// controller answers Shutdown.
func (a *answers) controller(_ any, s grpc.ServerStream) error {
	m, _ := grpc.MethodFromServerStream(s)
	if m != shutdown || a.mode == "knows-no-shutdown" {
		return status.Error(codes.Unimplemented, "not here")
	}
	if a.mode == "stays-for-ever" {
		return nil
	}
	go func() {
		time.Sleep(20 * time.Millisecond)
		os.Exit(0)
	}()
	return errors.Join(s.RecvMsg(&dimsetv1.ListRequest{}), s.SendMsg(&dimsetv1.ListResponse{}))
}

func (a *answers) Describe(_ context.Context, r *dimsetv1.DescribeRequest) (*dimsetv1.DescribeResponse, error) {
	d := &dimsetv1.DescribeResponse{Id: "shawm", Wire: 1, PluginVersion: "0.9"}
	switch a.mode {
	case "wire-0":
		d.Wire = 0
	case "needy":
		d.RequiredCapabilities = []string{"music"}
	case "odd-name":
		d.Id = "../shawm"
	case "escapes-in-its-version":
		d.PluginVersion = "\x1b[2J"
	case "minds-capabilities":
		if len(r.GetCapabilities()) > 0 {
			return nil, status.Error(codes.InvalidArgument, "what is that?")
		}
	case "echoes-what-it-does-not-know":
		d.ProtoReflect().SetUnknown(r.ProtoReflect().GetUnknown())
	}
	return d, nil
}

func (a *answers) List(context.Context, *dimsetv1.ListRequest) (*dimsetv1.ListResponse, error) {
	s := &dimsetv1.Summary{Id: "shawm", Major: 1, Minor: 2, Title: "shawm, invented"}
	switch a.mode {
	case "lies-about-its-version":
		s.Minor = 9
	case "lies-about-its-name":
		s.Id = "bombard"
	case "lists-nothing":
		return &dimsetv1.ListResponse{}, nil
	}
	return &dimsetv1.ListResponse{Sets: []*dimsetv1.Summary{s}}, nil
}

func (a *answers) Get(_ context.Context, r *dimsetv1.GetRequest) (*dimsetv1.GetResponse, error) {
	if (r.GetId() != "shawm" && a.mode != "lies-about-its-name" || r.GetMajor() != 1) && a.mode != "has-everything" {
		return nil, status.Error(codes.NotFound, "no such set")
	}
	set := shawm()
	gouge, gap := set.Dimensions[0], set.Dimensions[2]
	switch a.mode {
	case "hangs-in-a-call":
		time.Sleep(time.Hour)
	case "floods-in-a-call":
		flood()
	case "dies-mid-call":
		os.Exit(3)
	case "panics":
		panic("my own fault")
	case "answers-with-an-error":
		return nil, errors.New("not today")
	case "huge":
		set.About = strings.Repeat("x", 5<<20)
	case "unknown-kind":
		gouge.Kind = "colour"
	case "odd-dimension-name":
		gouge.Name = "Gouge Centre"
	case "repeated-names":
		set.Dimensions[1].Name = gouge.Name
	case "no-source":
		gouge.Sources = nil
	case "published-by-nobody":
		gouge.Sources[0].Grade = dimsetv1.Grade_GRADE_PUBLISHED
	case "low-above-high":
		gouge.Plausible.Low = gproto.Int64(2e6)
	case "usual-outside":
		gouge.Plausible.Nominal = gproto.Int64(5e6)
	case "no-datum":
		set.Dimensions[1].Datum = ""
	case "misspelt-tool":
		gouge.Tool = "calipper"
	case "tool-of-its-own":
		gouge.Tool = "my grandfather's gauge"
	case "no-words":
		gouge.More = ""
	case "formula-of-nothing":
		gap.Formula = gproto.String("lnie - gouge.centre")
	case "formula-of-another-kind":
		gap.Formula = gproto.String("line * gouge.centre")
	case "escapes-in-a-title":
		gouge.Title = "gouge\x1b[2J"
	case "unit-of-another-kind":
		gouge.Unit = "g"
	case "changes-its-answer":
		set.About = fmt.Sprintf("asked %d times", a.count.Add(1))
	case "changes-with-the-start":
		set.About = fmt.Sprintf("started as %d", os.Getpid())
	case "ignores-cancel":
		go a.works.Do(func() { // on and on, whatever becomes of the call
			for {
				a.count.Add(1)
			}
		})
	}
	return &dimsetv1.GetResponse{Set: set}, nil
}

// shawm is invented.
func shawm() *dimsetv1.Set {
	guess := func() []*dimsetv1.Source {
		return []*dimsetv1.Source{{Says: "invented", Grade: dimsetv1.Grade_GRADE_FROM_MEMORY}}
	}
	return &dimsetv1.Set{
		Id: "shawm", Title: "shawm, invented", Major: 1, Minor: 2,
		Dimensions: []*dimsetv1.Dimension{{
			Name: "gouge.centre", Title: "gouge", Kind: "length", Unit: "mm", Across: true, Subject: "piece",
			Condition: dimsetv1.Condition_CONDITION_EITHER, How: "touch", More: "thick", Less: "thin",
			Plausible: &dimsetv1.Tolerance{Text: "1.0 .. 1.6 mm", Unit: "mm", Step: 1e5, Low: gproto.Int64(1e6), High: gproto.Int64(16e5)},
			Sources:   guess(),
		}, {
			Name: "line", Title: "line", Kind: "length", Unit: "mm", Datum: "the butt", Subject: "piece",
			Condition: dimsetv1.Condition_CONDITION_WET, How: "ruler", More: "long", Less: "short", Sources: guess(),
		}, {
			Name: "gap", Title: "gap", Kind: "length", Unit: "mm", Subject: "piece", Condition: dimsetv1.Condition_CONDITION_EITHER,
			More: "long", Less: "short", Formula: gproto.String("line - gouge.centre"), Sources: guess(),
		}},
	}
}
