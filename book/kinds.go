package book

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
)

var kinds = map[string]reflect.Type{}

// register makes a kind known; it returns true so that a kind's file can call it in a var.
func register(zero Body) bool {
	k := zero.Kind()
	if _, twice := kinds[k]; twice {
		panic(fmt.Sprintf("book: kind %q registered twice", k))
	}
	kinds[k] = reflect.TypeOf(zero)
	return true
}

// Kinds are the names of all kinds of line, in alphabetical order.
func Kinds() []string { return slices.Sorted(maps.Keys(kinds)) }

// New gives a pointer to a zero body of a kind, for a decoder to fill; false for an unknown kind.
func New(kind string) (any, bool) {
	t, ok := kinds[kind]
	if !ok {
		return nil, false
	}
	return reflect.New(t).Interface(), true
}

// Deref gives the body that a pointer of [New] points to.
func Deref(p any) (Body, bool) {
	b, ok := reflect.ValueOf(p).Elem().Interface().(Body)
	return b, ok
}

// Unread is a line of a kind that this version does not know. It is kept as it came and shown as
// unread.
type Unread struct {
	Named string // the kind as written
	Text  string // the body as written
}

// Kind is the kind as written.
func (u Unread) Kind() string { return u.Named }
