package files_test

import (
	"fmt"
	"os"
	"strings"
	"time"

	"halfwater/book"
	"halfwater/internal/files"
)

// A keeper's rows become lines; what the drop test shows is read as the interval that it stands for.
func ExampleReadBook() {
	now := time.Date(2026, 5, 25, 12, 0, 0, 0, time.UTC)
	facts, err := files.ReadEnclosure(strings.NewReader(`
from = 2026-05-01
[[kit]]
name = "KH drops"
of = "kh"
form = "drops"
unit = "dKH"
per_drop = 1
`), files.Options{Now: now})
	if err != nil || facts.Err() != nil {
		fmt.Println(err, facts.Err())
		return
	}
	rows, err := files.ReadBook(strings.NewReader(`at,kind,kit,shown
2026-05-24 18:00,reading,KH drops,4
2026-05-24 18:05,reading,GH drops,7
`), files.Options{Now: now, Have: facts.Lines})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range rows.Lines {
		r := l.Body.(book.Reading)
		fmt.Printf("%s: %s between %g and %g %s\n", l.At.Format("2 Jan 15:04"), r.Of.Label(), r.Lo, r.Hi, r.Of.Unit())
	}
	fmt.Println(rows.Err())
	fmt.Println("set aside:")
	if err := rows.WriteSetAside(os.Stdout); err != nil {
		fmt.Println(err)
	}
	// Output:
	// 24 May 18:00: KH between 3 and 4 dKH
	// line 3, kit: there is no kit "GH drops" at that time: there is KH drops
	// set aside:
	// at,kind,kit,shown,fault
	// 2026-05-24 18:05,reading,GH drops,7,"line 3, kit: there is no kit ""GH drops"" at that time: there is KH drops"
}
