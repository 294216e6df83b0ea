// Package sdk is what the author of an instrument in Go imports. Describe the
// instrument in plain data, serve it from main, and try it in a test:
//
//	func main() { sdk.Serve(myinstrument.Plugin()) }
//
//	func TestInstrument(t *testing.T) { sdk.Try(t, myinstrument.Plugin()) }
//
// Try judges nothing: plugins/conform does, in the same test file.
//
// Serve looks after what is easily got wrong: what is printed too early goes
// to the standard error, nobody reads the standard input, a panic becomes an
// error of that call, and the program ends when the host is gone.
//
// It imports plugins/proto and engine/quantity; with plugins/host it is the
// only importer of go-plugin.
package sdk
