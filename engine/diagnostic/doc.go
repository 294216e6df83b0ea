// Package diagnostic says what is wrong with a file a player wrote, and where:
// file, line, column, the line itself, a caret and a hint. Lines and columns
// count from 1, columns in runes. If a place cannot be told exactly the mark is
// wider, never wrong.
//
// Anyone may import this package; it imports only the standard library.
package diagnostic
