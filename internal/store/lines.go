package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"halfwater/book"
	"halfwater/internal/files"
)

const (
	insertEnclosure = `INSERT INTO enclosure (id, made) VALUES ($1, $2) ON CONFLICT (id) DO NOTHING`
	insertLine      = `INSERT INTO line (enclosure, id, at, recorded, kind, water, batch, hand, body) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`
	selectLines     = `SELECT id, at, recorded, kind, water, batch, hand, body FROM line WHERE enclosure = $1`
	inOrder         = ` ORDER BY at, recorded, id`
)

// Append adds lines to the book of an enclosure, all or none, and returns when they are safe on disk.
// Times are kept to the microsecond. A line whose id is in the book already is refused ([Fault] of
// kind Duplicate). Whether a line makes sense is for the doors to check ([book.Line.Check]).
func (s *Store) Append(ctx context.Context, enclosure string, lines ...book.Line) error {
	if enclosure == "" {
		return fmt.Errorf("append to the book %s: the enclosure has no id", s.path)
	}
	if len(lines) == 0 {
		return nil
	}
	return s.fault("append to", s.append(ctx, enclosure, lines))
}

func (s *Store) append(ctx context.Context, enclosure string, lines []book.Line) (err error) {
	bodies := make([]string, len(lines))
	for i, l := range lines {
		if bodies[i], err = writeDown(l); err != nil {
			return err
		}
	}
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, ignoreDone(tx.Rollback())) }()
	if _, err := tx.ExecContext(ctx, insertEnclosure, enclosure, micros(lines[0].Recorded)); err != nil {
		return err
	}
	insert, err := tx.PrepareContext(ctx, insertLine)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, insert.Close()) }()
	for i, l := range lines {
		_, err := insert.ExecContext(ctx, enclosure, string(l.ID), micros(l.At), micros(l.Recorded), l.Body.Kind(), l.Water, l.Batch, string(l.By), bodies[i])
		if twice(err) {
			return &Fault{Kind: Duplicate, Path: s.path, Say: fmt.Sprintf("has a line %q already: a line is never altered; withdraw it and write another", l.ID), Err: err}
		}
		if err != nil {
			return err
		}
	}
	return tx.Commit()
}

func writeDown(l book.Line) (string, error) {
	switch {
	case l.ID == "":
		return "", errors.New("a line has no id")
	case l.Body == nil:
		return "", fmt.Errorf("line %q says nothing", l.ID)
	case l.At.IsZero() || l.Recorded.IsZero():
		return "", fmt.Errorf("line %q has no time", l.ID)
	}
	for _, text := range []string{string(l.ID), l.Body.Kind(), l.Water, l.Batch, string(l.By)} {
		if strings.ContainsRune(text, 0) {
			return "", fmt.Errorf("line %q holds a zero byte, which no database keeps as text", l.ID)
		}
	}
	return files.EncodeBody(l.Body)
}

func micros(t time.Time) int64 { return t.UnixMicro() }

func twice(err error) bool {
	var e *sqlite.Error
	return errors.As(err, &e) && (e.Code() == sqlite3.SQLITE_CONSTRAINT_PRIMARYKEY || e.Code() == sqlite3.SQLITE_CONSTRAINT_UNIQUE)
}

// Lines are all lines of an enclosure, in the order of the book; none for one that is not there.
// Times come back in UTC.
func (s *Store) Lines(ctx context.Context, enclosure string) ([]book.Line, error) {
	return s.Window(ctx, enclosure, book.Window{})
}

// Window are the lines of an enclosure in a window, in the order of the book.
func (s *Store) Window(ctx context.Context, enclosure string, w book.Window) ([]book.Line, error) {
	text, args := selectLines, []any{enclosure}
	bind := func(v any) string {
		args = append(args, v)
		return fmt.Sprintf("$%d", len(args))
	}
	if !w.From.IsZero() {
		text += " AND at >= " + bind(micros(w.From))
	}
	if !w.To.IsZero() {
		text += " AND at < " + bind(micros(w.To))
	}
	if len(w.Kinds) > 0 {
		var marks []string
		for _, k := range w.Kinds {
			marks = append(marks, bind(k))
		}
		text += " AND kind IN (" + strings.Join(marks, ", ") + ")"
	}
	rows, err := s.read.QueryContext(ctx, text+inOrder, args...)
	if err != nil {
		return nil, s.fault("read", err)
	}
	lines, err := scan(rows)
	return lines, s.fault("read", err)
}

func scan(rows *sql.Rows) (lines []book.Line, err error) {
	defer func() { err = errors.Join(err, rows.Close()) }()
	for rows.Next() {
		var (
			l            book.Line
			at, recorded int64
			kind, body   string
		)
		if err := rows.Scan(&l.ID, &at, &recorded, &kind, &l.Water, &l.Batch, &l.By, &body); err != nil {
			return nil, err
		}
		l.At, l.Recorded = time.UnixMicro(at).UTC(), time.UnixMicro(recorded).UTC()
		if l.Body, err = files.DecodeBody(kind, body); err != nil {
			// A body that this program cannot read is no reason to lose sight of the rest.
			l.Body = book.Unread{Named: kind, Text: body}
		}
		lines = append(lines, l)
	}
	return lines, rows.Err()
}

// Enclosures are the ids of all enclosures that have a book here, in alphabetical order.
func (s *Store) Enclosures(ctx context.Context) (ids []string, err error) {
	rows, err := s.read.QueryContext(ctx, `SELECT id FROM enclosure ORDER BY id`)
	if err != nil {
		return nil, s.fault("read", err)
	}
	defer func() { err = errors.Join(err, rows.Close()) }()
	for rows.Next() {
		var id string
		if err := rows.Scan(&id); err != nil {
			return nil, s.fault("read", err)
		}
		ids = append(ids, id)
	}
	return ids, s.fault("read", rows.Err())
}

// Meta is a remark about an enclosure that is no line of its book, such as a prior carried over.
func (s *Store) Meta(ctx context.Context, enclosure, name string) (value string, found bool, err error) {
	err = s.read.QueryRowContext(ctx, `SELECT value FROM meta WHERE enclosure = $1 AND name = $2`, enclosure, name).Scan(&value)
	if errors.Is(err, sql.ErrNoRows) {
		return "", false, nil
	}
	return value, err == nil, s.fault("read", err)
}

// SetMeta keeps a remark about an enclosure, in the place of an earlier one.
func (s *Store) SetMeta(ctx context.Context, enclosure, name, value string) (err error) {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return s.fault("write to", err)
	}
	defer func() { err = errors.Join(err, ignoreDone(tx.Rollback())) }()
	if _, err := tx.ExecContext(ctx, insertEnclosure, enclosure, micros(time.Now())); err != nil {
		return s.fault("write to", err)
	}
	if _, err := tx.ExecContext(ctx, `INSERT INTO meta (enclosure, name, value) VALUES ($1, $2, $3)
		ON CONFLICT (enclosure, name) DO UPDATE SET value = excluded.value`, enclosure, name, value); err != nil {
		return s.fault("write to", err)
	}
	return s.fault("write to", tx.Commit())
}
