package conform

import (
	"fmt"
	"regexp"
	"strings"
	"time"
	"unicode/utf8"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	gproto "google.golang.org/protobuf/proto"

	"canewright/engine/diagnostic"
	"canewright/plugins/host"
	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// first is the first start: everything that is asked of a plugin that runs.
func (k *kit) first() {
	c, conn := k.open(true)
	if c == nil {
		return
	}
	defer c.end()
	if conn == nil {
		k.afterwards(c)
		return
	}
	defer conn.Close()
	if k.askAll(c, conn) {
		k.askNobody(conn)
		k.askUnknown(conn, k.compare(conn, "asked again"))
		k.cancelled(c, conn)
		k.listening(c)
	}
	k.stopped(c, conn)
	k.afterwards(c)
}

// open starts the program and connects to it. Without a connection the reason
// is noted; without a child there is nothing to end.
func (k *kit) open(note bool) (*child, *grpc.ClientConn) {
	begun := time.Now()
	c, err := k.start(false)
	if err != nil {
		k.fail(handshake, "look whether it is a program for this system and may be executed", "it cannot be started: "+err.Error())
		return nil, nil
	}
	p, f := k.shake(c)
	if f != nil {
		k.fail(handshake, f.do, f.seen)
		return c, nil
	}
	if note {
		k.ok(handshake, fmt.Sprintf("after %s", round(time.Since(begun))))
	}
	conn, err := k.dial(p)
	if err != nil {
		k.fail(connection, "look whether it listens where its handshake says", err.Error())
		return c, nil
	}
	return c, conn
}

func round(d time.Duration) time.Duration {
	if d < 10*time.Millisecond {
		return d.Round(100 * time.Microsecond)
	}
	return d.Round(time.Millisecond)
}

// shake waits for the handshake and reads it.
func (k *kit) shake(c *child) (place, *fault) {
	line, err := c.firstLine(k.ctx, k.opts.times(startLimit))
	if err != nil {
		seen := err.Error()
		if c.flood.Load() {
			return place{}, &fault{k.tooMuch(), "make the dimension set before serving, once, and keep no more than that"}
		}
		if line != "" {
			seen += fmt.Sprintf("; it printed %q", clip(host.Printable(line)))
		}
		if w := c.wrote(); w != "" {
			seen += fmt.Sprintf("; it wrote %q", w)
		}
		return place{}, &fault{seen, "print the handshake and flush it as soon as it listens; do slow work afterwards"}
	}
	return readHandshake(line, c.sockets)
}

func (k *kit) tooMuch() string {
	return fmt.Sprintf("it took more than %d MiB of memory and was ended", k.opts.mostMemory()>>20)
}

// request is one call: its name for people, its method, what is asked.
type request struct {
	name, method string
	ask          gproto.Message
}

func describeCall() request {
	return request{"Describe", dimsetv1.DimensionSets_Describe_FullMethodName, &dimsetv1.DescribeRequest{Wires: []uint32{proto.Wire}}}
}

func listCall() request {
	return request{"List", dimsetv1.DimensionSets_List_FullMethodName, &dimsetv1.ListRequest{}}
}

func getCall(id string, major uint32) request {
	return request{fmt.Sprintf("Get %s %d", clip(host.Printable(id)), major), dimsetv1.DimensionSets_Get_FullMethodName, &dimsetv1.GetRequest{Id: id, Major: major}}
}

// calls are all that can be asked of the plugin, once List is known.
func (k *kit) calls() []request {
	out := []request{describeCall(), listCall()}
	for _, s := range k.listed {
		out = append(out, getCall(s.GetId(), s.GetMajor()))
	}
	return out
}

// made makes a call and notes what is wrong with how it was answered.
func (k *kit) made(c *child, conn *grpc.ClientConn, r request) ([]byte, bool) {
	begun := time.Now()
	b, err := k.ask(conn, r.method, r.ask, k.opts.times(callLimit))
	took := time.Since(begun)
	if err == nil {
		if k.results[connection] == nil {
			k.ok(connection)
		}
		if took >= k.slowest {
			k.slowest, k.slow = took, r.name
		}
		k.largest = max(k.largest, len(b))
		return b, true
	}
	if k.ctx.Err() != nil {
		return nil, false
	}
	s, _ := status.FromError(err)
	said := clip(host.Printable(s.Message()))
	switch {
	case c.flood.Load():
		k.fail(memory, "make the dimension set once and keep no more than that", k.tooMuch())
		k.fail(inTime, "see memory", "it was ended during "+r.name)
	case s.Code() == codes.ResourceExhausted && strings.Contains(s.Message(), "larger than max"):
		k.fail(answerSize, fmt.Sprintf("keep every answer under %d MiB: a dimension set is text and a few numbers", proto.LargestAnswer>>20), r.name+": "+said)
		k.fail(inTime, "see answer size", r.name+" was not taken")
	case s.Code() == codes.DeadlineExceeded:
		k.fail(inTime, "work the answer out before serving; a call only hands it over", fmt.Sprintf("%s was not answered within %s", r.name, k.opts.times(callLimit)))
	case s.Code() == codes.Unavailable || s.Code() == codes.Canceled:
		select {
		case <-c.done:
			c.err.ended(time.Second)
			seen := fmt.Sprintf("it ended in the middle of %s (%s)", r.name, c.cmd.ProcessState)
			if w := c.wrote(); w != "" {
				seen += fmt.Sprintf("; it wrote %q", w)
			}
			k.fail(inTime, "a fault in one call is an error of that call; catch it, and go on serving", seen)
		case <-time.After(500 * time.Millisecond):
			if k.results[connection] == nil {
				k.fail(connection, "serve TLS with the certificate of the handshake, made for the name localhost, and ask for the one in PLUGIN_CLIENT_CERT", said)
			} else {
				k.fail(inTime, "keep the connection open until the host closes it", "it closed the connection in the middle of "+r.name)
			}
		}
	case s.Code() == codes.Unimplemented:
		k.fail(inTime, "serve canewright.dimset.v1.DimensionSets with Describe, List and Get", fmt.Sprintf("it does not know %s: %s", r.method, said))
	default:
		k.fail(inTime, "answer every call that plugins/proto describes", fmt.Sprintf("%s was answered with the error %s: %s", r.name, s.Code(), said))
	}
	return nil, false
}

// ident is the contract's pattern of a plugin's own name.
var ident = regexp.MustCompile(`^[a-z][a-z0-9-]{0,31}$`)

// askAll makes every call once and reads the answers.
func (k *kit) askAll(c *child, conn *grpc.ClientConn) bool {
	b, ok := k.made(c, conn, describeCall())
	if !ok {
		return false
	}
	about := &dimsetv1.DescribeResponse{}
	if err := gproto.Unmarshal(b, about); err != nil {
		k.fail(describe, "answer with the message DescribeResponse", "its bytes cannot be read: "+err.Error())
		return false
	}
	k.about = about
	k.answers["Describe"] = b
	k.introduced(about)
	if b, ok = k.made(c, conn, listCall()); !ok {
		return false
	}
	k.answers["List"] = b
	list := &dimsetv1.ListResponse{}
	if err := gproto.Unmarshal(b, list); err != nil {
		k.fail(versions, "answer with the message ListResponse", "its bytes cannot be read: "+err.Error())
		return false
	}
	const most = 20
	if k.listed = list.GetSets(); len(k.listed) == 0 || len(k.listed) > most {
		k.fail(versions, "list each major version of the instrument once", fmt.Sprintf("List names %d sets", len(k.listed)))
		k.listed = nil
		return false
	}
	var differs, unread []string
	seen := map[string]bool{}
	for _, s := range k.listed {
		r := getCall(s.GetId(), s.GetMajor())
		if s.GetId() != about.GetId() {
			differs = append(differs, fmt.Sprintf("Describe says %q, List says %q", clip(about.GetId()), clip(s.GetId())))
		}
		if seen[r.name] {
			differs = append(differs, fmt.Sprintf("List names %s %d twice", clip(s.GetId()), s.GetMajor()))
			continue
		}
		seen[r.name] = true
		if b, ok = k.made(c, conn, r); !ok {
			return false
		}
		k.answers[r.name] = b
		got := &dimsetv1.GetResponse{}
		if err := gproto.Unmarshal(b, got); err != nil {
			unread = append(unread, r.name+": its bytes cannot be read: "+err.Error())
			continue
		}
		set, err := host.Read(got.GetSet())
		if err != nil {
			unread = append(unread, r.name+": "+err.Error())
			continue
		}
		if set.ID != s.GetId() || set.Major != int(s.GetMajor()) || set.Minor != int(s.GetMinor()) {
			differs = append(differs, fmt.Sprintf("List says %s %d.%d, Get sends %s %d.%d", clip(s.GetId()), s.GetMajor(), s.GetMinor(), clip(set.ID), set.Major, set.Minor))
		}
		k.sets = append(k.sets, set)
	}
	if len(differs) > 0 {
		k.fail(versions, "take name and version from one place in all three answers", differs...)
	} else {
		k.ok(versions)
	}
	if len(unread) > 0 {
		k.fail(readable, "use the words of dimset.proto; kinds and units are those of engine/quantity", unread...)
	} else {
		k.ok(readable)
	}
	k.ok(inTime, fmt.Sprintf("the slowest, %s, took %s", k.slow, round(k.slowest)))
	k.ok(answerSize, fmt.Sprintf("the largest has %d bytes", k.largest))
	return true
}

// longestWord is the most bytes of a text in Describe: it is shown on one line.
const longestWord = 200

// introduced looks at the answer to Describe.
func (k *kit) introduced(d *dimsetv1.DescribeResponse) {
	var seen []string
	if !ident.MatchString(d.GetId()) {
		seen = append(seen, fmt.Sprintf("its name is %q; a name is lower case letters, digits and hyphens, at most 32, a letter first", clip(d.GetId())))
	}
	if d.GetWire() != proto.Wire {
		seen = append(seen, fmt.Sprintf("it says it answers in wire %d; this is wire %d", d.GetWire(), proto.Wire))
	}
	if n := d.GetRequiredCapabilities(); len(n) > 0 {
		seen = append(seen, fmt.Sprintf("it needs %s, which no host of wire %d has", clip(strings.Join(n, ", ")), proto.Wire))
	}
	for _, t := range append([]string{d.GetPluginVersion(), d.GetSdkVersion(), d.GetContact()}, d.GetCapabilities()...) {
		if !utf8.ValidString(t) || strings.ContainsFunc(t, diagnostic.Unsafe) {
			seen = append(seen, fmt.Sprintf("%q holds control characters", clip(host.Printable(t))))
		}
		if len(t) > longestWord {
			seen = append(seen, fmt.Sprintf("%q is longer than %d bytes", clip(host.Printable(t)), longestWord))
		}
	}
	if len(seen) > 0 {
		k.fail(describe, "mend what Describe answers", seen...)
		return
	}
	k.ok(describe)
}
