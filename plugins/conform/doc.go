// Package conform is the kit that tells the author of a plugin whether it does
// what canewright needs, and what to do where it does not. It is for every
// language: it starts the program, talks to it, and looks at what it leaves.
//
//	report, err := conform.Run(ctx, conform.Program{Path: "./shawm"}, conform.Options{})
//
//	func TestConform(t *testing.T) { conform.Test(t, conform.Program{Path: built}) }
//
// The program runs from a copy, in the copy's folder, without a terminal and
// with the few variables the host gives. It is killed when it takes too much
// time or memory. Run starts it four times: to be asked, to be asked again, to
// lose its host, and by the real host.
//
// It starts plugins without go-plugin, as an author in another language has to
// serve them without it. It imports plugins/host for the real host and for
// reading answers as the host does, plugins/proto for the messages, and
// engine/tool for the words of tools.
package conform
