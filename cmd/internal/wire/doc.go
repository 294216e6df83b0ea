// Package wire is the only place that joins everything: logbook, notes, tools,
// instruments, recipes. Commands ask it for what they need, so that a command
// that needs no logbook opens none.
package wire
