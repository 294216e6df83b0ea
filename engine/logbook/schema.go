package logbook

import "strings"

// Application id and version stand in the file's header ("CWLB", 2).
const (
	applicationID = 0x43574c42
	schemaVersion = 2
)

// steps: the schema is the sum of them. A new logbook takes all, an older one
// those it has not had yet, so both come to the same. A step that was released
// is never changed again.
var steps = [schemaVersion]string{step1, step2}

// schemaFrom is what brings a file of this version up to schemaVersion.
func schemaFrom(version int) string { return strings.Join(steps[version:], "\n") }

// Times are milliseconds since 1970-01-01 UTC; zone is the place's own offset
// and name. UNIQUE(batch, seq) is the stale-answer check.
const step1 = `
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

// What the list of batches says of a batch stands in its row, so that the list
// grows with the batches and not with the readings; see tally. events and last
// are the number of the newest event and when it was entered, or events is 0
// and they are looked up; closed is the cause of the event that closed the
// batch, 0 while it is open. crc is a CRC-32C of the event, see sum; NULL in
// events kept before there was one.
const step2 = `
ALTER TABLE event ADD COLUMN crc INTEGER;
ALTER TABLE batch ADD COLUMN events INTEGER NOT NULL DEFAULT 0;
ALTER TABLE batch ADD COLUMN last INTEGER NOT NULL DEFAULT 0;
ALTER TABLE batch ADD COLUMN closed INTEGER NOT NULL DEFAULT 0;
UPDATE batch SET
	events = (SELECT coalesce(max(e.seq), 0) FROM event e WHERE e.batch = batch.id),
	last = coalesce((SELECT e.entered FROM event e WHERE e.batch = batch.id ORDER BY e.seq DESC LIMIT 1), 0),
	closed = coalesce((SELECT max(c.cause) FROM event c WHERE c.batch = batch.id AND c.kind = 'batch closed' AND c.cause NOT IN
		(SELECT CAST(t.body ->> 'cause' AS INTEGER) FROM event t WHERE t.batch = batch.id AND t.kind = 'answer taken back')), 0);
DROP VIEW reading;
CREATE VIEW reading AS
	WITH taken (batch, cause) AS (SELECT t.batch, CAST(t.body ->> 'cause' AS INTEGER) FROM event t WHERE t.kind = 'answer taken back'),
	corrected AS (
		SELECT max(c.seq) AS seq, c.batch, c.subject_kind, c.subject, c.body ->> 'slot' AS slot, c.body ->> 'stage' AS stage,
			CAST(c.body ->> 'on' AS INTEGER) AS visit, CAST(c.body ->> 'repeat' AS INTEGER) AS repeat, c.body
		FROM event c WHERE c.kind = 'value corrected' AND (c.batch, c.cause) NOT IN taken
		GROUP BY 2, 3, 4, 5, 6, 7, 8)
	SELECT b.name AS batch, e.seq, e.cause, e.at, e.zone, e.who, e.subject_kind, e.subject AS piece, e.stage, e.visit,
		CAST(e.body ->> 'repeat' AS INTEGER) AS repeat, e.body ->> 'slot' AS dimension,
		coalesce(x.body, e.body) ->> 'text' AS typed, coalesce(x.body, e.body) ->> 'unit' AS unit,
		CAST(coalesce(x.body, e.body) ->> 'q' AS INTEGER) AS quanta,
		e.body ->> 'tool' AS tool, e.body ->> 'condition' AS condition, x.seq AS corrected
	FROM event e JOIN batch b ON b.id = e.batch LEFT JOIN corrected x ON x.batch = e.batch AND x.subject_kind = e.subject_kind
		AND x.subject = e.subject AND x.slot = e.body ->> 'slot' AND x.stage = e.stage AND x.visit = e.visit
		AND x.repeat = CAST(e.body ->> 'repeat' AS INTEGER) AND x.seq > e.seq
	WHERE e.kind = 'reading taken' AND (e.batch, e.cause) NOT IN taken;
`
