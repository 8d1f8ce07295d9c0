package husbandry

// Tier is how much a thing asks of the keeper. There are only three.
type Tier int

// The tiers, in order.
const (
	CarryOn Tier = iota
	Watch
	ActNow
)

func (t Tier) String() string {
	switch t {
	case Watch:
		return "watch"
	case ActNow:
		return "act now"
	}
	return "carry on"
}

// Standing is a tier, and whether the emergency page comes first. Only act now can be an
// emergency.
type Standing struct {
	Tier      Tier
	Emergency bool
}

// Worse reports whether a asks more than b.
func (a Standing) Worse(b Standing) bool {
	if a.Tier != b.Tier {
		return a.Tier > b.Tier
	}
	return a.Emergency && !b.Emergency
}

// Code names a reason or a concern; its sentence stands in the catalogue of sentences.
type Code string
