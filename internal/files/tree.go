package files

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
)

// A JSON text as a tree: string, json.Number, bool, nil, []any or object. It takes what RFC 8259 takes
// and refuses a key given twice, for one of the two would be lost. (The decoder of the standard
// library says nothing of such a key, and costs three times as much: books are read whole.)

// object is a JSON object with the order of its keys.
type object []member

type member struct {
	key   string
	value any
}

func (o object) get(key string) (any, bool) {
	for _, m := range o {
		if m.key == key {
			return m.value, true
		}
	}
	return nil, false
}

func (o object) without(key string) object {
	var out object
	for _, m := range o {
		if m.key != key {
			out = append(out, m)
		}
	}
	return out
}

// deepest is how far lists and objects may stand in each other; the bodies of lines need four.
const deepest = 50

// readTree reads the one JSON value of a text.
func readTree(text string) (any, error) {
	t := treeReader{text: text}
	v, err := t.value(0)
	if err != nil {
		return nil, err
	}
	if t.skip(); t.at < len(text) {
		return nil, fmt.Errorf("it goes on behind its end, at byte %d", t.at+1)
	}
	return v, nil
}

type treeReader struct {
	text string
	at   int
}

func (t *treeReader) skip() {
	for t.at < len(t.text) && strings.IndexByte(" \t\r\n", t.text[t.at]) >= 0 {
		t.at++
	}
}

// peek is the next byte that is no blank; 0 at the end, which begins nothing.
func (t *treeReader) peek() byte {
	if t.skip(); t.at < len(t.text) {
		return t.text[t.at]
	}
	return 0
}

func (t *treeReader) wrong(want string) error {
	if t.at >= len(t.text) {
		return fmt.Errorf("it ends where %s should be", want)
	}
	return fmt.Errorf("byte %d should be %s", t.at+1, want)
}

func (t *treeReader) value(depth int) (any, error) {
	if depth > deepest {
		return nil, errors.New("it is nested too deep")
	}
	switch c := t.peek(); {
	case c == '"':
		return t.string()
	case c == '{':
		return t.object(depth)
	case c == '[':
		return t.list(depth)
	case c == '-' || (c >= '0' && c <= '9'):
		return t.number()
	}
	for word, v := range map[string]any{"true": true, "false": false, "null": nil} {
		if strings.HasPrefix(t.text[t.at:], word) {
			t.at += len(word)
			return v, nil
		}
	}
	return nil, t.wrong("a value")
}

func (t *treeReader) string() (string, error) {
	start := t.at
	for t.at++; t.at < len(t.text); t.at++ {
		switch t.text[t.at] {
		case '\\':
			t.at++ // whatever is escaped is no end
		case '"':
			t.at++
			quoted := t.text[start:t.at]
			if inner := quoted[1 : len(quoted)-1]; plain(inner) {
				return inner, nil
			}
			var s string
			if err := json.Unmarshal([]byte(quoted), &s); err != nil {
				t.at = start
				return "", t.wrong("a text with its signs escaped")
			}
			return s, nil
		}
	}
	t.at = len(t.text)
	return "", t.wrong("a quotation mark")
}

// plain is a text that stands in JSON as it is: printable ASCII without quotation mark or backslash.
func plain(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c > '~' || c == '"' || c == '\\' {
			return false
		}
	}
	return true
}

func (t *treeReader) number() (json.Number, error) {
	start := t.at
	for t.at < len(t.text) && strings.IndexByte("+-0123456789.eE", t.text[t.at]) >= 0 {
		t.at++
	}
	n := t.text[start:t.at]
	if !json.Valid([]byte(n)) {
		t.at = start
		return "", t.wrong("a number")
	}
	return json.Number(n), nil
}

func (t *treeReader) list(depth int) ([]any, error) {
	list := []any{}
	for t.at++; t.peek() != ']'; {
		v, err := t.value(depth + 1)
		if err != nil {
			return nil, err
		}
		list = append(list, v)
		if err := t.another(']'); err != nil {
			return nil, err
		}
	}
	t.at++
	return list, nil
}

func (t *treeReader) object(depth int) (object, error) {
	obj := object{}
	for t.at++; t.peek() != '}'; {
		if t.peek() != '"' {
			return nil, t.wrong("a name in quotation marks")
		}
		key, err := t.string()
		if err != nil {
			return nil, err
		}
		if _, twice := obj.get(key); twice {
			return nil, fmt.Errorf("%q is given twice", key)
		}
		if t.peek() != ':' {
			return nil, t.wrong("a colon")
		}
		t.at++
		v, err := t.value(depth + 1)
		if err != nil {
			return nil, err
		}
		obj = append(obj, member{key, v})
		if err := t.another('}'); err != nil {
			return nil, err
		}
	}
	t.at++
	return obj, nil
}

// another goes past a comma, behind which something must come, or stays at the closing sign.
func (t *treeReader) another(closing byte) error {
	switch t.peek() {
	case ',':
		if t.at++; t.peek() == closing {
			return t.wrong("a value")
		}
	case closing:
	default:
		return t.wrong("a comma or " + string(closing))
	}
	return nil
}
