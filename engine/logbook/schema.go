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

// takenBack, with an event's alias in place of each $, is true of an event
// whose cause was taken back; it is found through an index.
const takenBack = `EXISTS (SELECT 1 FROM event t WHERE t.batch = $.batch AND t.kind = 'answer taken back' AND CAST(t.body ->> 'cause' AS INTEGER) = $.cause)`

// correction is the id of the event that put reading e right last, or NULL.
const correction = `(SELECT c.id FROM event c WHERE c.batch = e.batch AND c.kind = 'value corrected' AND c.subject = e.subject
			AND c.subject_kind = e.subject_kind AND c.seq > e.seq
			AND c.body ->> 'slot' = e.body ->> 'slot' AND c.body ->> 'stage' = e.stage AND CAST(c.body ->> 'on' AS INTEGER) = e.visit
			AND CAST(c.body ->> 'repeat' AS INTEGER) = CAST(e.body ->> 'repeat' AS INTEGER)
			AND NOT EXISTS (SELECT 1 FROM event t WHERE t.batch = c.batch AND t.kind = 'answer taken back' AND CAST(t.body ->> 'cause' AS INTEGER) = c.cause)
			ORDER BY c.seq DESC LIMIT 1)`

// What the list of batches says of a batch stands in its row, kept by triggers
// in the statement that keeps the events: the list grows with the batches and
// not with the readings. crc is a CRC-32C of the event, see sum; NULL in events
// kept before there was one.
const step2 = `
ALTER TABLE event ADD COLUMN crc INTEGER;
ALTER TABLE batch ADD COLUMN last INTEGER NOT NULL DEFAULT 0;
ALTER TABLE batch ADD COLUMN events INTEGER NOT NULL DEFAULT 0;
ALTER TABLE batch ADD COLUMN closed INTEGER NOT NULL DEFAULT 0;
CREATE INDEX event_taken_back ON event (batch, CAST(body ->> 'cause' AS INTEGER)) WHERE kind = 'answer taken back';
CREATE INDEX event_closed ON event (batch) WHERE kind = 'batch closed';
CREATE INDEX event_corrected ON event (batch, subject) WHERE kind = 'value corrected';
UPDATE batch SET
	events = (SELECT count(*) FROM event e WHERE e.batch = batch.id),
	last = coalesce((SELECT e.entered FROM event e WHERE e.batch = batch.id ORDER BY e.seq DESC LIMIT 1), started),
	closed = EXISTS (SELECT 1 FROM event c WHERE c.batch = batch.id AND c.kind = 'batch closed'
		AND NOT EXISTS (SELECT 1 FROM event t WHERE t.batch = c.batch AND t.kind = 'answer taken back' AND CAST(t.body ->> 'cause' AS INTEGER) = c.cause));
CREATE TRIGGER event_counted AFTER INSERT ON event BEGIN
	UPDATE batch SET last = NEW.entered, events = events + 1 WHERE id = NEW.batch;
END;
CREATE TRIGGER event_closes AFTER INSERT ON event WHEN NEW.kind IN ('batch closed', 'answer taken back') BEGIN
	UPDATE batch SET closed = EXISTS (SELECT 1 FROM event c WHERE c.batch = NEW.batch AND c.kind = 'batch closed'
		AND NOT EXISTS (SELECT 1 FROM event t WHERE t.batch = c.batch AND t.kind = 'answer taken back' AND CAST(t.body ->> 'cause' AS INTEGER) = c.cause))
	WHERE id = NEW.batch;
END;
DROP VIEW reading;
CREATE VIEW reading AS
	SELECT b.name AS batch, e.seq, e.cause, e.at, e.zone, e.who, e.subject_kind, e.subject AS piece, e.stage, e.visit,
		CAST(e.body ->> 'repeat' AS INTEGER) AS repeat, e.body ->> 'slot' AS dimension,
		coalesce(x.body, e.body) ->> 'text' AS typed, coalesce(x.body, e.body) ->> 'unit' AS unit,
		CAST(coalesce(x.body, e.body) ->> 'q' AS INTEGER) AS quanta,
		e.body ->> 'tool' AS tool, e.body ->> 'condition' AS condition, x.seq AS corrected
	FROM event e JOIN batch b ON b.id = e.batch LEFT JOIN event x ON x.id = ` + correction + `
	WHERE e.kind = 'reading taken'
		AND NOT EXISTS (SELECT 1 FROM event t WHERE t.batch = e.batch AND t.kind = 'answer taken back' AND CAST(t.body ->> 'cause' AS INTEGER) = e.cause);
`
