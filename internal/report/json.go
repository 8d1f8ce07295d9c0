package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"reflect"
	"strings"
	"time"
	"unicode"

	"halfwater/emergency"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// units are the endings of a JSON name by the type of its number, so that no number stands without
// its unit. Shares, pH and plain numbers have none.
var units = map[reflect.Type]string{
	reflect.TypeFor[quantity.Litres]():          "_l",
	reflect.TypeFor[quantity.GrossLitres]():     "_l",
	reflect.TypeFor[quantity.HeldLitres]():      "_l",
	reflect.TypeFor[quantity.LitresPerDay]():    "_l_per_day",
	reflect.TypeFor[quantity.Celsius]():         "_c",
	reflect.TypeFor[quantity.CelsiusDiff]():     "_k",
	reflect.TypeFor[quantity.Millimetres]():     "_mm",
	reflect.TypeFor[quantity.Grams]():           "_g",
	reflect.TypeFor[quantity.Hardness]():        "_dgh",
	reflect.TypeFor[quantity.Alkalinity]():      "_dkh",
	reflect.TypeFor[quantity.Conductivity]():    "_us_cm",
	reflect.TypeFor[quantity.TotalAmmonia]():    "_mg_n_l",
	reflect.TypeFor[quantity.FreeAmmonia]():     "_mg_n_l",
	reflect.TypeFor[quantity.Nitrite]():         "_mg_n_l",
	reflect.TypeFor[quantity.Nitrate]():         "_mg_n_l",
	reflect.TypeFor[quantity.MgPerL]():          "_mg_l",
	reflect.TypeFor[quantity.Watts]():           "_w",
	reflect.TypeFor[time.Duration]():            "_s",
	reflect.TypeFor[emergency.Hours]():          "_h",
	reflect.TypeFor[quantity.MgOxygenPerHour](): "_mg_h",
	reflect.TypeFor[quantity.WattsPerKelvin]():  "_w_k",
}

// JSON writes a finished struct for another program. A name is that of the field in small letters,
// with the unit of its number behind it; numbers of a measurand ("of") are in the unit that stands
// beside it as "unit", with its "basis" where it needs one. A code is followed by "says", its sentence. What is not known is left out.
func JSON(w io.Writer, v any) error {
	var b bytes.Buffer
	if err := encode(&b, reflect.ValueOf(v)); err != nil {
		return err
	}
	var pretty bytes.Buffer
	if err := json.Indent(&pretty, b.Bytes(), "", "  "); err != nil {
		return err
	}
	pretty.WriteByte('\n')
	_, err := w.Write(pretty.Bytes())
	return err
}

func encode(b *bytes.Buffer, v reflect.Value) error {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		return encode(b, v.Elem())
	case reflect.Struct:
		if t, ok := v.Interface().(time.Time); ok {
			return plain(b, t.Format(time.RFC3339))
		}
		return object(b, v)
	case reflect.Slice, reflect.Array:
		b.WriteByte('[')
		for i := range v.Len() {
			if i > 0 {
				b.WriteByte(',')
			}
			if err := encode(b, v.Index(i)); err != nil {
				return err
			}
		}
		b.WriteByte(']')
		return nil
	case reflect.Map:
		m := map[string]any{}
		for _, k := range v.MapKeys() {
			m[fmt.Sprint(k.Interface())] = v.MapIndex(k).Interface()
		}
		return plain(b, m)
	case reflect.Float64:
		return plain(b, round(v.Float()))
	}
	if s, ok := v.Interface().(time.Duration); ok {
		return plain(b, s.Seconds())
	}
	if s, ok := v.Interface().(fmt.Stringer); ok {
		return plain(b, s.String())
	}
	return plain(b, v.Interface())
}

func object(b *bytes.Buffer, v reflect.Value) error {
	b.WriteByte('{')
	n := 0
	put := func(name string, f reflect.Value) error {
		if n++; n > 1 {
			b.WriteByte(',')
		}
		fmt.Fprintf(b, "%q:", name)
		return encode(b, f)
	}
	for i := range v.NumField() {
		f, field := v.Field(i), v.Type().Field(i)
		if !field.IsExported() || unknown(f) {
			continue
		}
		name := snake(field.Name)
		if err := put(name+unitOf(f.Type()), f); err != nil {
			return err
		}
		switch x := f.Interface().(type) {
		case quantity.Measurand:
			if v.FieldByName("Unit").IsValid() {
				break // it says its own
			}
			if err := put("unit", reflect.ValueOf(x.Unit())); err != nil {
				return err
			}
			if bases := x.Bases(); len(bases) > 0 { // the first is that of canonical numbers
				if err := put("basis", reflect.ValueOf(string(bases[0]))); err != nil {
					return err
				}
			}
		default:
			if field.Name == "Code" && f.Kind() == reflect.String && say.Has(f.String()) {
				if err := put("says", reflect.ValueOf(say.Sentence(f.String(), v.Interface()))); err != nil {
					return err
				}
			}
		}
	}
	b.WriteByte('}')
	return nil
}

// unitOf is the ending for a number or for a band or range of one.
func unitOf(t reflect.Type) string {
	if u, ok := units[t]; ok {
		return u
	}
	if t.Kind() == reflect.Pointer || (t.Kind() == reflect.Struct && t.NumField() > 0 &&
		(strings.HasPrefix(t.Name(), "Band[") || strings.HasPrefix(t.Name(), "Range["))) {
		if t.Kind() == reflect.Pointer {
			return unitOf(t.Elem())
		}
		return units[t.Field(0).Type]
	}
	return ""
}

// unknown is a value that says nothing: no pointer, no text, no time, no number.
func unknown(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface, reflect.Map:
		return v.IsNil()
	case reflect.Slice:
		return false // an empty list says that there is nothing of it
	case reflect.Float64:
		return math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0)
	case reflect.String:
		return v.Len() == 0
	case reflect.Struct:
		t, ok := v.Interface().(time.Time)
		return ok && t.IsZero()
	}
	return false
}

// round cuts what no arithmetic here supports: six significant digits.
func round(x float64) float64 {
	if x == 0 {
		return 0
	}
	p := math.Pow(10, 5-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*p) / p
}

func plain(b *bytes.Buffer, v any) error {
	text, err := json.Marshal(v)
	if err != nil {
		return err
	}
	b.Write(text)
	return nil
}

// snake turns FullMark into full_mark and RO into ro.
func snake(name string) string {
	rs := []rune(name)
	var b strings.Builder
	for i, r := range rs {
		if unicode.IsUpper(r) && i > 0 && (unicode.IsLower(rs[i-1]) || (i+1 < len(rs) && unicode.IsLower(rs[i+1]) && unicode.IsUpper(rs[i-1]))) {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}
