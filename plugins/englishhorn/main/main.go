// Command main serves the dimensions of the English horn to canewright.
package main

import (
	"canewright/plugins/englishhorn"
	"canewright/plugins/sdk"
)

func main() {
	sdk.Serve(englishhorn.Plugin())
}
