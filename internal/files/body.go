package files

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"sync"
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

// DecodeBody reads a body of a kind from its JSON text. A kind, or a version of a kind, that this
// program does not know comes back as [book.Unread], with its text as it is. Anything else that does
// not fit is a [BodyFault] that names the field.
func DecodeBody(kind, text string) (book.Body, error) {
	p, known := book.New(kind)
	if !known {
		return book.Unread{Named: kind, Text: text}, nil
	}
	tree, err := readTree(text)
	if err != nil {
		return nil, BodyFault{Kind: kind, Is: "is no JSON: " + err.Error(), Do: "write it like {\"litres\": 1.5}"}
	}
	obj, ok := tree.(object)
	if !ok {
		return nil, BodyFault{Kind: kind, Is: "is no JSON object", Do: "write it like {\"litres\": 1.5}"}
	}
	if v, ok := obj.get("v"); ok {
		n, err := strconv.Atoi(fmt.Sprint(v))
		if err != nil || n < 1 {
			return nil, BodyFault{Kind: kind, Field: "v", Is: fmt.Sprintf("is %v", v), Do: "leave the version out"}
		}
		if n > max(1, versions[kind]) {
			return book.Unread{Named: kind, Text: text}, nil
		}
		obj = obj.without("v")
	}
	if err := decode(reflect.ValueOf(p).Elem(), obj, ""); err != nil {
		f := err.(BodyFault)
		f.Kind = kind
		return nil, f
	}
	b, _ := book.Deref(p)
	return b, nil
}

// BodyFault is what is wrong with the JSON text of a body.
type BodyFault struct {
	Kind, Field string
	Is, Do      string
}

func (f BodyFault) Error() string {
	s := f.Kind + ", body"
	if f.Field != "" {
		s += ", " + f.Field
	}
	s += " " + f.Is
	if f.Do != "" {
		s += ": " + f.Do
	}
	return s
}

func decode(v reflect.Value, tree any, at string) error {
	wrong := func(do string) error { return BodyFault{Field: at, Is: "is " + shown(tree), Do: do} }
	switch v.Type() {
	case timeType:
		s, _ := tree.(string)
		t, err := time.Parse(time.RFC3339Nano, s)
		if err != nil {
			return wrong("write a time like \"2026-05-24T18:30:00Z\"")
		}
		v.Set(reflect.ValueOf(t.UTC()))
		return nil
	case durationType:
		s, _ := tree.(string)
		d, err := time.ParseDuration(s)
		if err != nil {
			return wrong("write a span of time like \"14s\" or \"1m30s\"")
		}
		v.SetInt(int64(d))
		return nil
	}
	if isKnown(v.Type()) {
		v.Field(1).SetBool(true)
		return decode(v.Field(0), tree, at)
	}
	switch v.Kind() {
	case reflect.String:
		s, ok := tree.(string)
		if !ok {
			return wrong("write a text in quotation marks")
		}
		v.SetString(s)
	case reflect.Bool:
		b, ok := tree.(bool)
		if !ok {
			return wrong("write true or false")
		}
		v.SetBool(b)
	case reflect.Int, reflect.Int64, reflect.Int32:
		n, ok := tree.(json.Number)
		i, err := strconv.ParseInt(n.String(), 10, 64)
		if !ok || err != nil || v.OverflowInt(i) {
			return wrong("write a whole number")
		}
		v.SetInt(i)
	case reflect.Float64:
		x, ok := treeNumber(tree)
		if !ok {
			return wrong("write a number, \"inf\" or \"-inf\"")
		}
		v.SetFloat(x)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		return decode(v.Elem(), tree, at)
	case reflect.Struct:
		obj, ok := tree.(object)
		if !ok {
			return wrong("write an object in braces")
		}
		return decodeStruct(v, obj, at)
	case reflect.Slice, reflect.Array:
		list, ok := tree.([]any)
		if !ok || (v.Kind() == reflect.Array && len(list) != v.Len()) {
			return wrong("write a list in brackets")
		}
		if v.Kind() == reflect.Slice && len(list) > 0 {
			v.Set(reflect.MakeSlice(v.Type(), len(list), len(list)))
		}
		for i, one := range list {
			if err := decode(v.Index(i), one, fmt.Sprintf("%s[%d]", at, i)); err != nil {
				return err
			}
		}
	default:
		return wrong("leave it out: this program does not read it")
	}
	return nil
}

func decodeStruct(v reflect.Value, obj object, at string) error {
	members := membersOf(v.Type())
	for _, m := range obj {
		where := m.key
		if at != "" {
			where = at + "." + m.key
		}
		i, ok := members.place[m.key]
		if !ok {
			return BodyFault{Field: where, Is: "is not known", Do: "write " + oneOf(near(m.key, members.names), members.names)}
		}
		if err := decode(v.Field(i), m.value, where); err != nil {
			return err
		}
	}
	return nil
}

// members are the names of the fields of a struct, in their order.
type members struct {
	names []string
	place map[string]int
}

var membersByType sync.Map // reflect.Type -> *members

func membersOf(t reflect.Type) *members {
	if m, ok := membersByType.Load(t); ok {
		return m.(*members)
	}
	m := &members{place: map[string]int{}}
	for i := range t.NumField() {
		name := snake(t.Field(i).Name)
		m.names, m.place[name] = append(m.names, name), i
	}
	membersByType.Store(t, m)
	return m
}

func treeNumber(tree any) (float64, bool) {
	switch t := tree.(type) {
	case json.Number:
		x, err := strconv.ParseFloat(t.String(), 64)
		return x, err == nil
	case string:
		switch t {
		case "inf":
			return math.Inf(1), true
		case "-inf":
			return math.Inf(-1), true
		}
	}
	return 0, false
}

// shown is a JSON value as a person wrote it, in few words.
func shown(tree any) string {
	switch t := tree.(type) {
	case nil:
		return "null"
	case string:
		return strconv.Quote(t)
	case object:
		return "an object"
	case []any:
		return "a list"
	}
	return fmt.Sprint(tree)
}
