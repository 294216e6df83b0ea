// Command main serves the dimensions of the bassoon to canewright.
package main

import (
	"canewright/plugins/bassoon"
	"canewright/plugins/sdk"
)

func main() {
	sdk.Serve(bassoon.Plugin())
}
