package report

import (
	"strings"

	"halfwater/internal/look"
)

// CarryOn names what was read and asks for nothing: one entry for all of it. It is empty when there
// is nothing to name.
func CarryOn(rows []Taken) string {
	var out []string
	for _, r := range rows {
		what, _, _ := strings.Cut(r.Where, ",")
		if r.Mark != look.CarryOn || r.Unread {
			continue
		}
		if len(out) > 0 && !isAbbreviation(what) {
			what = strings.ToLower(what)
		}
		out = append(out, what)
	}
	return strings.Join(out, ", ")
}

// isAbbreviation keeps pH, KH and UVI as they are written.
func isAbbreviation(s string) bool { return len(s) <= 3 }
