package water

// Possible refuses an analysis with a number that cannot be ([OutOfSpan]). It costs nothing beside
// [Analysis.Complete], which refuses the same and looks at how the numbers fit together.
func (a Analysis) Possible() error { return a.check() }
