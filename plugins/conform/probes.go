package conform

import (
	"bytes"
	"context"
	"fmt"
	"runtime"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/encoding/protowire"
	gproto "google.golang.org/protobuf/proto"

	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// askNobody asks for what the plugin cannot hold.
func (k *kit) askNobody(conn *grpc.ClientConn) {
	const nobody = "nobody-has-this"
	for _, s := range []struct {
		id    string
		major uint32
	}{{nobody, 1}, {k.about.GetId(), 4_000_000_000}} {
		_, err := k.ask(conn, dimsetv1.DimensionSets_Get_FullMethodName, &dimsetv1.GetRequest{Id: s.id, Major: s.major}, k.opts.times(callLimit))
		if status.Code(err) != codes.NotFound {
			said := "a set"
			if err != nil {
				st, _ := status.FromError(err)
				said = fmt.Sprintf("%s: %s", st.Code(), clip(st.Message()))
			}
			k.fail(notFound, "answer Get with the status NOT_FOUND when id or major version is not yours", fmt.Sprintf("Get %s %d is answered with %s", clip(s.id), s.major, said))
			return
		}
	}
	k.ok(notFound)
}

// askUnknown asks again with what no plugin can know. Where answers change by
// themselves they are not compared.
func (k *kit) askUnknown(conn *grpc.ClientConn, settled bool) {
	for _, r := range k.calls() {
		ask := gproto.Clone(r.ask)
		if d, ok := ask.(*dimsetv1.DescribeRequest); ok {
			d.Capabilities = append(d.Capabilities, "a-capability-nobody-knows")
			d.Wires = append(d.Wires, 4711)
		}
		// A number that dimset.proto reserves, once as a number, once as bytes.
		u := protowire.AppendVarint(protowire.AppendTag(nil, 1000, protowire.VarintType), 1<<40)
		u = protowire.AppendString(protowire.AppendTag(u, 1999, protowire.BytesType), "from later")
		ask.ProtoReflect().SetUnknown(u)
		b, err := k.ask(conn, r.method, ask, k.opts.times(callLimit))
		if err != nil {
			st, _ := status.FromError(err)
			k.fail(unknown, "ignore what you do not know: a later host will send more", fmt.Sprintf("%s with an unknown field is answered with %s: %s", r.name, st.Code(), clip(st.Message())))
			return
		}
		if settled && !bytes.Equal(b, k.answers[r.name]) {
			k.fail(unknown, "ignore what you do not know: a later host will send more", r.name+" is answered differently when there is an unknown field in it")
			return
		}
	}
	k.ok(unknown)
}

// compare asks everything again. The host keeps a set by the sum of the
// program that sent it.
func (k *kit) compare(conn *grpc.ClientConn, when string) bool {
	const do = "answer from what was worked out before serving; leave out dates, random numbers and the order of hash tables"
	for _, r := range k.calls() {
		b, err := k.ask(conn, r.method, r.ask, k.opts.times(callLimit))
		if err != nil {
			st, _ := status.FromError(err)
			k.fail(stable, do, fmt.Sprintf("%s, %s is answered with %s: %s", when, r.name, st.Code(), clip(st.Message())))
			return false
		}
		if !bytes.Equal(b, k.answers[r.name]) {
			k.fail(stable, do, fmt.Sprintf("%s, %s gives other bytes (%d instead of %d)", when, r.name, len(b), len(k.answers[r.name])))
			return false
		}
	}
	return true
}

// cancelled gives up calls at every moment of their way, and looks whether
// the plugin minds.
func (k *kit) cancelled(c *child, conn *grpc.ClientConn) {
	last := k.calls()[len(k.calls())-1]
	for i := range 25 {
		// No deadline, for that would travel along and be another matter.
		ctx, stop := context.WithCancel(k.ctx)
		soon := time.AfterFunc(time.Duration(i)*200*time.Microsecond, stop)
		var b []byte
		_ = conn.Invoke(ctx, last.method, last.ask, &b) // either way is right
		soon.Stop()
		stop()
	}
	d := describeCall()
	begun := time.Now()
	if _, err := k.ask(conn, d.method, d.ask, k.opts.times(cancelLimit)); err != nil {
		k.fail(cancel, "stop working on a call when it is cancelled, and serve calls beside each other", fmt.Sprintf("after cancelled calls it did not answer Describe within %s", k.opts.times(cancelLimit)))
		return
	}
	took := time.Since(begun)
	time.Sleep(300 * time.Millisecond)
	worked, known := k.worked(c, 400*time.Millisecond)
	if !known {
		k.ok(cancel, fmt.Sprintf("the next answer took %s; whether it rests is told on Linux only", round(took)))
		return
	}
	// On a busy machine one that never rests gets a small share only; one that
	// was still tidying up rests the second time.
	const longer = time.Second
	if worked > 20*time.Millisecond {
		if worked, _ = k.worked(c, longer); worked > longer/20 {
			k.fail(cancel, "stop working on a call when it is cancelled", fmt.Sprintf("with nothing asked of it, it worked %s of %s", worked, longer))
			return
		}
	}
	k.ok(cancel, fmt.Sprintf("the next answer took %s", round(took)))
}

// worked is how long the plugin works in a window of time.
func (k *kit) worked(c *child, window time.Duration) (time.Duration, bool) {
	before, known := groupWork(c.group)
	if !known {
		return 0, false
	}
	time.Sleep(window)
	after, _ := groupWork(c.group)
	return after - before, true
}

// listening compares where the plugin listens with what its handshake says.
func (k *kit) listening(c *child) {
	all, err := listeners(c.group)
	if err != nil {
		k.skip(ownSocket, "on "+runtime.GOOS+": "+err.Error())
		return
	}
	line, _ := c.out.first()
	own, _ := readHandshake(line, c.sockets)
	var others []string
	found := false
	for _, l := range all {
		if l == own.String() {
			found = true
			continue
		}
		others = append(others, "it listens at "+l)
	}
	switch {
	case len(others) > 0:
		k.fail(ownSocket, "open no other socket: a plugin answers its host and nobody else", others...)
	case !found:
		k.fail(ownSocket, "listen at the address of the handshake as long as you serve", "nothing listens at "+own.String())
	default:
		k.ok(ownSocket)
	}
}
