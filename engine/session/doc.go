// Package session is the one loop with effects: decide, append, fold, ask.
// Faces talk to nothing else. One goroutine owns a Session.
//
// An answer is on disk before the next question is returned.
package session
