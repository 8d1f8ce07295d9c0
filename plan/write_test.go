package plan_test

import (
	"fmt"
	"testing"

	"halfwater/plan"
)

func TestLook(t *testing.T) {
	s := write(belief(about(), 500, 0.1), riverbank())
	fmt.Printf("%+v\n", *s.Siphon)
	fmt.Printf("%+v\n", *s.Pour)
	for _, e := range s.Effects {
		fmt.Printf("%+v\n", e)
	}
	for _, r := range s.Refused {
		fmt.Printf("%+v\n", r)
	}
}

func BenchmarkWrite(b *testing.B) {
	be, f := belief(about(), 500, 0.1), riverbank()
	b.ReportAllocs()
	for b.Loop() {
		sink = write(be, f)
	}
}

var sink plan.Sheet
