// Command main serves the dimensions of the oboe d'amore to canewright.
package main

import (
	"canewright/plugins/oboedamore"
	"canewright/plugins/sdk"
)

func main() {
	sdk.Serve(oboedamore.Plugin())
}
