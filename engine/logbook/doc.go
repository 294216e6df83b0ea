// Package logbook keeps batches and their events on disk, in one SQLite file
// that belongs to the player. An event that Append has returned for is on the
// disk, not in a cache: write-ahead log with synchronous=FULL.
//
// A file that is no logbook, is damaged, or was written by a newer version is
// never changed.
package logbook
