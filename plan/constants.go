package plan

import (
	_ "embed"
	"time"

	"halfwater/cite"
	"halfwater/quantity"
	"halfwater/water"
)

//go:embed constants.txt
var constantsText string

var rules = cite.MustParse(constantsText)

// Constants are the rules of the planner, each with its work.
func Constants() []cite.Constant { return rules.List }

func share(name string) quantity.Share { return quantity.Share(rules.Value(name)) }

func days(name string) int { return int(rules.Value(name)) }

func span(name string, unit time.Duration) time.Duration {
	return time.Duration(rules.Value(name) * float64(unit))
}

const day = 24 * time.Hour

// The rules by name; what each is for stands in constants.txt.
var (
	usualShare   = share("usual share")
	usualDays    = rules.Value("usual days")
	largestShare = share("largest share")
	longestPath  = days("longest path")
	farLarger    = quantity.Share(rules.Value("far larger"))
	lastChanges  = days("last changes")

	hardLimit  = rules.Value("hard limit")
	preference = rules.Value("preference")

	tie                = rules.Value("tie")
	saltCost           = rules.Value("salt cost")
	calciumToMagnesium = water.Molality(rules.Value("Ca:Mg"))
	ratioWeight        = rules.Value("Ca:Mg weight")
	perMeqEC           = rules.Value("EC per meq")
	leastWeighed       = quantity.Grams(rules.Value("least weighed"))

	seasonDoubt   = rules.Value("season")
	saltDoubt     = rules.Value("salt purity")
	ecDoubt       = rules.Value("mix EC")
	ecLeast       = rules.Value("mix EC least")
	tempDoubt     = rules.Value("mix temperature")
	roomCO2       = quantity.Atm(rules.Value("room CO2"))
	usualTemp     = quantity.Celsius(rules.Value("usual temperature"))
	coldMain      = quantity.Celsius(rules.Value("cold main"))
	enoughInStore = quantity.Litres(rules.Value("enough in store"))
	timedFor      = span("timed for", day)

	enoughTAN  = quantity.TotalAmmonia(rules.Value("enough TAN"))
	lowPH      = quantity.PH(rules.Value("low pH"))
	shownTAN   = quantity.TotalAmmonia(rules.Value("shown TAN"))
	soon       = span("soon", day)
	outlook    = span("outlook", day)
	pureUnder  = quantity.Conductivity(rules.Value("pure under"))
	creepShare = rules.Value("creep")
	farOut     = rules.Value("far out")

	staleFor   = span("stale test", day)
	justPasses = rules.Value("just passes")
	farUnder   = rules.Value("far under")
	shortOf    = rules.Value("short of the mark")
	carried    = quantity.Litres(rules.Value("carried"))
	readFor    = span("level read for", time.Hour)

	serviceFlow  = share("service flow")
	pressingFlow = share("pressing flow")
	restDays     = days("rest")
	leastRest    = days("least rest")
	ageFor       = span("stage age", day)
	largeChange  = share("large change")
	quarterBed   = share("quarter bed")
	filmFor      = span("film on carbon", day)
	medicineFor  = span("medicine", day)
	lately       = span("lately", day)
)

// What belongs to one measurand.
var (
	missOfOne = map[quantity.Measurand]float64{
		quantity.OfGH: rules.Value("miss gh"), quantity.OfKH: rules.Value("miss kh"),
		quantity.OfEC: rules.Value("miss ec"), quantity.OfWaterTemp: rules.Value("miss temperature"),
	}
	insetOf = map[quantity.Measurand]float64{
		quantity.OfGH: rules.Value("inset gh"), quantity.OfKH: rules.Value("inset kh"), quantity.OfEC: rules.Value("inset ec"),
	}
	slackOf = map[quantity.Measurand]float64{
		quantity.OfGH: rules.Value("slack gh"), quantity.OfKH: rules.Value("slack kh"), quantity.OfEC: rules.Value("slack ec"),
	}
)
