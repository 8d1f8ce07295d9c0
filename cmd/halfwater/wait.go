package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"halfwater/internal/keeper"
	"halfwater/internal/say"
)

// patience is how long a command may take before it says how far it is.
const patience = 500 * time.Millisecond

// waiting tells who looks on at a terminal how far a work is that takes long; nobody else is told.
func (w *world) waiting() keeper.Progress {
	f, ok := w.errOut.(*os.File)
	if !ok {
		return nil
	}
	if info, err := f.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return nil
	}
	begun := time.Now()
	return inFifths(f, func() bool { return time.Since(begun) > patience })
}

// inFifths tells each fifth of a work once, from when it is late on, but not its end: then the answer comes.
func inFifths(out io.Writer, late func() bool) keeper.Progress {
	told := 0
	return func(share float64) {
		if n := int(5 * share); n > told && n < 5 && late() {
			told = n
			fmt.Fprintln(out, say.Sentence("door.done-so-far", 20*n))
		}
	}
}
