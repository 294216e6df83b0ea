// Package proto is what both ends of the plugin border agree on: the
// handshake, the wire number, the limits, and, in dimset/v1, the messages. The
// .proto file is the contract; a plugin may be written in any language.
//
// A plugin prints one line on its standard output, alone and first:
//
//	1|WIRE|NETWORK|ADDRESS|grpc|CERTIFICATE
//
// 1 is the framing's own version, WIRE the highest number of
// PLUGIN_PROTOCOL_VERSIONS the plugin speaks, NETWORK and ADDRESS where it
// listens ("unix" and a path in PLUGIN_UNIX_SOCKET_DIR, or "tcp"), CERTIFICATE
// the certificate it will show (DER, base64 without padding), made by itself
// because PLUGIN_CLIENT_CERT held the host's.
//
// plugins/sdk and plugins/host import this package; it imports nothing of the
// project.
package proto
