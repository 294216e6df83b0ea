package conform

import (
	"fmt"
	"runtime"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"canewright/plugins/host"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// shutdown asks a plugin to end; proto's doc.go describes it.
const shutdown = "/plugin.GRPCController/Shutdown"

// stopped asks the plugin to end and waits for it.
func (k *kit) stopped(c *child, conn *grpc.ClientConn) {
	if c.flood.Load() || !k.passed(connection) {
		return
	}
	select {
	case <-c.done:
		return // the reason is noted
	default:
	}
	begun := time.Now()
	// Any message without fields is the empty message.
	_, err := k.ask(conn, shutdown, &dimsetv1.ListRequest{}, k.opts.times(stopLimit))
	_ = conn.Close()
	how := "asked"
	if status.Code(err) == codes.Unimplemented {
		how = "asked by the end of the connection, for it does not know Shutdown"
	}
	limit := k.opts.times(stopLimit)
	select {
	case <-c.done:
	case <-time.After(limit - min(time.Since(begun), limit)):
		k.fail(stops, "end when plugin.GRPCController/Shutdown is called, and when the last connection ends", fmt.Sprintf("%s later it still runs, and was ended", limit))
		return
	}
	took := time.Since(begun)
	if left, known := running(c.group); known && left {
		time.Sleep(50 * time.Millisecond)
		if left, _ = running(c.group); left {
			k.fail(stops, "start no other programs, or end them before the plugin ends", "it ended, and a program it had started runs on")
			return
		}
	}
	k.ok(stops, fmt.Sprintf("%s, it was gone after %s", how, round(took)))
}

// afterwards looks at what a start left.
func (k *kit) afterwards(c *child) {
	killGroup(c.group)
	<-c.done
	c.out.ended(time.Second)
	if k.passed(handshake) {
		if more := c.out.more(); more != "" {
			k.fail(quiet, "print to the standard error; the standard output is for the handshake alone", fmt.Sprintf("after the handshake it printed %q", clip(host.Printable(more))))
		} else {
			k.ok(quiet)
		}
	}
	switch {
	case !k.passed(inTime):
		// What a plugin that failed has taken says nothing.
	case runtime.GOOS != "linux":
		k.skip(memory, "on "+runtime.GOOS+": only Linux tells")
	default:
		k.ok(memory, fmt.Sprintf("at most %d MiB of %d", c.peak.Load()>>20, k.opts.mostMemory()>>20))
	}
}

// again starts it a second time and compares.
func (k *kit) again() {
	c, conn := k.open(false)
	if c == nil {
		return
	}
	defer c.end()
	if conn == nil {
		return
	}
	defer conn.Close()
	if k.compare(conn, "started again") {
		k.ok(stable)
	}
}

// orphan lets the plugin lose its host: the process that started it is killed,
// and the connection ends, as both do with a real host.
func (k *kit) orphan() {
	if runtime.GOOS == "windows" {
		k.skip(hostGone, "there is no such test on windows")
		return
	}
	c, err := k.start(true)
	if err != nil {
		k.skip(hostGone, "the shell that stands in for a host cannot be started: "+err.Error())
		return
	}
	defer c.end()
	p, f := k.shake(c)
	if f != nil {
		k.fail(hostGone, f.do, "started by a shell: "+f.seen)
		return
	}
	conn, err := k.dial(p)
	if err != nil {
		k.fail(hostGone, "look whether it listens where its handshake says", err.Error())
		return
	}
	d := describeCall()
	if _, err := k.ask(conn, d.method, d.ask, k.opts.times(callLimit)); err != nil {
		_ = conn.Close()
		k.fail(hostGone, "see time", "started by a shell, it does not answer Describe: "+status.Convert(err).Message())
		return
	}
	_ = c.cmd.Process.Kill()
	_ = conn.Close()
	begun := time.Now()
	limit := k.opts.times(goneLimit)
	select {
	case <-c.out.end: // nobody holds the standard output: all of them have ended
	case <-time.After(limit):
		k.fail(hostGone, "end when the last connection ends, or when the parent process is another; on Linux the host makes sure of it, elsewhere nobody does", fmt.Sprintf("it still runs %s after its host was killed", limit))
		return
	}
	for left, known := running(c.group); known && left; left, _ = running(c.group) {
		if time.Since(begun) > limit {
			k.fail(hostGone, "end whatever you started", fmt.Sprintf("a program it started still runs %s after its host was killed", limit))
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	k.ok(hostGone, fmt.Sprintf("it was gone after %s", round(time.Since(begun))))
}

// throughHost lets the real host ask.
func (k *kit) throughHost() {
	h := &host.Host{
		Bundled: []string{k.about.GetId()}, Exe: k.program.Path,
		Args:         func(...string) []string { return k.program.Args },
		StartTimeout: k.opts.times(startLimit), CallTimeout: k.opts.times(callLimit),
	}
	for _, s := range k.listed {
		if _, err := h.Set(k.ctx, s.GetId(), int(s.GetMajor())); err != nil {
			k.fail(throughHost, "mend what the checks above found", err.Error())
			return
		}
	}
	k.ok(throughHost)
}
