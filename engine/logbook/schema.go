package logbook

// Application id and version stand in the file's header ("CWLB", 1).
const (
	applicationID = 0x43574c42
	schemaVersion = 1
)

// Times are milliseconds since 1970-01-01 UTC; zone is the place's own offset
// and name. UNIQUE(batch, seq) is the stale-answer check.
const schema = `
CREATE TABLE blob (
	sha256 BLOB PRIMARY KEY CHECK (length(sha256) = 32),
	data   BLOB NOT NULL
) WITHOUT ROWID;
CREATE TABLE batch (
	id          INTEGER PRIMARY KEY,
	name        TEXT NOT NULL UNIQUE,
	title       TEXT NOT NULL,
	started     INTEGER NOT NULL,
	recipe_name TEXT NOT NULL,
	recipe      BLOB NOT NULL REFERENCES blob(sha256),
	dimensions  BLOB NOT NULL REFERENCES blob(sha256),
	notes       BLOB NOT NULL REFERENCES blob(sha256)
);
CREATE TABLE event (
	id           INTEGER PRIMARY KEY,
	batch        INTEGER NOT NULL REFERENCES batch(id),
	seq          INTEGER NOT NULL,
	cause        INTEGER NOT NULL,
	kind         TEXT NOT NULL,
	at           INTEGER NOT NULL,
	entered      INTEGER NOT NULL,
	zone         TEXT NOT NULL,
	session      TEXT NOT NULL,
	who          TEXT NOT NULL,
	subject_kind TEXT NOT NULL,
	subject      TEXT NOT NULL,
	stage        TEXT NOT NULL,
	visit        INTEGER NOT NULL,
	body         TEXT NOT NULL,
	UNIQUE (batch, seq)
);
CREATE VIEW reading AS
	SELECT b.name AS batch, e.seq, e.cause, e.at, e.zone, e.who, e.subject AS piece, e.stage, e.visit,
		e.body ->> 'slot' AS dimension, e.body ->> 'text' AS typed, e.body ->> 'unit' AS unit,
		CAST(e.body ->> 'q' AS INTEGER) AS quanta, e.body ->> 'tool' AS tool, e.body ->> 'condition' AS condition
	FROM event e JOIN batch b ON b.id = e.batch
	WHERE e.kind = 'reading taken'
		AND e.cause NOT IN (SELECT CAST(t.body ->> 'cause' AS INTEGER) FROM event t WHERE t.batch = e.batch AND t.kind = 'answer taken back');
`
