package load

import "halfwater/quantity"

// Nutrients is what one input brings to the water, as amounts (or as amounts per day).
type Nutrients struct {
	N   Doubt[MgN]            // all nitrogen that reaches the water, mg N
	TAN Doubt[MgN]            // the part of it that is total ammonia, or urea on its way there, within a day or two
	P   Doubt[quantity.Grams] // phosphorus, g
	C   Doubt[quantity.Grams] // organic carbon, g
}

// Plus is the sum of two independent inputs.
func (n Nutrients) Plus(m Nutrients) Nutrients {
	return Nutrients{n.N.Plus(m.N), n.TAN.Plus(m.TAN), n.P.Plus(m.P), n.C.Plus(m.C)}
}

// Times is the input by a factor.
func (n Nutrients) Times(x float64) Nutrients {
	return Nutrients{n.N.Times(x), n.TAN.Times(x), n.P.Times(x), n.C.Times(x)}
}

// OxygenDemand is the oxygen that the input takes up until its carbon is carbon dioxide and its
// nitrogen nitrate.
func (n Nutrients) OxygenDemand() Doubt[quantity.Grams] {
	return n.C.Times(o2PerC).Plus(scaled[quantity.Grams](float64(OxygenForNitrate(1)), Doubt[float64]{
		float64(n.N.Low), float64(n.N.Median), float64(n.N.High),
	}))
}

// flesh fills in phosphorus and carbon of protein food from its nitrogen.
func flesh(n, tan Doubt[MgN]) Nutrients {
	p := n.By(of("feed.p_per_n"))
	c := n.By(of("feed.c_per_n"))
	return Nutrients{n, tan, grams(p), grams(c)}
}

func grams(d Doubt[MgN]) Doubt[quantity.Grams] {
	return Doubt[quantity.Grams]{
		quantity.Milligrams(float64(d.Low)), quantity.Milligrams(float64(d.Median)), quantity.Milligrams(float64(d.High)),
	}
}
