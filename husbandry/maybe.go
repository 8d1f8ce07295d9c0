package husbandry

// Maybe is a value that may be unknown. The zero Maybe is unknown.
type Maybe[T any] struct {
	value T
	known bool
}

// Known is a value that is known.
func Known[T any](v T) Maybe[T] { return Maybe[T]{v, true} }

// Get gives the value and whether it is known.
func (m Maybe[T]) Get() (T, bool) { return m.value, m.known }

// Known reports whether the value is known.
func (m Maybe[T]) Known() bool { return m.known }

// Or gives the value, or the other when it is unknown.
func (m Maybe[T]) Or(other T) T {
	if m.known {
		return m.value
	}
	return other
}
