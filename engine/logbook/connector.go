package logbook

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"net/url"
	"path/filepath"

	"modernc.org/sqlite"
)

// connector opens connections and reads every pragma back: they belong to a
// connection, and a misspelt one is ignored in silence.
type connector struct {
	address string
	want    []pragma
}

type pragma struct{ name, value, reads string }

var working = []pragma{
	{"busy_timeout", "5000", "5000"}, // ms; first, so that the others wait too
	{"journal_mode", "WAL", "wal"},
	{"synchronous", "FULL", "2"},
	{"foreign_keys", "1", "1"},
	{"trusted_schema", "0", "0"},
}

// address of a file: mode is rw, or rwc where the file may be made.
func address(path, mode string, ps []pragma) string {
	q := url.Values{"_txlock": {"immediate"}, "mode": {mode}}
	for _, p := range ps {
		q.Add("_pragma", p.name+"("+p.value+")")
	}
	return (&url.URL{Scheme: "file", Opaque: (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath(), RawQuery: q.Encode()}).String()
}

func (c *connector) Driver() driver.Driver { return &sqlite.Driver{} }

func (c *connector) Connect(ctx context.Context) (driver.Conn, error) {
	conn, err := c.Driver().Open(c.address)
	if err != nil {
		return nil, err
	}
	for _, p := range c.want {
		got, err := readPragma(ctx, conn, p.name)
		if err == nil && got != p.reads {
			err = fmt.Errorf("set up the logbook: %s reads %q, %q was asked for", p.name, got, p.reads)
		}
		if err != nil {
			conn.Close()
			return nil, err
		}
	}
	return conn, nil
}

func readPragma(ctx context.Context, conn driver.Conn, name string) (string, error) {
	q, ok := conn.(driver.QueryerContext)
	if !ok {
		return "", errors.New("set up the logbook: this connection cannot be asked")
	}
	rows, err := q.QueryContext(ctx, "PRAGMA "+name, nil)
	if err != nil {
		return "", err
	}
	defer rows.Close()
	v := make([]driver.Value, len(rows.Columns()))
	if err := rows.Next(v); err != nil && !errors.Is(err, io.EOF) {
		return "", err
	}
	if len(v) == 0 {
		return "", nil
	}
	return fmt.Sprint(v[0]), nil
}

// resting is how a logbook is made or brought to another schema: in
// rollback-journal mode, so that id and version stand in the header of the file
// itself and not in a log beside it, and so that nobody else has it open.
var resting = []pragma{
	{"busy_timeout", "5000", "5000"},
	{"journal_mode", "DELETE", "delete"},
	{"synchronous", "FULL", "2"},
	{"trusted_schema", "0", "0"},
}

// writeSchema makes the tables.
func writeSchema(path string) error {
	db := sql.OpenDB(&connector{address(path, "rwc", resting), resting})
	defer db.Close()
	db.SetMaxOpenConns(1)
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if _, err := tx.Exec(fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d;", applicationID, schemaVersion) + schemaFrom(0)); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return err
	}
	return db.Close()
}
