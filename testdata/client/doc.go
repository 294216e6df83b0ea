// Package client asks a bundled plugin with a client that knows nothing of
// canewright, grpcurl, in a module of its own so that the program does not
// depend on it.
//
//	cd testdata/client && go test ./...
package client
