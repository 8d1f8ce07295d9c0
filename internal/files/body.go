package files

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"time"

	"halfwater/book"
)

// The body codec: a body as JSON text and back, for the store and for the CSV's column body.
//
// Keys are the names of the fields in snake case, in the order of the fields, so that one body has
// one text. What is zero is left out. Numbers are in the canonical unit of their type, times are
// RFC 3339 in UTC, spans of time as "1m30s", infinities "inf" and "-inf"; a number that may be
// unknown (water.Known) is there when it is known, zero too. The key "v" is there when the shape of a
// kind is of a later version than 1.

// versions are the shapes of kinds that have changed since version 1. None has.
var versions = map[string]int{}

// EncodeBody writes a body as JSON text. An [book.Unread] gives back its text as it came.
func EncodeBody(b book.Body) (string, error) {
	if u, ok := b.(book.Unread); ok {
		return u.Text, nil
	}
	return encodeOmitting(b, nil)
}

// encodeOmitting leaves out fields of the body that stand elsewhere, by index path.
func encodeOmitting(b book.Body, elsewhere func(path []int) bool) (string, error) {
	e := encoder{elsewhere: elsewhere}
	if err := e.object(reflect.ValueOf(b), nil, versions[b.Kind()]); err != nil {
		return "", fmt.Errorf("write down %s: %w", b.Kind(), err)
	}
	return e.out.String(), nil
}

type encoder struct {
	out       bytes.Buffer
	elsewhere func(path []int) bool
}

func (e *encoder) object(v reflect.Value, path []int, version int) error {
	sep := "{"
	if version > 1 {
		fmt.Fprintf(&e.out, `{"v":%d`, version)
		sep = ","
	}
	for i := range v.NumField() {
		f := v.Type().Field(i)
		name := membersOf(v.Type()).names[i]
		here := append(path[:len(path):len(path)], i)
		if !f.IsExported() {
			return fmt.Errorf("%s has a hidden field %s, which cannot be kept", v.Type(), f.Name)
		}
		if nothing(v.Field(i)) || (e.elsewhere != nil && e.elsewhere(here)) {
			continue
		}
		mark := e.out.Len()
		e.out.WriteString(sep)
		e.text(name)
		e.out.WriteByte(':')
		start := e.out.Len()
		if err := e.value(v.Field(i), here); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		if e.elsewhere != nil && e.out.String()[start:] == "{}" {
			e.out.Truncate(mark)
			continue
		}
		sep = ","
	}
	if sep == "{" {
		e.out.WriteByte('{')
	}
	e.out.WriteByte('}')
	return nil
}

// nothing is a zero, a list with nothing in it, or a number that is not known.
func nothing(v reflect.Value) bool {
	return v.IsZero() || (v.Kind() == reflect.Slice && v.Len() == 0) || (isKnown(v.Type()) && !v.Field(1).Bool())
}

// isKnown reports whether t is a water.Known: a Value that counts when Is holds.
func isKnown(t reflect.Type) bool {
	return t.Kind() == reflect.Struct && t.NumField() == 2 &&
		t.Field(0).Name == "Value" && t.Field(1).Name == "Is" && t.Field(1).Type.Kind() == reflect.Bool
}

var timeType = reflect.TypeFor[time.Time]()

func (e *encoder) value(v reflect.Value, path []int) error {
	switch {
	case v.Type() == timeType:
		e.text(v.Interface().(time.Time).UTC().Format(time.RFC3339Nano))
		return nil
	case v.Type() == durationType:
		e.text(time.Duration(v.Int()).String())
		return nil
	case isKnown(v.Type()):
		return e.value(v.Field(0), path)
	}
	switch v.Kind() {
	case reflect.String:
		e.text(v.String())
	case reflect.Bool:
		e.out.WriteString(strconv.FormatBool(v.Bool()))
	case reflect.Int, reflect.Int64, reflect.Int32:
		e.out.WriteString(strconv.FormatInt(v.Int(), 10))
	case reflect.Float64:
		switch x := v.Float(); {
		case math.IsNaN(x):
			return fmt.Errorf("is not a number")
		case math.IsInf(x, 1):
			e.out.WriteString(`"inf"`)
		case math.IsInf(x, -1):
			e.out.WriteString(`"-inf"`)
		default:
			e.out.WriteString(strconv.FormatFloat(x, 'g', -1, 64))
		}
	case reflect.Pointer:
		return e.value(v.Elem(), path)
	case reflect.Struct:
		return e.object(v, path, 0)
	case reflect.Slice, reflect.Array:
		e.out.WriteByte('[')
		inner := encoder{}
		for i := range v.Len() {
			if i > 0 {
				inner.out.WriteByte(',')
			}
			if err := inner.value(v.Index(i), nil); err != nil {
				return err
			}
		}
		e.out.Write(inner.out.Bytes())
		e.out.WriteByte(']')
	case reflect.Map:
		return fmt.Errorf("%s is a map, which has no order: make it a list", v.Type())
	default:
		return fmt.Errorf("%s is no plain field", v.Type())
	}
	return nil
}

// text writes a JSON string. HTML is not escaped: a body is read by people too.
func (e *encoder) text(s string) {
	if plain(s) {
		e.out.WriteByte('"')
		e.out.WriteString(s)
		e.out.WriteByte('"')
		return
	}
	enc := json.NewEncoder(&e.out)
	enc.SetEscapeHTML(false)
	_ = enc.Encode(strings.ToValidUTF8(s, "\uFFFD")) // a string always encodes
	e.out.Truncate(e.out.Len() - 1)                  // the newline
}
