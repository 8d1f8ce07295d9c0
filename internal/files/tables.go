package files

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"halfwater/book"
	"halfwater/enclosure"
)

// The TOML as tables of named values with their lines, before they mean anything.

// table is one [name] or one of the [[name]]; the keys before the first table have the name "".
type table struct {
	name string
	line int
	keys []key
}

type key struct {
	name  string
	line  int
	value any // a raw value
}

func (t table) get(name string) (key, bool) {
	for _, k := range t.keys {
		if k.name == name {
			return k, true
		}
	}
	return key{}, false
}

// mostTOML is the largest enclosure file; a long life of facts has less.
const mostTOML = 4 << 20

// readTables reads a TOML file. The values come from the decoder, the lines from its parser.
func readTables(r io.Reader, o Options) ([]table, error) {
	limited, err := limited(r, min(o.limit(), mostTOML))
	if err != nil {
		return nil, err
	}
	data, err := io.ReadAll(limited)
	if err != nil {
		return nil, err
	}
	data = bytes.TrimPrefix(data, bom)
	if !utf8.Valid(data) {
		return nil, BadFile{Is: "this is no plain text", Do: "save it in UTF-8"}
	}
	root := map[string]any{}
	if err := toml.Unmarshal(data, &root); err != nil {
		var at *toml.DecodeError
		if errors.As(err, &at) {
			line, _ := at.Position()
			return nil, BadFile{line, "this does not read", strings.TrimPrefix(at.Error(), "toml: "), err}
		}
		return nil, BadFile{Is: "this does not read", Do: strings.TrimPrefix(err.Error(), "toml: "), Err: err}
	}
	return layOut(data, root, o.zone())
}

// layOut walks the expressions of the file in order and takes each value from the decoded tree.
func layOut(data []byte, root map[string]any, zone *time.Location) ([]table, error) {
	tables := []table{{}}
	here := root
	seen := map[string]int{}
	p := unstable.Parser{}
	p.Reset(data)
	for p.NextExpression() {
		e := p.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			name, line, err := plainKey(&p, e)
			if err != nil {
				return nil, err
			}
			switch v := root[name].(type) {
			case map[string]any:
				here = v
			case []any:
				here, _ = v[seen[name]].(map[string]any)
			}
			seen[name]++
			tables = append(tables, table{name: name, line: line})
		case unstable.KeyValue:
			name, line, err := plainKey(&p, e)
			if err != nil {
				return nil, err
			}
			last := &tables[len(tables)-1]
			last.keys = append(last.keys, key{name, line, rawTOML(here[name], zone)})
		}
	}
	return tables, p.Error()
}

func plainKey(p *unstable.Parser, e *unstable.Node) (name string, line int, err error) {
	var parts []string
	for it := e.Key(); it.Next(); {
		parts = append(parts, string(it.Node().Data))
		if line == 0 {
			line = p.Shape(it.Node().Raw).Start.Line
		}
	}
	if len(parts) != 1 {
		return "", line, BadFile{line, fmt.Sprintf("the name %q has dots", strings.Join(parts, ".")), "tables stand side by side here: [[source_water]], [[kit]], [basin]", nil}
	}
	return parts[0], line, nil
}

// rawTOML makes a raw value of a decoded one; what a field cannot hold comes through as it is and is
// refused there.
func rawTOML(v any, zone *time.Location) any {
	switch v := v.(type) {
	case int64:
		return float64(v)
	case toml.LocalDate:
		return v.AsTime(zone)
	case toml.LocalDateTime:
		return v.AsTime(zone)
	case []any:
		out := []any{}
		for _, one := range v {
			out = append(out, rawTOML(one, zone))
		}
		return out
	}
	return v
}

// tableName is the name of the tables of a kind: "source water" is source_water.
func tableName(kind string) string { return strings.ReplaceAll(kind, " ", "_") }

// factKinds are the kinds that an enclosure file may hold, in the order in which we write them.
func factKinds() []string {
	first := []string{"about", "basin", "source water", "fitting", "stage", "stock", "kit", "range", "vessel", "neutraliser", "routine"}
	var rest []string
	for _, kind := range book.Kinds() {
		zero, _ := book.New(kind)
		if _, fact := zero.(enclosure.Fact); fact && !slices.Contains(first, kind) {
			rest = append(rest, kind)
		}
	}
	return append(first, rest...)
}
