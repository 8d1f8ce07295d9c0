package arch

// rows is the map. Imports point down it: a package may import what stands in any lower row, and
// nothing of its own row.
var rows = []row{
	{"9", "cmd/halfwater"},
	{"8", "internal/web internal/sensor internal/calendar internal/store"},
	{"7", "internal/report internal/files internal/waterfile internal/access"},
	{"6", "internal/draw internal/keeper"},
	{"5c", "internal/say"}, // a sentence carries numbers, written by the same hand as on the drawings: look
	{"5b", "internal/look"},
	{"5", "audit"},
	{"4", "plan emergency"},
	{"3", "infer"},
	{"2c", "infer/blame"}, // it judges what histories were found; what is believed is not its matter
	{"2b", "infer/fit"},   // the inverse problem: it knows histories and readings, not what a belief is
	{"2", "dynamics"},
	{"1e", "load"},
	{"1d", "book"},
	{"1c", "change"},
	{"1b", "enclosure"},
	{"1a", "water climate husbandry kit caution"},
	{"0", "quantity cite demo"},
}

// forTests stand outside the rows: they import what they like, and only test files import them.
const forTests = "internal/arch internal/published internal/store/storetest"

// apart is what the rows would allow and the design does not.
var apart = []ban{
	{"dynamics infer", "husbandry", "physics does not know what an animal wants"},
	{"emergency", "book load dynamics infer", "the first acts must work with no belief at all: nothing above change"},
	{"internal/web", "dynamics infer", "a page asks the keeper, it computes nothing"},
}

// science is the topmost row that knows no technology: time and seed come in as arguments, data
// files through embed, and words, storage and pages are somebody else's.
const science = "5c"

// technology is what the rows of science do not import, whole trees of it.
var technology = []string{
	"archive", "crypto/rand", "database", "encoding/xml", "html/template", "log", "math/rand", "net",
	"os", "path/filepath", "runtime", "syscall", "text/template", "unsafe",
}

// excused may import one thing of technology all the same.
var excused = map[string]string{
	"internal/say": "text/template", // the catalogue of sentences
}

// onlyEmbed packages are data: they import embed, and time to say where their clock stands.
const onlyEmbed = "demo"

// guests are the modules that are not ours, and who may import them.
var guests = []guest{
	{"gonum.org/v1/gonum", "water climate husbandry enclosure load dynamics infer infer/fit infer/blame plan audit"},
	{"modernc.org/sqlite", "internal/store"},
	{"github.com/pelletier/go-toml/v2", "internal/files"},
	{"github.com/alecthomas/kong", "cmd/halfwater"},
	{"github.com/google/uuid", "internal/keeper"}, // comes with sqlite in any case
}

// leftovers are names of a drawer, not of a thing.
const leftovers = "base common core helper helpers lib misc shared tools util utils"

type (
	row   struct{ name, packages string }
	ban   struct{ packages, mayNotImport, because string }
	guest struct{ module, packages string }
)
