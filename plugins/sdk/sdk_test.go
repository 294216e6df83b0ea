package sdk

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/stats"
	"google.golang.org/grpc/status"
	gproto "google.golang.org/protobuf/proto"

	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// The test binary stands in for a plugin's program, and for a careless host
// that starts one, when it is started again with these arguments.
const (
	byHand   = "serve-by-hand"
	careless = "start-a-plugin-and-hang"
)

func TestMain(m *testing.M) {
	if len(os.Args) == 2 && os.Args[1] == byHand {
		fmt.Println("stdout is my own")
		Serve(shawm())
		fmt.Println("Serve came back")
		os.Exit(0)
	}
	if len(os.Args) == 2 && os.Args[1] == careless {
		cmd := exec.Command(os.Args[0], byHand)
		// The race detector waits a second on the way out unless told not to.
		cmd.Env = append(os.Environ(), "GORACE=atexit_sleep_ms=0", proto.CookieKey+"="+proto.CookieValue, fmt.Sprintf("PLUGIN_PROTOCOL_VERSIONS=%d", proto.Wire))
		cmd.Stdout, cmd.Stderr = os.Stdout, os.Stderr
		fmt.Println(cmd.Start())
		time.Sleep(time.Hour)
	}
	os.Exit(m.Run())
}

func shawm() Instrument {
	return Instrument{
		ID: "shawm", Title: "shawm, invented", Major: 2, Minor: 1, Version: "0.9",
		Dimensions: []Dimension{
			{
				Name: "gouge.centre", Title: "gouge", Kind: "length", Unit: "mm", Across: true,
				How: "touch", More: "thick", Less: "thin", Plausible: "1.0 .. 1.6 mm",
				Sources: []Source{{Says: "invented", Grade: FromMemory}},
			},
			{
				Name: "line", Title: "line", Kind: "length", Unit: "mm", Datum: "the line", Condition: "wet",
				How: "ruler", More: "long", Less: "short", Plausible: "at least 0 mm",
				Sources: []Source{{Says: "invented", Grade: CommonPractice}},
			},
			{Name: "gap", Title: "gap", Kind: "length", Unit: "mm", More: "long", Less: "short", Formula: "line - gouge.centre"},
		},
	}
}

// failing records what a test would have been failed with.
type failing struct{ said []string }

func (f *failing) Helper()                        {}
func (f *failing) Fatalf(format string, a ...any) { f.said = append(f.said, fmt.Sprintf(format, a...)) }

func TestTryShowsWhatTheHostSees(t *testing.T) {
	t.Parallel()
	got := Try(t, shawm())
	if d := got.Describe; d.GetId() != "shawm" || d.GetPluginVersion() != "0.9" || d.GetWire() != proto.Wire || d.GetSdkVersion() == "" {
		t.Errorf("describe: %v", d)
	}
	if len(got.List.GetSets()) != 1 || len(got.Sets) != 1 {
		t.Fatalf("list: %v, sets: %v", got.List, got.Sets)
	}
	set := got.Sets[0]
	if set.GetId() != "shawm" || set.GetMajor() != 2 || set.GetMinor() != 1 || len(set.GetDimensions()) != 3 {
		t.Fatalf("set: %v", set)
	}
	want := &dimsetv1.Dimension{
		Name: "gouge.centre", Title: "gouge", Kind: "length", Unit: "mm", Across: true, Subject: "piece",
		Condition: dimsetv1.Condition_CONDITION_EITHER, How: "touch", More: "thick", Less: "thin",
		Plausible: &dimsetv1.Tolerance{
			Text: "1.0 .. 1.6 mm", Unit: "mm", Step: 100_000,
			Low: gproto.Int64(1_000_000), High: gproto.Int64(1_600_000),
		},
		Sources: []*dimsetv1.Source{{Says: "invented", Grade: dimsetv1.Grade_GRADE_FROM_MEMORY}},
	}
	if d := set.GetDimensions()[0]; !gproto.Equal(d, want) {
		t.Errorf("got  %v\nwant %v", d, want)
	}
	p := set.GetDimensions()[1].GetPlausible()
	if p.Low == nil || *p.Low != 0 || p.High != nil {
		t.Errorf("a limit of zero and an open end became %v", p)
	}
	if set.GetDimensions()[2].Plausible != nil || set.GetDimensions()[0].Formula != nil {
		t.Error("what is absent was sent")
	}
}

func TestSeveralMajorVersions(t *testing.T) {
	t.Parallel()
	older := shawm()
	older.Major = 1
	got := Try(t, shawm(), older)
	if len(got.Sets) != 2 || got.Sets[0].GetMajor() != 2 || got.Sets[1].GetMajor() != 1 {
		t.Errorf("got %v", got.List)
	}
}

func TestServeRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say   string
		spoil func(*Instrument)
		want  string
	}{
		{"an unknown kind", func(i *Instrument) { i.Dimensions[0].Kind = "colour" }, `dimension "gouge.centre": "colour" is not a kind`},
		{"an unknown unit", func(i *Instrument) { i.Dimensions[0].Unit = "furlong" }, `"furlong" is not a unit`},
		{"a range it cannot read", func(i *Instrument) { i.Dimensions[0].Plausible = "1.0 to 1.6 mm" }, `plausible "1.0 to 1.6 mm"`},
		{"a range the wrong way round", func(i *Instrument) { i.Dimensions[0].Plausible = "2 .. 1 mm" }, "wrong way round"},
		{"an odd condition", func(i *Instrument) { i.Dimensions[1].Condition = "moist" }, `condition "moist"`},
		{"an odd grade", func(i *Instrument) { i.Dimensions[1].Sources[0].Grade = "sure" }, `graded "sure"`},
		{"a negative version", func(i *Instrument) { i.Minor = -1 }, "version 2.-1"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			in := shawm()
			c.spoil(&in)
			var f failing
			Try(&f, in)
			if len(f.said) != 1 || !strings.Contains(f.said[0], c.want) {
				t.Errorf("said %q, want %q", f.said, c.want)
			}
		})
	}
	var f failing
	Try(&f)
	if len(f.said) != 1 || !strings.Contains(f.said[0], "no instrument") {
		t.Errorf("without an instrument it said %q", f.said)
	}
}

func TestAnUnknownSetIsNotFound(t *testing.T) {
	t.Parallel()
	s, err := newServer([]Instrument{shawm()})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []*dimsetv1.GetRequest{{Id: "shawm", Major: 1}, {Id: "dulcian", Major: 2}, {}} {
		if _, err := s.Get(context.Background(), r); status.Code(err) != codes.NotFound {
			t.Errorf("%v gives %v", r, err)
		}
	}
}

func TestAPanicIsAnErrorOfTheCall(t *testing.T) {
	t.Parallel()
	info := &grpc.UnaryServerInfo{FullMethod: "/x/Get"}
	_, err := panicsAreErrors(context.Background(), nil, info, func(context.Context, any) (any, error) { panic("slipped") })
	if status.Code(err) != codes.Internal || !strings.Contains(err.Error(), "panic in /x/Get: slipped") {
		t.Errorf("got %v", err)
	}
}

func TestStandardOutputIsLeftAloneOutsideAPlugin(t *testing.T) {
	t.Parallel()
	if stdout != nil {
		t.Fatal("this test binary took itself for a plugin")
	}
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe, byHand)
	var out, errs strings.Builder
	cmd.Stdout, cmd.Stderr = &out, &errs
	err = cmd.Run()
	if err == nil || out.String() != "stdout is my own\n" {
		t.Errorf("it ended with %v and printed %q", err, out.String())
	}
	if want := "serve an instrument: this program answers canewright and cannot be used by hand\n"; errs.String() != want {
		t.Errorf("it complained %q, want %q", errs.String(), want)
	}
}

func TestTheLastConnectionGoneEndsThePlugin(t *testing.T) {
	t.Parallel()
	gone := make(chan time.Time, 1)
	w := &watch{gone: func() { gone <- time.Now() }}
	w.alone = time.AfterFunc(time.Hour, func() { w.gone() })
	ctx := context.Background()
	w.HandleConn(ctx, &stats.ConnBegin{})
	w.HandleConn(ctx, &stats.ConnBegin{})
	w.HandleConn(ctx, &stats.ConnEnd{})
	select {
	case <-gone:
		t.Fatal("it ended while a connection stood")
	case <-time.After(lonelyFor + 200*time.Millisecond):
	}
	start := time.Now()
	w.HandleConn(ctx, &stats.ConnEnd{})
	select {
	case at := <-gone:
		if at.Sub(start) < lonelyFor {
			t.Errorf("it ended after %s, want at least %s", at.Sub(start), lonelyFor)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("it did not end")
	}
}

// The host here sends no parent-death signal and never connects: only the
// plugin's own watch ends it. Its standard output closes when it has ended.
func TestThePluginEndsWithinASecondOfItsHost(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("a process keeps its parent's number there; the connection tells")
	}
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	sockets, err := os.MkdirTemp("", "cw")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(sockets) })
	host := exec.Command(exe, careless)
	host.Env = append(os.Environ(), "PLUGIN_UNIX_SOCKET_DIR="+sockets)
	out, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	host.Stdout = w
	if err := host.Start(); err != nil {
		t.Fatal(err)
	}
	_ = w.Close()
	lines := bufio.NewScanner(out)
	for handshaken := false; !handshaken; {
		if !lines.Scan() {
			t.Fatalf("no handshake: %v", lines.Err())
		}
		handshaken = strings.HasPrefix(lines.Text(), fmt.Sprintf("1|%d|unix|%s", proto.Wire, sockets))
	}
	if err := host.Process.Kill(); err != nil {
		t.Fatal(err)
	}
	killed := time.Now()
	_ = host.Wait()
	if err := out.SetReadDeadline(killed.Add(10 * time.Second)); err != nil {
		t.Fatal(err)
	}
	for lines.Scan() {
	}
	if lines.Err() != nil {
		t.Fatalf("the plugin lives on: %v", lines.Err())
	}
	if took := time.Since(killed); took > time.Second {
		t.Errorf("the plugin lived on for %s", took)
	}
	if _, err := os.Stat(sockets); !os.IsNotExist(err) {
		t.Errorf("its socket is left: %v", err)
	}
}
