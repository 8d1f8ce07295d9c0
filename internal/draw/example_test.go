package draw_test

import (
	"fmt"
	"strings"

	"halfwater/internal/draw"
	"halfwater/internal/look"
)

func Example() {
	band := draw.Band{
		Title: "KH: about 2.1 °dKH, could be 1.6 to 2.6. watch.",
		Lo:    0, Hi: 8,
		Limits: []draw.Limit{{At: 3, Mark: look.Watch}, {At: 1, Mark: look.ActNow}},
		Belief: &draw.Belief{P10: 1.6, P25: 1.8, P75: 2.4, P90: 2.6},
	}
	svg := string(band.SVG(draw.Narrow, "kh"))
	fmt.Println(svg[:strings.Index(svg, "<defs>")])
	// Output:
	// <svg viewBox="0 0 328 74" width="328" height="74" role="img" aria-labelledby="kht"><title id="kht">KH: about 2.1 °dKH, could be 1.6 to 2.6. watch.</title>
}
