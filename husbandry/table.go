package husbandry

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"halfwater/quantity"
)

//go:embed species.csv
var speciesText string

//go:embed synonyms.txt
var synonymsText string

var (
	table  = mustRead(speciesText)
	byName = named(table, synonymsText)
)

// named gives the place in the table of each folded name, those that a species went by before among
// them. A synonym of nothing, or one that is a name of its own, is a fault of the program.
func named(list []Species, synonyms string) map[string]int {
	out := make(map[string]int, 2*len(list))
	for i, s := range list {
		out[fold(s.Scientific)], out[fold(s.Common)] = i, i
	}
	for line := range strings.Lines(synonyms) {
		if strings.HasPrefix(line, "#") || strings.TrimSpace(line) == "" {
			continue
		}
		old, now, _ := strings.Cut(line, "|")
		i, known := out[fold(now)]
		if _, taken := out[fold(old)]; !known || taken {
			panic("husbandry: synonyms.txt: " + line)
		}
		out[fold(old)] = i
	}
	return out
}

func mustRead(text string) []Species {
	list, err := readSpecies(text)
	if err != nil {
		panic("husbandry: species.csv: " + err.Error())
	}
	return list
}

// All gives the species of the table, in its order. The slice is the caller's.
func All() []Species { return slices.Clone(table) }

// Lookup finds a species by its scientific or common name, or a scientific name that it went by before
// (synonyms.txt); case and outer blanks do not count.
// Any other name is [UnknownSpecies].
func Lookup(name string) (Species, error) {
	want := fold(name)
	if i, ok := byName[want]; ok {
		return table[i], nil
	}
	return Species{}, UnknownSpecies{name, near(want)}
}

// UnknownSpecies is a name that the table does not hold. Near are names of the table that look
// like it, the nearest first; it may be empty.
type UnknownSpecies struct {
	Name string
	Near []string
}

func (e UnknownSpecies) Error() string {
	if len(e.Near) == 0 {
		return fmt.Sprintf("species %q is not in the table: give its ranges as your own", e.Name)
	}
	return fmt.Sprintf("species %q is not in the table: did you mean %s?", e.Name, strings.Join(e.Near, ", "))
}

func fold(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// columns of species.csv, in order.
var columns = strings.Split("scientific_name,common_name,group,water_temp_min_c,water_temp_max_c,ph_min,ph_max,"+
	"gh_min_dgh,gh_max_dgh,kh_min_dkh,kh_max_dkh,max_nitrate_mg_l_no3,air_day_min_c,air_day_max_c,"+
	"basking_surface_min_c,basking_surface_max_c,night_min_c,rh_min_pct,rh_max_pct,uv_ferguson_zone,adult_size_cm,"+
	"water_use,adult_mass_g,gape_mm,active,excretes,hazard_codes,"+
	"social_note,cohabitant_hazards,source_kind,source,confidence,law_note", ",")

// readSpecies reads the species table: the header of columns, then one species a line.
func readSpecies(text string) ([]Species, error) {
	records, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	if len(records) == 0 || !slices.Equal(records[0], columns) {
		return nil, fmt.Errorf("the header is not that of a species table")
	}
	var out []Species
	taken := map[string]bool{}
	for i, cells := range records[1:] {
		r := record{cells: cells}
		s := r.species()
		for _, name := range []string{fold(s.Scientific), fold(s.Common)} {
			if name == "" || taken[name] {
				r.fail("name %q is blank or taken", name)
			}
			taken[name] = true
		}
		if r.err != nil {
			return nil, fmt.Errorf("row %d, %s: %w", i+2, s.Scientific, r.err)
		}
		out = append(out, s)
	}
	return out, nil
}

// record reads the cells of one row and keeps the first fault.
type record struct {
	cells []string
	err   error
}

func (r *record) fail(format string, args ...any) {
	if r.err == nil {
		r.err = fmt.Errorf(format, args...)
	}
}

func (r *record) text(column string) string {
	return strings.TrimSpace(r.cells[slices.Index(columns, column)])
}

func (r *record) number(column string) Maybe[float64] {
	t := r.text(column)
	if t == "" {
		return Maybe[float64]{}
	}
	x, err := strconv.ParseFloat(t, 64)
	if err != nil || !(x >= -50 && x <= 1e5) {
		r.fail("%s: %q is not a number that can be", column, t)
		return Maybe[float64]{}
	}
	return Known(x)
}

func span[Q quantity.Number](r *record, lo, hi string) Maybe[quantity.Range[Q]] {
	a, haveA := r.number(lo).Get()
	b, haveB := r.number(hi).Get()
	if haveA != haveB {
		r.fail("%s and %s: one end is blank", lo, hi)
	}
	if !haveA || !haveB {
		return Maybe[quantity.Range[Q]]{}
	}
	if a > b {
		r.fail("%s %g is above %s %g", lo, a, hi, b)
	}
	return Known(quantity.Range[Q]{Lo: Q(a), Hi: Q(b)})
}

func scaled[Q quantity.Number](r *record, column string, factor float64) Maybe[Q] {
	x, ok := r.number(column).Get()
	if !ok {
		return Maybe[Q]{}
	}
	return Known(Q(x * factor))
}

func oneOf[T ~string](r *record, column string, allowed ...T) T {
	t := T(r.text(column))
	if t != "" && !slices.Contains(allowed, t) {
		r.fail("%s: %q is none of %v", column, t, allowed)
	}
	return t
}

func (r *record) species() Species {
	s := Species{
		Scientific: r.text("scientific_name"), Common: r.text("common_name"),
		Group: oneOf(r, "group", Lizard, Turtle, Newt, Frog, Crab, Shrimp, Snail, Fish, Plant),
		Use:   oneOf(r, "water_use", Breathes, LivesIn, Splashes, Roots, Landed),

		WaterTemp: span[quantity.Celsius](r, "water_temp_min_c", "water_temp_max_c"),
		PH:        span[quantity.PH](r, "ph_min", "ph_max"),
		GH:        span[quantity.Hardness](r, "gh_min_dgh", "gh_max_dgh"),
		KH:        span[quantity.Alkalinity](r, "kh_min_dkh", "kh_max_dkh"),
		AirDay:    span[quantity.Celsius](r, "air_day_min_c", "air_day_max_c"),
		Basking:   span[quantity.Celsius](r, "basking_surface_min_c", "basking_surface_max_c"),
		NightMin:  scaled[quantity.Celsius](r, "night_min_c", 1),
		Humidity:  span[quantity.Humidity](r, "rh_min_pct", "rh_max_pct"),

		Length:   scaled[quantity.Millimetres](r, "adult_size_cm", 10),
		Mass:     scaled[quantity.Grams](r, "adult_mass_g", 1),
		Gape:     scaled[quantity.Millimetres](r, "gape_mm", 1),
		Active:   oneOf(r, "active", ByDay, AtDusk, ByNight, AnyHour),
		Excretes: oneOf(r, "excretes", Ammonia, AmmoniaUrea, Urea, UricAcid),

		Social: r.text("social_note"), Hazard: r.text("cohabitant_hazards"), Law: r.text("law_note"),
		SourceKind: r.text("source_kind"), Source: r.text("source"), Belief: r.text("confidence"),
	}
	if s.Group == "" {
		r.fail("group is blank")
	}
	if no3, ok := r.number("max_nitrate_mg_l_no3").Get(); ok {
		s.Nitrate = Known(quantity.NitrateAsNO3(no3))
	}
	if zone := r.text("uv_ferguson_zone"); zone != "" {
		z, err := readZones(zone)
		if err != nil {
			r.fail("%v", err)
		}
		s.UVZones = Known(z)
	}
	for _, code := range strings.Fields(r.text("hazard_codes")) {
		if !hazards[Hazard(code)] {
			r.fail("hazard_codes: %q is no hazard", code)
		}
		s.Hazards = append(s.Hazards, Hazard(code))
	}
	return s
}
