package files

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/kit"
	"halfwater/quantity"
)

// meaning turns what a kit showed into the interval that it stands for, by the kit as it was that
// day, unless the row brings the interval.
func (d *draft) meaning(r book.Reading, f enclosure.Facts) {
	if r.Kit != "" {
		if d.kept && d.intervalGiven() {
			return
		}
		k, ok := f.Kit(r.Kit)
		if !ok {
			d.bad("kit", book.Unknown{Ref: book.Ref{To: "kit", Field: "kit", Name: r.Kit}, Have: kitNames(f)})
			return
		}
		for _, same := range []struct {
			column     string
			row, meant *string
		}{
			{"of", (*string)(&r.Of), (*string)(&k.Of)},
			{"unit", &r.Unit, &k.Unit},
			{"basis", (*string)(&r.Basis), (*string)(&k.Basis)},
		} {
			if *same.row != "" && *same.row != *same.meant {
				d.bad(same.column, fmt.Errorf("is %q, but the kit %q has %q: leave it out, the kit says it", *same.row, k.Name, *same.meant))
				return
			}
			*same.row = *same.meant
		}
		if d.intervalGiven() {
			d.converted(r)
			return
		}
		iv, err := k.Read(r.Shown, d.At)
		if err != nil {
			d.bad("shown", err)
			return
		}
		r.Lo, r.Hi = iv.Lo, iv.Hi
		d.Body = r
		return
	}
	if d.intervalGiven() {
		d.converted(r)
		return
	}
	if r.Of == "" {
		d.bad("of", errors.New("is empty, and so is kit: write the kit that showed it, or what was read (gh, kh, ph)"))
		return
	}
	if !r.Of.Known() {
		d.bad("of", numberFault("of", quantity.UnknownMeasurand{Name: string(r.Of)}))
		return
	}
	if !slices.Contains(r.Of.Units(), r.Unit) {
		d.bad("", numberFault("unit", quantity.UnknownUnit{Of: r.Of, Unit: r.Unit}))
		return
	}
	iv, err := kit.Bare(r.Of, r.Shown, r.Unit, r.Basis)
	if err != nil {
		d.bad("shown", err)
		return
	}
	r.Lo, r.Hi = iv.Lo, iv.Hi
	d.Body = r
}

// intervalGiven reports whether the row says what the reading stands for: by cells, in the unit of
// the row, or in the JSON of body, in the book's own units.
func (d *draft) intervalGiven() bool {
	return d.given["lo"] || d.given["hi"] || bodyHas(d.cell("body"), "lo", "hi")
}

func bodyHas(text string, keys ...string) bool {
	if text == "" {
		return false
	}
	var members map[string]json.RawMessage
	if json.Unmarshal([]byte(text), &members) != nil {
		return false
	}
	for _, k := range keys {
		if _, ok := members[k]; ok {
			return true
		}
	}
	return false
}

// converted brings an interval written in cells into the book's own units.
func (d *draft) converted(r book.Reading) {
	for _, end := range []struct {
		name string
		x    *float64
	}{{"lo", &r.Lo}, {"hi", &r.Hi}} {
		if !d.given[end.name] {
			continue
		}
		y, err := r.Of.Stands(*end.x, r.Unit, r.Basis)
		if err != nil {
			d.bad("", numberFault(end.name, err))
			return
		}
		if *end.x = y.Lo; end.name == "hi" {
			*end.x = y.Hi
		}
	}
	d.Body = r
}

func kitNames(f enclosure.Facts) []string {
	var out []string
	for _, k := range f.Kits {
		out = append(out, k.Name)
	}
	return out
}
