package conform

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// What Linux tells of a process group, all of it from /proc (proc(5)).

// stat is the state, parent group and work of a process.
func stat(pid int) (state byte, group int, ticks int64, ok bool) {
	b, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		return 0, 0, 0, false
	}
	// The name in brackets may hold anything, brackets too.
	fields := strings.Fields(string(b[bytes.LastIndexByte(b, ')')+1:]))
	if len(fields) < 13 {
		return 0, 0, 0, false
	}
	group, _ = strconv.Atoi(fields[2])
	user, _ := strconv.ParseInt(fields[11], 10, 64)
	system, _ := strconv.ParseInt(fields[12], 10, 64)
	return fields[0][0], group, user + system, true
}

// members are the processes of a group that have not ended.
func members(group int) []int {
	found, _ := filepath.Glob("/proc/[0-9]*")
	var out []int
	for _, dir := range found {
		pid, err := strconv.Atoi(filepath.Base(dir))
		if err != nil {
			continue
		}
		if state, g, _, ok := stat(pid); ok && g == group && state != 'Z' && state != 'X' {
			out = append(out, pid)
		}
	}
	return out
}

// running: is a process of the group left? The second result: can it be told?
func running(group int) (left, known bool) { return len(members(group)) > 0, true }

func groupMemory(group int) (int64, bool) {
	var all int64
	for _, pid := range members(group) {
		b, err := os.ReadFile(fmt.Sprintf("/proc/%d/statm", pid))
		if err != nil {
			continue
		}
		if f := strings.Fields(string(b)); len(f) > 1 {
			pages, _ := strconv.ParseInt(f[1], 10, 64)
			all += pages * int64(os.Getpagesize())
		}
	}
	return all, true
}

// groupWork is how long the group has been working. A tick is 10 ms on every
// architecture Go runs on (USER_HZ is 100).
func groupWork(group int) (time.Duration, bool) {
	var ticks int64
	for _, pid := range members(group) {
		_, _, n, _ := stat(pid)
		ticks += n
	}
	return time.Duration(ticks) * 10 * time.Millisecond, true
}

// listeners are the places the group listens at, "unix /path" or
// "tcp 127.0.0.1:4000".
func listeners(group int) ([]string, error) {
	mine := map[string]bool{}
	all := members(group)
	for _, pid := range all {
		fds, err := os.ReadDir(fmt.Sprintf("/proc/%d/fd", pid))
		if err != nil {
			return nil, err
		}
		for _, fd := range fds {
			at, err := os.Readlink(fmt.Sprintf("/proc/%d/fd/%s", pid, fd.Name()))
			if inode, ok := strings.CutPrefix(at, "socket:["); err == nil && ok {
				mine[strings.TrimSuffix(inode, "]")] = true
			}
		}
	}
	if len(all) == 0 {
		return nil, fmt.Errorf("it has ended")
	}
	var out []string
	for _, table := range []string{"unix", "tcp", "tcp6", "udp", "udp6"} {
		b, err := os.ReadFile(fmt.Sprintf("/proc/%d/net/%s", all[0], table))
		if err != nil {
			continue // a kernel without IPv6
		}
		for line := range strings.Lines(string(b)) {
			f := strings.Fields(line)
			switch {
			case table == "unix" && len(f) >= 7:
				const accepting = 0x10000 // __SO_ACCEPTCON
				if flags, _ := strconv.ParseUint(f[3], 16, 64); flags&accepting != 0 && mine[f[6]] {
					out = append(out, "unix "+strings.Join(f[7:], " "))
				}
			case table != "unix" && len(f) >= 10 && mine[f[9]]:
				const listening = "0A" // TCP_LISTEN; a bound datagram socket takes what comes
				if f[3] == listening || strings.HasPrefix(table, "udp") {
					out = append(out, strings.TrimSuffix(table, "6")+" "+address(f[1]))
				}
			}
		}
	}
	return out, nil
}

// address reads "0100007F:0FA0" as 127.0.0.1:4000. The words of an address are
// in the order of this machine's bytes, which is little-endian wherever this
// is likely to run.
func address(hex string) string {
	ip, port, _ := strings.Cut(hex, ":")
	n, _ := strconv.ParseUint(port, 16, 16)
	if len(ip) != 8 {
		return fmt.Sprintf("[%s]:%d", ip, n)
	}
	var b [4]uint64
	for i := range b {
		b[3-i], _ = strconv.ParseUint(ip[2*i:2*i+2], 16, 8)
	}
	return fmt.Sprintf("%d.%d.%d.%d:%d", b[0], b[1], b[2], b[3], n)
}
