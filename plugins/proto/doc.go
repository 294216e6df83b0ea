// Package proto is what both ends of the plugin border agree on: the
// handshake, the wire number, the limits, and, in dimset/v1, the messages. The
// .proto file is the contract; a plugin may be written in any language.
//
// # Start
//
// The host starts the program without a terminal, with nothing to read on its
// standard input, in a folder that is thrown away, and with these variables
// alone:
//
//	CANEWRIGHT_PLUGIN         dimension-sets; without it, started by hand
//	PLUGIN_PROTOCOL_VERSIONS  the wire numbers the host speaks, with commas
//	PLUGIN_UNIX_SOCKET_DIR    where to make the socket
//	PLUGIN_MIN_PORT, _MAX_PORT  the range of ports, where there are no sockets
//	PLUGIN_CLIENT_CERT        the host's certificate, PEM
//	TMPDIR, TMP, TEMP         for files; removed with the folder
//
// Within five seconds the plugin listens, and prints one line on its standard
// output, alone and first:
//
//	1|WIRE|NETWORK|ADDRESS|grpc|CERTIFICATE
//
// 1 is the framing's own version, WIRE the highest number of
// PLUGIN_PROTOCOL_VERSIONS the plugin speaks, NETWORK and ADDRESS where it
// listens ("unix" and a path in PLUGIN_UNIX_SOCKET_DIR; on Windows alone "tcp"
// and 127.0.0.1:PORT), CERTIFICATE the certificate it will show (DER, base64
// without padding), made by itself for the name localhost. The host connects to
// no other address. It takes no connection that does not show
// PLUGIN_CLIENT_CERT. Everything else it has to
// say goes to the standard error, of which the host keeps the beginning.
//
// # Calls
//
// The three calls of dimset.proto, over gRPC on TLS, each answered within two
// seconds by at most LargestAnswer bytes, the same bytes whenever it is asked.
// Whatever else the host may call is answered UNIMPLEMENTED, as gRPC libraries
// do by themselves.
//
// # End
//
// The host calls plugin.GRPCController/Shutdown, with a message without fields
// and for an answer without fields, and closes the connection; whichever of the
// two a plugin notices, it ends. It is killed a fifth of a second later, with
// everything it has started. A plugin also ends when its last connection does
// without such a call, for then its host is gone.
//
// plugins/sdk does all of it for Go; plugins/conform checks all of it for every
// language. plugins/sdk, plugins/host and plugins/conform import this package;
// it imports nothing of the project.
package proto
