package sdk

import (
	"context"
	"net"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/test/bufconn"
	gproto "google.golang.org/protobuf/proto"

	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// Tester is the part of *testing.T that Try uses.
type Tester interface {
	Helper()
	Fatalf(format string, a ...any)
}

// Seen is what a host sees of a plugin.
type Seen struct {
	Describe *dimsetv1.DescribeResponse
	List     *dimsetv1.ListResponse
	Sets     []*dimsetv1.Set // in the order of List
}

// Try is a host for unit tests: it makes every call over a connection within
// the process and returns the answers. It asks twice, the second time with a
// capability the plugin cannot know, and fails the test if an answer changes
// or is larger than the host takes.
//
// It does not judge what the answers say. A word that is missing, a range that
// begins above its end, a number without a source, a formula that does not
// compile: conform.Test finds these, as the host and "canewright instruments
// add" do, and how the program behaves. "canewright instruments new --code"
// writes a test with both.
func Try(t Tester, instruments ...Instrument) Seen {
	t.Helper()
	s, err := newServer(instruments)
	if err != nil {
		t.Fatalf("serve an instrument: %v", err)
		return Seen{}
	}
	first := seen(t, s, nil)
	again := seen(t, s, []string{"a-capability-nobody-knows"})
	if len(first.Sets) != len(again.Sets) || !gproto.Equal(first.Describe, again.Describe) || !gproto.Equal(first.List, again.List) {
		t.Fatalf("the plugin answers differently when it is asked again")
	}
	for i, set := range first.Sets {
		if !gproto.Equal(set, again.Sets[i]) {
			t.Fatalf("the set %s %d differs when it is asked for again", set.GetId(), set.GetMajor())
		}
	}
	return first
}

func seen(t Tester, s dimsetv1.DimensionSetsServer, capabilities []string) (out Seen) {
	t.Helper()
	pipe := bufconn.Listen(64 << 10)
	g := grpc.NewServer(serverOptions()...)
	dimsetv1.RegisterDimensionSetsServer(g, s)
	go func() { _ = g.Serve(pipe) }()
	defer g.Stop()
	conn, err := grpc.NewClient("passthrough:///plugin",
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return pipe.DialContext(ctx) }),
		grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithDefaultCallOptions(grpc.MaxCallRecvMsgSize(proto.LargestAnswer)))
	if err != nil {
		t.Fatalf("connect to the plugin: %v", err)
		return out
	}
	defer func() { _ = conn.Close() }()
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
	defer cancel()

	c := dimsetv1.NewDimensionSetsClient(conn)
	if out.Describe, err = c.Describe(ctx, &dimsetv1.DescribeRequest{Wires: []uint32{proto.Wire}, Capabilities: capabilities}); err != nil {
		t.Fatalf("describe: %v", err)
		return out
	}
	if out.List, err = c.List(ctx, &dimsetv1.ListRequest{}); err != nil {
		t.Fatalf("list: %v", err)
		return out
	}
	for _, sum := range out.List.GetSets() {
		r, err := c.Get(ctx, &dimsetv1.GetRequest{Id: sum.GetId(), Major: sum.GetMajor()})
		if err != nil {
			t.Fatalf("get %s %d: %v", sum.GetId(), sum.GetMajor(), err)
			return out
		}
		out.Sets = append(out.Sets, r.GetSet())
	}
	return out
}
