// Package logbook keeps batches and their events on disk, in one SQLite file
// that belongs to the player. An event that Append has returned for is on the
// disk, not in a cache: write-ahead log with synchronous=FULL. Every event
// carries a checksum, so that what is read back is what was kept, or an error.
//
// A file that is no logbook, is damaged, or was written by a newer version is
// never changed. One of an older format is brought to today's in one
// transaction, after a copy of it was put beside it.
package logbook
