package water

import (
	"fmt"
	"strconv"
	"strings"
)

// atoms are the weights that formulas of salts need.
var atoms = map[string]float64{
	"H": atomH, "C": atomC, "N": atomN, "O": atomO, "Na": atomNa, "Mg": atomMg, "P": atomP,
	"S": atomS, "Cl": atomCl, "K": atomK, "Ca": atomCa,
}

// elements counts the atoms of a formula such as "MgSO4.7H2O" or "Ca(NO3)2".
func elements(formula string) (map[string]float64, error) {
	out := map[string]float64{}
	for _, part := range strings.Split(strings.ReplaceAll(formula, "\u00b7", "."), ".") {
		times, rest := leading(part)
		left, err := group(rest, times, out)
		if err != nil || left != "" {
			return nil, BadFormula{formula}
		}
	}
	if len(out) == 0 {
		return nil, BadFormula{formula}
	}
	return out, nil
}

// leading reads the number before a formula unit, 1 when there is none.
func leading(s string) (float64, string) {
	i := 0
	for i < len(s) && s[i] >= '0' && s[i] <= '9' {
		i++
	}
	if i == 0 {
		return 1, s
	}
	n, err := strconv.Atoi(s[:i])
	if err != nil {
		return 0, ""
	}
	return float64(n), s[i:]
}

// group adds the atoms of s, times over, up to its end or a closing bracket.
func group(s string, times float64, out map[string]float64) (left string, err error) {
	for s != "" && s[0] != ')' {
		if s[0] == '(' {
			inner := map[string]float64{}
			rest, err := group(s[1:], 1, inner)
			if err != nil || rest == "" {
				return "", BadFormula{s}
			}
			n, rest := leading(rest[1:])
			for a, k := range inner {
				out[a] += times * n * k
			}
			s = rest
			continue
		}
		l := 1
		if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
			l = 2
		}
		if _, ok := atoms[s[:l]]; !ok {
			return "", BadFormula{s}
		}
		n, rest := leading(s[l:])
		out[s[:l]] += times * n
		s = rest
	}
	return s, nil
}

// molarMass of a formula, g/mol.
func molarMass(formula string) (float64, error) {
	count, err := elements(formula)
	if err != nil {
		return 0, err
	}
	sum := 0.0
	for _, a := range [...]string{"Ca", "Mg", "Na", "K", "H", "C", "N", "O", "P", "S", "Cl"} {
		sum += count[a] * atoms[a]
	}
	return sum, nil
}

// BadFormula is a text that is no formula of the salts known here.
type BadFormula struct{ Formula string }

func (e BadFormula) Error() string {
	return fmt.Sprintf("%q is not a formula that can be read; write it like MgSO4.7H2O", e.Formula)
}
