// Command canewright steps a maker through a recipe for a double reed.
package main

import (
	"os"
	"runtime/debug"

	"canewright/cmd/internal/cli"
)

func main() {
	// A few MB live at a time: collecting at every 4 MB would take an eighth of
	// the start. The limit is soft, and makes collecting eager again above it.
	debug.SetGCPercent(400)
	debug.SetMemoryLimit(256 << 20)
	os.Exit(cli.Main(os.Args[1:], cli.Here()))
}
