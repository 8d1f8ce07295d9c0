package look

// Mark is one of the three tiers, as it is shown. The order is that of harm.
type Mark int

// The only three.
const (
	CarryOn Mark = iota // an open ring, light, grey
	Watch               // a diamond with its lower half full, bold
	ActNow              // a full square with a stroke and a dot, heavy and reversed
)

// Marks are the three, the mildest first.
func Marks() []Mark { return []Mark{CarryOn, Watch, ActNow} }

// Word is the tier in words. A mark never stands without it, except in a drawing.
func (m Mark) Word() string {
	switch m {
	case Watch:
		return "watch"
	case ActNow:
		return "act now"
	}
	return "carry on"
}

// Class is the short name used in classes of the style sheet: tier-watch, t-watch.
func (m Mark) Class() string {
	switch m {
	case Watch:
		return "watch"
	case ActNow:
		return "act"
	}
	return "carry"
}
