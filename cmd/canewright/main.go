// Command canewright steps a maker through a recipe for a double reed.
package main

import (
	"os"

	"canewright/cmd/internal/cli"
)

func main() {
	os.Exit(cli.Main(os.Args[1:], cli.Here()))
}
