package host

import (
	"fmt"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"

	gproto "google.golang.org/protobuf/proto"

	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// serveWorse is what goes wrong before and beside the calls; false: nothing
// of this mode.
func serveWorse(mode string) bool {
	switch mode {
	case "prints-later":
		go func() {
			<-asked // it has shaken hands then
			for i := 0; ; i++ {
				_, _ = fmt.Fprintf(rawStdout(), "1|1|unix|/nowhere|grpc|%d\x1b[2J\n", i)
			}
		}()
		return false
	case "shakes-another-hand":
		_, _ = fmt.Fprintf(rawStdout(), "1|%d|unix|/nowhere|grpc|\n", proto.Wire)
		return false
	case "framing-2":
		_, _ = fmt.Fprintf(rawStdout(), "2|%d|unix|/nowhere|grpc|\n", proto.Wire)
	case "carrier-pigeon":
		_, _ = fmt.Fprintf(rawStdout(), "1|%d|pigeon|/nowhere|grpc|\n", proto.Wire)
	case "certificate-of-rubbish":
		at := filepath.Join(os.Getenv("PLUGIN_UNIX_SOCKET_DIR"), "s")
		if _, err := net.Listen("unix", at); err != nil {
			panic(err)
		}
		_, _ = fmt.Fprintf(rawStdout(), "1|%d|unix|%s|grpc|rubbish\n", proto.Wire, at)
	case "points-elsewhere", "links-elsewhere":
		// The private folder lies in a folder of the test, which listens there.
		at := filepath.Join(os.Getenv("TMPDIR"), "..", "..", "door")
		if mode == "links-elsewhere" {
			link := filepath.Join(os.Getenv("PLUGIN_UNIX_SOCKET_DIR"), "s")
			if err := os.Symlink(at, link); err != nil {
				panic(err)
			}
			at = link
		}
		_, _ = fmt.Fprintf(rawStdout(), "1|%d|unix|%s|grpc|\n", proto.Wire, at)
	case "endless-line":
		for b := []byte(strings.Repeat("x", 64<<10)); ; {
			if _, err := rawStdout().Write(b); err != nil {
				os.Exit(1)
			}
		}
	case "endless-complaints":
		go func() {
			for b := []byte(strings.Repeat("oh dear ", 8<<10)); ; {
				if _, err := os.Stderr.Write(b); err != nil {
					os.Exit(1)
				}
			}
		}()
		return false
	default:
		return false
	}
	time.Sleep(time.Hour)
	return true
}

// asked is closed by the one call a plugin's process gets.
var asked = make(chan bool)

// getWorse is what goes wrong in Get.
func getWorse(mode string, set *dimsetv1.Set) {
	first := set.Dimensions[0]
	switch mode {
	case "prints-later":
		close(asked)
		time.Sleep(100 * time.Millisecond)
	case "floods-memory":
		limitMemory()
		var kept [][]byte
		for {
			b := make([]byte, 8<<20)
			for i := 0; i < len(b); i += 4096 {
				b[i] = byte(len(kept))
			}
			kept = append(kept, b)
		}
	case "closes-the-socket":
		closeSockets()
		time.Sleep(time.Hour)
	case "ignores-cancel":
		for n := 0; n >= 0; n ^= 1 { // works on, whatever ctx says
		}
	case "hangs-with-a-child":
		child := exec.Command(os.Args[0], proto.ServeArg, "hangs-at-start", os.Args[3])
		child.Stdout, child.Stderr = os.Stderr, os.Stderr
		if err := child.Start(); err != nil {
			panic(err)
		}
		time.Sleep(time.Hour)
	case "repeated-names":
		set.Dimensions = append(set.Dimensions, gproto.Clone(first).(*dimsetv1.Dimension))
	case "negative-tolerance":
		first.Plausible = &dimsetv1.Tolerance{Text: "1.3 ± -0.1 mm", Unit: "mm", Step: -5, Nominal: gproto.Int64(13e5), Low: gproto.Int64(14e5), High: gproto.Int64(12e5)}
	case "tolerance-beyond-numbers":
		first.Plausible = &dimsetv1.Tolerance{Text: "much", Unit: "mm", Low: gproto.Int64(-1 << 63), High: gproto.Int64(1<<63 - 1)}
	case "lies-about-its-version":
		set.Major = 7
	case "no-source":
		first.Sources = nil
	case "colours-everywhere":
		set.About = "\x1b[31mred\x1b]0;title\x07"
	case "right-to-left":
		first.Title = "gouge\u202eegnarts"
	case "not-utf-8":
		set.About = "\xff\xfe"
	case "formula-bomb":
		first.Formula = gproto.String(strings.Repeat("(", 900) + "1 mm" + strings.Repeat(")", 900))
		first.Plausible = nil
	case "changes-its-answer":
		set.About = fmt.Sprintf("asked at %d", time.Now().UnixNano())
	case "writes-files":
		for _, dir := range []string{".", os.Getenv("TMPDIR"), os.Getenv("PLUGIN_UNIX_SOCKET_DIR")} {
			if err := os.MkdirAll(dir, 0o700); err != nil {
				panic(err)
			}
			if err := os.WriteFile(filepath.Join(dir, "notes.txt"), []byte("mine"), 0o600); err != nil {
				panic(err)
			}
		}
	}
}
