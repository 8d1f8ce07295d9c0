package plan

import (
	"math"
	"time"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/quantity"
)

func (v *visit) startRO(cut []int, wishes []wish, litres quantity.Litres) []ROStart { return nil }

var (
	_ = math.Inf
	_ = time.Now
	_ book.ID
	_ enclosure.Fitting
)
