package files

import (
	"reflect"
	"slices"
	"sync"

	"halfwater/book"
	"halfwater/quantity"
)

// field is one thing that a kind of line can say in a column of the CSV or a key of the TOML.
type field struct {
	path  []int        // of the struct field
	typ   reflect.Type // of the value; of the inner one for a water.Known
	known bool         // a water.Known: left out means not known
	names []namedUnit  // the one we write first
}

// spelling is a field under one of its names.
type spelling struct {
	*field
	unit
}

// shape is how a kind is written in a file.
type shape struct {
	kind   string
	typ    reflect.Type
	fields []*field
	names  map[string]spelling
}

// known are all names of the shape, sorted.
func (s *shape) known() []string {
	var out []string
	for n := range s.names {
		out = append(out, n)
	}
	slices.Sort(out)
	return out
}

// renamed are names that would not do, or that keepers say otherwise, by kind and Go path.
var renamed = map[string]string{
	"source water/Analysis.Kind":         "origin",
	"source water/Analysis.FreeChlorine": "Chlorine",
	"source water/Analysis.Temperature":  "Temp",
}

var (
	shapesMu sync.Mutex
	shapes   = map[string]*shape{}
)

// shapeOf is the shape of a kind; false for one that is not known.
func shapeOf(kind string) (*shape, bool) {
	shapesMu.Lock()
	defer shapesMu.Unlock()
	if s, ok := shapes[kind]; ok {
		return s, true
	}
	p, ok := book.New(kind)
	if !ok {
		return nil, false
	}
	s := &shape{kind: kind, typ: reflect.TypeOf(p).Elem(), names: map[string]spelling{}}
	s.collect(s.typ, nil, "")
	shapes[kind] = s
	return s, true
}

// collect takes in the fields of a struct; those of a struct within it stand beside the others.
func (s *shape) collect(t reflect.Type, path []int, goPath string) {
	for i := range t.NumField() {
		sf := t.Field(i)
		here := append(path[:len(path):len(path)], i)
		name := goPath + sf.Name
		f := &field{path: here, typ: sf.Type}
		switch {
		case isKnown(sf.Type):
			f.typ, f.known = sf.Type.Field(0).Type, true
		case sf.Type.Kind() == reflect.Struct && sf.Type != timeType:
			s.collect(sf.Type, here, name+".")
			continue
		case sf.Type.Kind() == reflect.Slice && !listable(sf.Type.Elem()):
			continue // in the JSON body only
		}
		said := sf.Name
		if other, ok := renamed[s.kind+"/"+name]; ok {
			said = other
		}
		f.names = named(said, unitType(f.typ))
		s.fields = append(s.fields, f)
		for _, n := range f.names {
			if _, twice := s.names[n.name]; twice {
				panic("files: " + s.kind + " has two fields that are written " + n.name)
			}
			s.names[n.name] = spelling{f, n.unit}
		}
	}
}

// listable reports whether a list of t can stand in one cell: plain values, or pairs whose second
// part is a number.
func listable(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.String, reflect.Float64:
		return true
	case reflect.Struct:
		return t.NumField() == 2 && t.Field(1).Type.Kind() == reflect.Float64 &&
			(t.Field(0).Type.Kind() == reflect.String || t.Field(0).Type == t.Field(1).Type)
	}
	return false
}

// unitType is the type whose units a field is written in: for a list of pairs of one quantity, that
// quantity.
func unitType(t reflect.Type) reflect.Type {
	if t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.Struct && t.Elem().Field(0).Type == t.Elem().Field(1).Type {
		return t.Elem().Field(0).Type
	}
	return t
}

// perElement are the types that count a nitrogen or phosphorus species as the element, with the
// basis on which a kit or report counts the ion.
var perElement = map[reflect.Type]struct {
	of  quantity.Measurand
	ion quantity.Basis
	el  quantity.Basis
}{
	reflect.TypeFor[quantity.Nitrate]():      {quantity.OfNO3, quantity.AsNO3, quantity.AsN},
	reflect.TypeFor[quantity.Nitrite]():      {quantity.OfNO2, quantity.AsNO2, quantity.AsN},
	reflect.TypeFor[quantity.TotalAmmonia](): {quantity.OfTAN, quantity.AsNH4, quantity.AsN},
	reflect.TypeFor[quantity.Phosphate]():    {quantity.OfPO4, quantity.AsPO4, quantity.AsP},
}

// counted is the number by which a value of a type on a basis becomes one as the element: 1 for a
// type that needs no basis, false when the basis does not fit.
func counted(t reflect.Type, basis quantity.Basis) (float64, bool) {
	p, needs := perElement[t]
	switch {
	case !needs, basis == p.el, basis == quantity.AsN: // "as N" says as the element, phosphate as P
		return 1, true
	case basis == AsIons:
		basis = p.ion
	case !slices.Contains(p.of.Bases(), basis):
		return 0, false
	}
	x, err := p.of.Canonical(1, p.of.Unit(), basis)
	return x, err == nil
}

// AsIons is the basis of a water report that counts every species as its own ion.
const AsIons quantity.Basis = "as ions"
