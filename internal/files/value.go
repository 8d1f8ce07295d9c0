package files

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"time"

	"halfwater/quantity"
)

// A raw value is what stands in a file before it is a field: string, float64, bool, time.Time, or
// []any of such. TOML has them by itself; a cell of the CSV becomes one by the type of its field.

// put sets a field of body to a raw value in a unit. The error is what to do, in a few words.
func (sp spelling) put(body reflect.Value, raw any) error {
	v := body.FieldByIndex(sp.path)
	if sp.known {
		v.Field(1).SetBool(true)
		v = v.Field(0)
	}
	return assign(v, raw, sp.unit)
}

func assign(v reflect.Value, raw any, u unit) error {
	switch {
	case v.Type() == timeType:
		t, ok := raw.(time.Time)
		if !ok {
			return fmt.Errorf("write a day or a time: 2026-05-24 or 2026-05-24T18:30:00Z")
		}
		v.Set(reflect.ValueOf(t.UTC()))
		return nil
	case v.Type() == durationType:
		x, ok := raw.(float64)
		if !ok || math.Abs(x*u.a) > math.MaxInt64/2 || math.IsNaN(x) {
			return fmt.Errorf("write a number")
		}
		v.SetInt(int64(math.Round(x * u.a)))
		return nil
	}
	switch v.Kind() {
	case reflect.String:
		s, ok := raw.(string)
		if !ok {
			return fmt.Errorf("write a text")
		}
		v.SetString(s)
	case reflect.Bool:
		b, ok := raw.(bool)
		if !ok {
			return fmt.Errorf("write true or false")
		}
		v.SetBool(b)
	case reflect.Int, reflect.Int32, reflect.Int64:
		x, ok := raw.(float64)
		if !ok || x != math.Trunc(x) || math.Abs(x) > 1e9 {
			return fmt.Errorf("write a whole number")
		}
		v.SetInt(int64(x))
	case reflect.Float64:
		x, ok := raw.(float64)
		if !ok || math.IsNaN(x) {
			return fmt.Errorf("write a number")
		}
		v.SetFloat(u.canonical(x))
	case reflect.Slice:
		list, ok := raw.([]any)
		if !ok {
			return fmt.Errorf("write a list")
		}
		if len(list) == 0 {
			v.SetZero()
			return nil
		}
		v.Set(reflect.MakeSlice(v.Type(), len(list), len(list)))
		for i, one := range list {
			if err := assign(v.Index(i), one, u); err != nil {
				return fmt.Errorf("item %d of the list: %w", i+1, err)
			}
		}
	case reflect.Struct: // a pair
		pair, ok := raw.([]any)
		if !ok || len(pair) != 2 {
			return fmt.Errorf("write a pair")
		}
		for i, one := range pair {
			if err := assign(v.Field(i), one, u); err != nil {
				return err
			}
		}
	}
	return nil
}

// take reads a field of body as a raw value, and the name it is written under: the first whose unit
// gives back the very same number. Nothing to write is false.
func (f *field) take(body reflect.Value) (name string, raw any, ok bool) {
	v := body.FieldByIndex(f.path)
	if nothing(v) {
		return "", nil, false
	}
	if f.known {
		v = v.Field(0)
	}
	for _, n := range f.names {
		raw := inUnit(v, n.unit)
		again := reflect.New(v.Type()).Elem()
		if assign(again, raw, n.unit) == nil && reflect.DeepEqual(again.Interface(), v.Interface()) {
			return n.name, raw, true
		}
	}
	return "", nil, false
}

func inUnit(v reflect.Value, u unit) any {
	switch {
	case v.Type() == timeType:
		return v.Interface().(time.Time)
	case v.Type() == durationType:
		return float64(v.Int()) / u.a
	}
	switch v.Kind() {
	case reflect.String:
		return v.String()
	case reflect.Bool:
		return v.Bool()
	case reflect.Int, reflect.Int32, reflect.Int64:
		return float64(v.Int())
	case reflect.Float64:
		return tidy((v.Float()-u.b)/u.a, func(x float64) bool { return u.canonical(x) == v.Float() })
	case reflect.Slice:
		list := []any{}
		for i := range v.Len() {
			list = append(list, inUnit(v.Index(i), u))
		}
		return list
	case reflect.Struct:
		var pair []any
		for i := range v.NumField() {
			pair = append(pair, inUnit(v.Field(i), u))
		}
		return pair
	}
	return nil
}

// tidy takes the last digits off a number that a change of unit has put there (23.999999999999996),
// when the shorter one means the same.
func tidy(x float64, same func(float64) bool) float64 {
	for digits := 6; digits < 17; digits++ {
		if short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64); err == nil && same(short) {
			return short
		}
	}
	return x
}

// cell reads the text of a cell of the CSV as a raw value for a field.
func (f *field) cell(text string, d dialect) (any, error) { return d.raw(text, f.typ) }

// dialect is how numbers and times are written in a file.
type dialect struct {
	zone  *time.Location
	comma bool // a decimal comma is taken
}

func (d dialect) raw(text string, t reflect.Type) (any, error) {
	switch {
	case t == timeType:
		return d.time(text)
	case t == durationType:
		return d.number(text)
	}
	switch t.Kind() {
	case reflect.Bool:
		switch strings.ToLower(text) {
		case "true", "yes", "1":
			return true, nil
		case "false", "no", "0":
			return false, nil
		}
		return nil, fmt.Errorf("write true or false")
	case reflect.Float64, reflect.Int, reflect.Int32, reflect.Int64:
		return d.number(text)
	case reflect.Slice:
		list := []any{}
		for _, part := range strings.Split(text, ";") {
			if part = strings.TrimSpace(part); part == "" {
				continue
			}
			one, err := d.item(part, t.Elem())
			if err != nil {
				return nil, err
			}
			list = append(list, one)
		}
		return list, nil
	}
	return text, nil
}

// item reads one of a list: a text, a number, or a pair with its number last ("RO 9", "RO 9 L").
func (d dialect) item(part string, t reflect.Type) (any, error) {
	if t.Kind() != reflect.Struct {
		return d.raw(part, t)
	}
	words := strings.Fields(part)
	if n := len(words); n > 2 && isUnitWord(words[n-1]) {
		words = words[:n-1]
	}
	if len(words) < 2 {
		return nil, fmt.Errorf("write %q with a name and a number, like RO 9", part)
	}
	last := len(words) - 1
	x, err := d.number(words[last])
	if err != nil {
		return nil, fmt.Errorf("in %q: %w", part, err)
	}
	first, err := d.raw(strings.Join(words[:last], " "), t.Field(0).Type)
	if err != nil {
		return nil, fmt.Errorf("in %q: %w", part, err)
	}
	return []any{first, x}, nil
}

func isUnitWord(w string) bool {
	switch w {
	case "L", "l", "litres", "g", "grams":
		return true
	}
	return false
}

func (d dialect) number(text string) (any, error) {
	switch text {
	case "inf":
		return math.Inf(1), nil
	case "-inf":
		return math.Inf(-1), nil
	}
	if !d.comma && strings.Contains(text, ",") {
		return nil, fmt.Errorf("%q has a comma: write a decimal point and no thousands mark", text)
	}
	x, err := quantity.ReadNumber(text)
	if err != nil {
		return nil, fmt.Errorf("%w: write digits, like 12.5", err)
	}
	return x, nil
}

// layouts of a time as keepers and spreadsheets write it; the first of a kind is ours.
var layouts = []string{
	"2006-01-02 15:04", "2006-01-02", "2006-01-02 15:04:05", "2006-01-02T15:04", "2006-01-02T15:04:05",
	"02.01.2006 15:04", "02.01.2006", "02.01.2006 15:04:05", "2.1.2006 15:04", "2.1.2006",
}

func (d dialect) time(text string) (time.Time, error) {
	if t, err := time.Parse(time.RFC3339Nano, text); err == nil {
		return t.UTC().Truncate(time.Microsecond), nil
	}
	for _, l := range layouts {
		if t, err := time.ParseInLocation(l, text, d.zone); err == nil {
			return t.UTC(), nil
		}
	}
	return time.Time{}, fmt.Errorf("%q is no time: write it like 2026-05-24 18:30 or 2026-05-24", text)
}

// text writes a raw value into a cell; [dialect.raw] reads it back.
func text(raw any) string {
	switch r := raw.(type) {
	case string:
		return r
	case bool:
		return strconv.FormatBool(r)
	case float64:
		return number(r)
	case time.Time:
		return r.UTC().Format(time.RFC3339Nano)
	case []any:
		var parts []string
		for _, one := range r {
			if pair, ok := one.([]any); ok {
				parts = append(parts, text(pair[0])+" "+text(pair[1]))
				continue
			}
			parts = append(parts, text(one))
		}
		return strings.Join(parts, "; ")
	}
	return ""
}

func number(x float64) string {
	switch {
	case math.IsInf(x, 1):
		return "inf"
	case math.IsInf(x, -1):
		return "-inf"
	case x != 0 && (math.Abs(x) < 1e-4 || math.Abs(x) >= 1e15):
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}
