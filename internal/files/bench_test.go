package files_test

import (
	"fmt"
	"strings"
	"testing"

	"halfwater/internal/files"
)

// halfYear is a book file of 26 weeks as a careful keeper types it: ten rows a day.
func halfYear() string {
	var out strings.Builder
	out.WriteString("at,kind,kit,shown,source,litres,what,grams,text\n")
	for d := range 26 * 7 {
		at := day(d - 60).Format("2006-01-02")
		for n := range 10 {
			switch n % 4 {
			case 0:
				fmt.Fprintf(&out, "%s 09:0%d,reading,KH drops,4,,,,,\n", at, n)
			case 1:
				fmt.Fprintf(&out, "%s 09:0%d,top-up,,,RO,1.5,,,\n", at, n)
			case 2:
				fmt.Fprintf(&out, "%s 09:0%d,feed,,,,,dry,0.3,\n", at, n)
			case 3:
				fmt.Fprintf(&out, "%s 09:0%d,note,,,,,,,nothing odd\n", at, n)
			}
		}
	}
	return out.String()
}

func BenchmarkReadBookHalfYear(b *testing.B) {
	have := wholeBook()
	for i := range have {
		have[i].At = have[i].At.AddDate(0, 0, -100)
	}
	text := halfYear()
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		im, err := files.ReadBook(strings.NewReader(text), options(have...))
		if err != nil || im.Err() != nil {
			b.Fatal(err, im.Err())
		}
	}
}

func BenchmarkWriteBookHalfYear(b *testing.B) {
	have := wholeBook()
	for i := range have {
		have[i].At = have[i].At.AddDate(0, 0, -100)
	}
	im, err := files.ReadBook(strings.NewReader(halfYear()), options(have...))
	if err != nil || im.Err() != nil {
		b.Fatal(err, im.Err())
	}
	for b.Loop() {
		var out strings.Builder
		if err := files.WriteBook(&out, im.Lines); err != nil {
			b.Fatal(err)
		}
	}
}
