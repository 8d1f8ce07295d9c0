package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"

	"github.com/alecthomas/kong"

	"halfwater/internal/keeper"
	"halfwater/internal/say"
)

// version is set by the release build.
var version = "0.1-dev"

// The exit codes.
const (
	exitDone = iota
	exitOwnFault
	exitBadInput
	exitRefused
	exitMissing
	exitStore
	exitStopped = 128 + int(syscall.SIGINT) // as shells count it
)

// cli is every command, one file each.
type cli struct {
	Book      string `help:"SQLite file of the book (default: halfwater/book.sqlite in the data folder of this account)." placeholder:"FILE" env:"HALFWATER_BOOK"`
	Enclosure string `help:"Short name of the enclosure." default:"home" short:"e" env:"HALFWATER_ENCLOSURE"`

	Demo      demoCmd      `cmd:"" help:"Show an invented enclosure: its work sheet, and its pages on loopback."`
	Serve     serveCmd     `cmd:"" help:"Serve the pages of your book on loopback."`
	Now       nowCmd       `cmd:"" help:"Say what the water is now, with its doubt."`
	Outlook   outlookCmd   `cmd:"" help:"Say what comes when the routine is kept: bands on the eve of each change, odds of each line."`
	Learnt    learntCmd    `cmd:"" help:"Say what the readings teach of this enclosure's own constants, beside the book's."`
	Litres    litresCmd    `cmd:"" help:"Say how many litres the box really holds; what a fall of the level, a label or a salt tracer comes to."`
	Sheet     sheetCmd     `cmd:"" help:"Print the work sheet of the next visit."`
	Emergency emergencyCmd `cmd:"" help:"First acts, and the hours left; works with no book."`
	Add       addCmd       `cmd:"" help:"Add one line to the book."`
	Import    importCmd    `cmd:"" help:"Read enclosure files (TOML) and book files (CSV) into the book."`
	Export    exportCmd    `cmd:"" help:"Write the whole book as files."`

	Water     waterCmd     `cmd:"" help:"Say what is in a water: species, pH, CO2, saturation, conductivity; a table or one water."`
	Constants constantsCmd `cmd:"" help:"List every constant with its unit, where it holds, and the work it comes from."`

	Version kong.VersionFlag `help:"Print the version."`
}

// world is what a command may touch of the world outside.
type world struct {
	ctx    context.Context
	in     io.Reader
	out    io.Writer
	errOut io.Writer
	now    func() time.Time
	book   string
	id     string
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	code := run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr, time.Now)
	stop()
	os.Exit(code)
}

// run is the whole program as a value: arguments and streams in, an exit code out.
func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer, now func() time.Time) (code int) {
	var c cli
	exited := -1
	parser, err := kong.New(&c,
		kong.Name("halfwater"),
		kong.Description("The book of a half-land, half-water enclosure, and what follows from it."),
		kong.Vars{"version": version},
		kong.Writers(out, errOut),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Exit(func(n int) { exited = n; panic(exit{}) }),
	)
	if err != nil {
		fmt.Fprintln(errOut, "halfwater:", err)
		return exitOwnFault
	}
	defer func() { // kong ends the program after --help and --version; here that is a return
		if r := recover(); r != nil {
			if _, ok := r.(exit); !ok {
				panic(r)
			}
			code = exited
		}
	}()
	k, err := parser.Parse(args)
	if err != nil {
		fmt.Fprintln(errOut, "halfwater:", err)
		fmt.Fprintln(errOut, "Ask `halfwater --help` for the commands, `halfwater COMMAND --help` for one of them.")
		return exitBadInput
	}
	w := &world{ctx: ctx, in: in, out: out, errOut: errOut, now: now, book: c.Book, id: c.Enclosure}
	if err := k.Run(w); err != nil {
		if ctx.Err() != nil {
			fmt.Fprintln(errOut, "halfwater:", say.Sentence("door.stopped", nil))
			return exitStopped
		}
		fmt.Fprintln(errOut, "halfwater:", err)
		return exitCode(err)
	}
	return exitDone
}

type exit struct{}

// exitCode maps an error to what a script can act on.
func exitCode(err error) int {
	var coded interface{ ExitCode() int }
	if errors.As(err, &coded) {
		return coded.ExitCode()
	}
	var f *keeper.Fault
	if !errors.As(err, &f) {
		return exitOwnFault
	}
	switch f.Kind {
	case keeper.Bad:
		return exitBadInput
	case keeper.Missing:
		return exitMissing
	case keeper.Refused:
		return exitRefused
	}
	return exitStore
}
