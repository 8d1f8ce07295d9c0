package plan

import (
	"slices"
	"strings"
)

// HeldBack is the refusal for which the work of this visit is not done, or not in one visit: a hard
// limit that the change would pass, or waters that cannot be poured. False when the work is whole.
func (s Sheet) HeldBack() (Refused, bool) {
	i := slices.IndexFunc(s.Refused, func(r Refused) bool {
		switch r.Code {
		case "plan.step-too-large", "plan.level-too-low", "plan.source-unusable", "plan.test-tan-first-pour":
			return true
		}
		return strings.HasPrefix(r.Code, "plan.ammonia-") || strings.HasPrefix(r.Code, "plan.no-")
	})
	if i < 0 {
		return Refused{}, false
	}
	return s.Refused[i], true
}
