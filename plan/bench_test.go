package plan_test

import (
	"testing"

	"halfwater/plan"
)

func BenchmarkWrite(b *testing.B) {
	be, f := belief(about(), 500, 0.1), riverbank()
	b.ReportAllocs()
	for b.Loop() {
		sink = write(be, f)
	}
}

var sink plan.Sheet
