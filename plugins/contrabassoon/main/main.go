// Command main serves the dimensions of the contrabassoon to canewright.
package main

import (
	"canewright/plugins/contrabassoon"
	"canewright/plugins/sdk"
)

func main() {
	sdk.Serve(contrabassoon.Plugin())
}
