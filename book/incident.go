package book

var _ = register(Incident{})

// Incident is a moment of an emergency: what was seen, or what was done. Its clock time is that of the
// line. The moments of one night, with the readings and changes between them, are its timeline.
type Incident struct {
	Sign string // gasping, warmth, water, level, power, hurt; "" when it is none of these
	What string // in plain words: "power off", "air stone in", "sample in the refrigerator"
	Note string
}

// Kind is the kind of line.
func (Incident) Kind() string { return "incident" }

// Check says what is wrong with the line.
func (i Incident) Check() error {
	c := checking(i)
	c.among("sign", i.Sign, "", "gasping", "warmth", "water", "level", "power", "hurt")
	c.named("what", i.What, "say what was seen or done")
	return c.err()
}
