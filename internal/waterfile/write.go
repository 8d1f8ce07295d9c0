package waterfile

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"strconv"
	"strings"

	"halfwater/water"
)

// kept are the columns of the file that are written again: all but those that are computed.
func (a *Answers) kept() []int {
	computed := map[string]bool{}
	for _, c := range columns {
		computed[c.name] = true
	}
	var out []int
	for i, h := range a.Table.Header {
		if !computed[strings.ToLower(h)] {
			out = append(out, i)
		}
	}
	return out
}

// number writes a value with ten digits; "" where there is none (the saturation with what is
// absent).
func number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', 10, 64)
}

// CSV writes the rows that were answered: their own columns, and the [Outputs] behind.
func (a *Answers) CSV(w io.Writer) error {
	out := csv.NewWriter(w)
	kept := a.kept()
	var line []string
	for _, i := range kept {
		line = append(line, a.Table.Header[i])
	}
	if err := out.Write(append(line, Outputs()...)); err != nil {
		return err
	}
	for r, s := range a.Of {
		if s == nil {
			continue
		}
		line = line[:0]
		for _, i := range kept {
			line = append(line, a.Table.Rows[r].Cells[i])
		}
		for _, c := range columns {
			line = append(line, number(c.of(s)))
		}
		if err := out.Write(line); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// JSON writes the rows that were answered as a list of objects: the file's own columns as text
// under their names, the computed ones as numbers, null where there is none.
func (a *Answers) JSON(w io.Writer) error {
	kept := a.kept()
	var b strings.Builder
	b.WriteString("[")
	first := true
	for r, s := range a.Of {
		if s == nil {
			continue
		}
		if !first {
			b.WriteString(",")
		}
		first = false
		b.WriteString("\n  {")
		for _, i := range kept {
			b.WriteString(quoted(a.Table.Header[i]) + ": " + quoted(a.Table.Rows[r].Cells[i]) + ", ")
		}
		fields(&b, s)
		b.WriteString("}")
	}
	if !first {
		b.WriteString("\n")
	}
	b.WriteString("]\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// JSON writes one water as an object of the computed columns.
func JSON(w io.Writer, s *water.Speciation) error {
	var b strings.Builder
	b.WriteString("{")
	fields(&b, s)
	b.WriteString("}\n")
	_, err := io.WriteString(w, b.String())
	return err
}

func fields(b *strings.Builder, s *water.Speciation) {
	for i, c := range columns {
		if i > 0 {
			b.WriteString(", ")
		}
		x := number(c.of(s))
		if x == "" {
			x = "null"
		}
		b.WriteString(quoted(c.name) + ": " + x)
	}
}

func quoted(s string) string {
	q, err := json.Marshal(s)
	if err != nil { // a string always encodes
		return `""`
	}
	return string(q)
}
