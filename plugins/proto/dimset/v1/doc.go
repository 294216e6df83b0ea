// Package dimsetv1 holds the messages and calls of wire 1, generated from
// dimset.proto by plugins/proto/generate.sh.
package dimsetv1
