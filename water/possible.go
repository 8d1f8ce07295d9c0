package water

// Possible refuses an analysis with a number that cannot be ([OutOfSpan]). It costs nothing beside
// [Analysis.Complete], which refuses the same and looks at how the numbers fit together.
func (a Analysis) Possible() error { return a.check() }

// HasIons reports whether any ion is stated, besides what hardness and alkalinity tests say.
func (a Analysis) HasIons() bool {
	return a.Ca.Is || a.Mg.Is || a.Na.Is || a.K.Is || a.Cl.Is || a.SO4.Is
}
