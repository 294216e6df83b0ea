// Package bench holds the rules of stepping, all pure: Decide turns an answer
// into events, Fold turns events into state, Ask turns state into the next
// question. It opens no file, reads no clock and starts no process.
//
// Fold never judges and never runs a rule: what was decided stands in the
// events, so a state folded from any prefix of a logbook is the state that was
// live then.
package bench
