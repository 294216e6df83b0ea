// Command main serves the dimensions of the Uilleann pipes' chanter to canewright.
package main

import (
	"canewright/plugins/sdk"
	"canewright/plugins/uilleann"
)

func main() {
	sdk.Serve(uilleann.Plugin())
}
