package draw

// TextBox lets the tests outside the package judge where a text stands.
func TextBox(x, y float64, s string, size float64, class, anchor string) [4]float64 {
	b := textBox(x, y, s, size, class, anchor)
	return [4]float64{b.x0, b.y0, b.x1, b.y1}
}
