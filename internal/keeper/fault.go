package keeper

import (
	"fmt"
)

// FaultKind is how a door should answer a fault.
type FaultKind int

// The kinds of fault.
const (
	Bad     FaultKind = iota // what was typed cannot be: mend the field
	Missing                  // there is no such enclosure, kit or line
	Refused                  // it can be read, but it will not be done
	Store                    // the book could not be read or written
)

// Fault is a refusal with its sentence.
type Fault struct {
	Kind  FaultKind
	Field string // of the form or row; "" when it is about the whole
	Say   string // what happened, what to do
	// Likely are values that were probably meant, as they would be typed: "24.0" for "240".
	Likely []string
	Err    error
}

func (f *Fault) Error() string {
	if f.Field != "" {
		return fmt.Sprintf("%s: %s", f.Field, f.Say)
	}
	return f.Say
}

func (f *Fault) Unwrap() error { return f.Err }
