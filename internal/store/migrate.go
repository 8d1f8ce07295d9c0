package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"
	"time"
)

//go:embed migration/*.sql
var migrationFiles embed.FS

// migration is one numbered step of the schema, forward only.
type migration struct {
	number int
	name   string
	text   string
}

var migrations = mustReadMigrations()

// mustReadMigrations reads the embedded steps: numbered from 1 without a gap.
func mustReadMigrations() []migration {
	names, err := fs.Glob(migrationFiles, "migration/*.sql")
	if err != nil {
		panic(err)
	}
	var out []migration
	for i, name := range names {
		text, err := migrationFiles.ReadFile(name)
		if err != nil {
			panic(err)
		}
		digits, _, _ := strings.Cut(path.Base(name), "_")
		if n, err := strconv.Atoi(digits); err != nil || n != i+1 {
			panic(fmt.Sprintf("store: migration %s should have number %d", name, i+1))
		}
		out = append(out, migration{i + 1, path.Base(name), string(text)})
	}
	return out
}

// schema is the version of the schema that this program knows.
func schema() int { return len(migrations) }

// schemaTable keeps which steps were taken. It alone does not lead with the enclosure: it is about
// the file.
const schemaTable = `CREATE TABLE IF NOT EXISTS migration (number BIGINT NOT NULL PRIMARY KEY, taken BIGINT NOT NULL)`

// migrate brings the file up from a version to the schema of this program, each step in a transaction
// of its own.
func (s *Store) migrate(ctx context.Context, have int, o Options) (err error) {
	if have < schema() && o.ReadOnly {
		return &Fault{Kind: ReadOnly, Path: s.path, Say: fmt.Sprintf("is of an older version of this program (schema %d, now %d): open it for writing once", have, schema())}
	}
	for have < schema() {
		if have, err = s.step(ctx); err != nil {
			return s.fault("bring up to date", err)
		}
	}
	return nil
}

// version is the schema of the file: 0 for an empty one. A file of other tables, or of a later
// version, is refused.
func (s *Store) version(ctx context.Context, db *sql.DB) (int, error) {
	var tables int
	// One of the few texts that are SQLite's own: PostgreSQL asks information_schema.
	if err := db.QueryRowContext(ctx, `SELECT count(*) FROM sqlite_master WHERE name NOT LIKE 'sqlite_%'`).Scan(&tables); err != nil {
		return 0, s.fault("open", err)
	}
	if tables == 0 {
		return 0, nil
	}
	var n sql.NullInt64
	err := db.QueryRowContext(ctx, `SELECT max(number) FROM migration`).Scan(&n)
	switch {
	case err != nil && strings.Contains(err.Error(), "no such table"):
		return 0, &Fault{Kind: NotABook, Path: s.path, Say: "is no book of this program, it holds other tables: look at the path", Err: err}
	case err != nil:
		return 0, s.fault("open", err)
	case int(n.Int64) > schema():
		return 0, &Fault{Kind: Newer, Path: s.path, Say: fmt.Sprintf("was written by a newer version of this program (schema %d; this one knows %d): use that version, nothing was touched", n.Int64, schema())}
	}
	return int(n.Int64), nil
}

// step takes the next step, unless another program took it meanwhile; it says where that leads.
func (s *Store) step(ctx context.Context) (now int, err error) {
	tx, err := s.write.BeginTx(ctx, nil)
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, ignoreDone(tx.Rollback())) }()
	if _, err := tx.ExecContext(ctx, schemaTable); err != nil {
		return 0, err
	}
	var n sql.NullInt64
	if err := tx.QueryRowContext(ctx, `SELECT max(number) FROM migration`).Scan(&n); err != nil {
		return 0, err
	}
	if now = int(n.Int64); now >= schema() {
		return now, tx.Commit()
	}
	m := migrations[now]
	for _, statement := range statements(m.text) {
		if _, err := tx.ExecContext(ctx, statement); err != nil {
			return 0, fmt.Errorf("%s: %w", m.name, err)
		}
	}
	if _, err := tx.ExecContext(ctx, `INSERT INTO migration (number, taken) VALUES ($1, $2)`, m.number, time.Now().UnixMicro()); err != nil {
		return 0, err
	}
	return m.number, tx.Commit()
}

func ignoreDone(err error) error {
	if errors.Is(err, sql.ErrTxDone) {
		return nil
	}
	return err
}

// statements are the statements of a step, without remarks. Our steps hold no quoted semicolons.
func statements(text string) []string {
	var lines []string
	for _, l := range strings.Split(text, "\n") {
		if before, _, _ := strings.Cut(l, "--"); strings.TrimSpace(before) != "" {
			lines = append(lines, before)
		}
	}
	var out []string
	for _, st := range strings.Split(strings.Join(lines, "\n"), ";") {
		if st = strings.TrimSpace(st); st != "" {
			out = append(out, st)
		}
	}
	return out
}
