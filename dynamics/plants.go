package dynamics

// PlantUptake is net uptake of ammonium first, then nitrate, with phosphorus. Taking up ammonium costs
// an equivalent of alkalinity, nitrate gives one back (Brewer and Goldman 1976).
var PlantUptake = Process{
	Name:  "plant uptake",
	Law:   "u_A = U a/(k+a), u_3 = U k/(k+a) n/(K+n); dAlk = (u_3 - u_A)/14",
	Works: []string{"memory-plants", "brewer1976", "redfield"},
	add: func(x *scene, d *State) {
		a, n, p := x.per(x.TAN), x.per(x.NO3), x.per(x.PO4)
		ammonium := x.uptake * monod(a, uptakeHalfAmmonia)
		nitrate := x.uptake * (1 - monod(a, uptakeHalfAmmonia)) * monod(n, uptakeHalfNitrate)
		phosphorus := uptakePhosphorus * (ammonium + nitrate) * monod(p, uptakeHalfPhosphate)
		d.TAN -= ammonium
		d.NO3 -= nitrate
		d.PO4 -= phosphorus
		d.Plants += ammonium + nitrate
		d.PlantP += phosphorus
		d.Alk += (nitrate-ammonium)/molarN + phosphorus/molarP
		d.Oxygen += oxygenPerAmmonium*ammonium + oxygenPerNitrate*nitrate
	},
}

// Denitrification takes nitrate away as gas in bed and clogged media, first order; each mole gives back
// an equivalent of alkalinity.
var Denitrification = Process{
	Name:  "denitrification",
	Law:   "dNO3/dt = -k NO3; dAlk = +k NO3/14",
	Works: []string{"judgement"},
	add: func(x *scene, d *State) {
		r := x.Params[Denitrified] * x.NO3
		d.NO3 -= r
		d.Gas += r
		d.Alk += r / molarN
	},
}

var (
	uptakeHalfAmmonia   = table.Value("uptake half ammonia")
	uptakeHalfNitrate   = table.Value("uptake half nitrate")
	uptakeHalfPhosphate = table.Value("uptake half phosphate")
	uptakePhosphorus    = table.Value("uptake phosphorus")
	oxygenPerAmmonium   = table.Value("oxygen per ammonium taken")
	oxygenPerNitrate    = table.Value("oxygen per nitrate taken")
)
