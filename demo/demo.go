package demo

import (
	_ "embed"
	"time"
)

// EnclosureID is the demo's short name.
const EnclosureID = "riverbank"

// Enclosure is the enclosure file (TOML), as doc/files.md describes it.
//
//go:embed riverbank.toml
var Enclosure []byte

// Book is the book file (CSV), as doc/files.md describes it.
//
//go:embed riverbank.csv
var Book []byte

// Clock is where the demo's clock stands: the last day of its book.
func Clock() time.Time { return time.Date(2026, time.November, 22, 10, 0, 0, 0, time.Local) }
