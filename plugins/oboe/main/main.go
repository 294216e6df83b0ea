// Command main serves the dimensions of the oboe to canewright.
package main

import (
	"canewright/plugins/oboe"
	"canewright/plugins/sdk"
)

func main() {
	sdk.Serve(oboe.Plugin())
}
