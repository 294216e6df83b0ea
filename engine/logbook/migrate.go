package logbook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// patience is how long to wait for another window that has the file open.
const patience = 5 * time.Second

// migrate brings an older file to today's schema, in one transaction, with
// nobody else at it. Before, it keeps a copy of the file as it was, under a name
// that was free; its path is returned. After an error the file is as before and
// there is no copy.
func migrate(ctx context.Context, path string) (before string, err error) {
	err = retry(ctx, func() (err error) {
		before, err = migrateOnce(ctx, path)
		return err
	})
	if err == nil {
		return before, nil
	}
	if e, ok := errors.AsType[*FileError](err); ok {
		return "", e
	}
	e, ok := errors.AsType[*sqlite.Error](err)
	switch {
	case ok && e.Code()&0xff == sqlite3.SQLITE_BUSY:
		return "", &FileError{path, "it has an older format and must be brought to today's, but another program has it open", "close the other windows of canewright and try again"}
	case ok && e.Code()&0xff == sqlite3.SQLITE_FULL:
		return "", &FileError{path, "it has an older format and must be brought to today's, but the disk is full; it was left as it is", "make room for a copy of it and try again"}
	case ok && e.Code()&0xff == sqlite3.SQLITE_IOERR:
		return "", &FileError{path, "it has an older format and must be brought to today's, but the system refused to read or write (" + e.Error() + "); it was left as it is", "make room for a copy of it, look to the disk, and try again"}
	}
	return "", explain(path, "bring to today's format the logbook", err)
}

// retry does it again while another window has the file, for as long as
// patience lasts.
func retry(ctx context.Context, do func() error) error {
	end := time.Now().Add(patience)
	if last, ok := ctx.Deadline(); ok && last.Before(end) {
		end = last.Add(-100 * time.Millisecond) // to say why rather than that
	}
	for {
		err := do()
		if e, ok := errors.AsType[*sqlite.Error](err); !ok || e.Code()&0xff != sqlite3.SQLITE_BUSY || time.Now().After(end) {
			return err
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(20 * time.Millisecond):
		}
	}
}

func migrateOnce(ctx context.Context, path string) (before string, err error) {
	db := sql.OpenDB(&connector{address(path, "rw", resting), resting})
	defer db.Close()
	// Immediate: others may still read, and the copy below does.
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return "", err
	}
	defer tx.Rollback()
	var version int
	if err := tx.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version); err != nil {
		return "", err
	}
	if version < 1 || version >= schemaVersion {
		return "", nil // another window was faster; Open looks again
	}
	if before, err = keepCopy(ctx, path, version); err != nil {
		return "", err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(before)
		}
	}()
	if _, err := tx.ExecContext(ctx, schemaFrom(version)+fmt.Sprintf("PRAGMA user_version = %d;", schemaVersion)); err != nil {
		return "", err
	}
	if err := tx.Commit(); err != nil {
		return "", err
	}
	return before, nil
}

// keepCopy writes the database as it is, read page by page, into a file beside
// it that takes the first free name.
func keepCopy(ctx context.Context, path string, version int) (string, error) {
	d, err := newDraft(path)
	if err != nil {
		return "", err
	}
	defer d.remove()
	ps := []pragma{{"busy_timeout", "5000", "5000"}, {"synchronous", "FULL", "2"}}
	from := sql.OpenDB(&connector{address(path, "ro", ps), ps})
	defer from.Close()
	if _, err := from.ExecContext(ctx, "VACUUM INTO ?", d.file); err != nil {
		return "", err
	}
	if err := flush(d.file); err != nil {
		return "", fmt.Errorf("copy logbook: %w", err)
	}
	for n := 1; ; n++ {
		name := path + ".format-" + strconv.Itoa(version)
		if n > 1 {
			name += "-" + strconv.Itoa(n)
		}
		switch err := d.place(name); {
		case err == nil:
			return name, syncDir(filepath.Dir(path))
		case !errors.Is(err, fs.ErrExist):
			return "", fmt.Errorf("copy logbook: %w", err)
		}
	}
}

// flush puts a file that is written on the disk, for the player's eyes alone.
func flush(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Chmod(0o600); err != nil {
		return err
	}
	return f.Sync()
}
