-- The book. Every table leads with the enclosure, so that the data can be spread by that key.
-- Times are microseconds UTC since 1970. Bodies are JSON text, whose shape belongs to internal/files.

CREATE TABLE enclosure (
    id   TEXT   NOT NULL PRIMARY KEY,
    made BIGINT NOT NULL
);

CREATE TABLE line (
    enclosure TEXT   NOT NULL REFERENCES enclosure (id),
    id        TEXT   NOT NULL,
    at        BIGINT NOT NULL,
    recorded  BIGINT NOT NULL,
    kind      TEXT   NOT NULL,
    water     TEXT   NOT NULL,
    batch     TEXT   NOT NULL,
    hand      TEXT   NOT NULL,
    body      TEXT   NOT NULL,
    PRIMARY KEY (enclosure, id)
);

CREATE INDEX line_in_order ON line (enclosure, at, recorded, id);

CREATE INDEX line_by_kind ON line (enclosure, kind, at);

CREATE TABLE meta (
    enclosure TEXT NOT NULL REFERENCES enclosure (id),
    name      TEXT NOT NULL,
    value     TEXT NOT NULL,
    PRIMARY KEY (enclosure, name)
);
