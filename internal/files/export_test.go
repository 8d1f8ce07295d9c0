package files

// Columns are the names under which a kind may be written.
func Columns(kind string) []string {
	s, _ := shapeOf(kind)
	return append(s.known(), besides[kind]...)
}
