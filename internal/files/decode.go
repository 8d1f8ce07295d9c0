package files

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strconv"
	"sync"
	"time"

	"halfwater/book"
)

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
