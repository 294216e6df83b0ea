package logbook

import (
	"context"
	"database/sql"
	"os"
)

// Name is what a shell offers of a batch.
type Name struct{ Name, Title string }

// Names lists up to most batches, those begun last first, without making,
// changing or holding up anything: for completion in a shell. A logbook that
// cannot serve has none.
func Names(ctx context.Context, path string, most int) []Name {
	if version, err := inspect(path); err != nil || version == 0 {
		return nil
	}
	// What waits in the log is seen only through the files of a program that has
	// the logbook open or was killed; reading there takes no lock a writer minds.
	if logBeside(path) {
		if info, err := os.Stat(path + "-shm"); err == nil && info.Size() > 0 {
			if out, err := names(ctx, address(path, "ro", quiet), most); err == nil {
				return out
			}
		}
	}
	out, _ := names(ctx, address(path, "ro", quiet)+"&immutable=1", most)
	return out
}

var quiet = []pragma{{"busy_timeout", "0", "0"}, {"trusted_schema", "0", "0"}}

func names(ctx context.Context, address string, most int) ([]Name, error) {
	db := sql.OpenDB(&connector{address, quiet})
	defer db.Close()
	rows, err := db.QueryContext(ctx, `SELECT name, title FROM batch ORDER BY id DESC LIMIT ?`, most)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []Name
	for rows.Next() {
		var n Name
		if err := rows.Scan(&n.Name, &n.Title); err != nil {
			return nil, err
		}
		out = append(out, n)
	}
	return out, rows.Err()
}
