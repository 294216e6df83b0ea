// Package cli is the command tree, one file a command: an options struct, a
// newXCmd that reads the words, a runX that does the work. Exits happen only in
// Main's caller; below it everything returns errors.
package cli
