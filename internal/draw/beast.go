package draw

import (
	"math"
	"strconv"
)

// Animal is a silhouette, drawn to scale.
type Animal int

// The animals that have a silhouette of their own.
const (
	Frog Animal = iota
	Fish
	Shrimp
	Newt
	Lizard
	Turtle
	Crab
)

// Haunt is where an animal is drawn.
type Haunt int

// The places; an animal that finds no clear place there is not drawn.
const (
	InWater Haunt = iota
	OnBed
	OnLand
	OnBranch
)

// Beast is a kind of animal in the box: how long, how many, and where it is mostly seen. Animals
// give way to words: at most four are drawn in each haunt, and only where nothing else stands.
type Beast struct {
	Animal Animal
	Length float64 // cm, snout to tail tip as it sits
	Count  int
	Haunt  Haunt
}

// silhouettes face right, 100 units long, feet at 0 and y up. Eyes are holes.
var silhouettes = map[Animal]struct {
	height float64
	path   string
	eyes   [][3]float64 // x, y, radius
}{
	Frog: {57, "M0 0C2 8 12 24 24 32C36 40 52 47 64 51C70 57 80 59 84 54C90 50 98 45 100 39C100 34 95 31 91 29C86 26 80 25 77 24L72 12L77 3L86 0L63 0L61 13L50 10L44 5L51 0Z", [][3]float64{{80, 49, 4}}},
	Fish: {42, "M100 22C90 33 74 38 58 36L48 42L42 33C36 31 30 28 24 26L0 38C6 29 6 15 0 6L24 18C32 15 38 11 44 6L56 7C76 6 92 12 100 22Z", [][3]float64{{88, 25, 3.4}}},
	Shrimp: {56, "M100 27L80 33C66 43 46 44 30 34C20 28 12 18 9 9L0 2L15 3L21 9C25 17 31 22 38 23L35 12L43 24L50 25L48 12L56 25L63 25L62 12L69 25L75 23L78 10L81 23C88 23 94 24 100 27Z" +
		"M88 30C97 37 99 46 94 56L92 55C95 46 93 39 85 32Z", [][3]float64{{88, 28, 2.6}}},
	Newt:   {20, "M0 7C12 17 30 19 46 15C58 20 72 19 80 16C86 20 94 19 98 15C101 12 99 9 95 9C91 8 87 8 83 8L86 3L92 0L82 0L77 7C68 5 60 5 54 7L57 3L62 0L52 0L47 6C32 5 14 4 0 7Z", [][3]float64{{92, 14, 1.8}}},
	Lizard: {24, "M0 1C18 0 34 3 46 11C56 16 68 17 78 18C84 24 93 25 98 21C101 18 98 16 95 15C90 13 86 11 83 9L88 3L94 0L84 0L77 8C69 6 62 6 57 7L62 3L68 0L57 0L50 6C38 0 18 -2 0 1Z", [][3]float64{{92, 20, 1.8}}},
	Turtle: {36, "M4 8C10 27 36 38 58 32C70 29 78 22 81 16C87 22 96 22 99 17C101 12 95 10 89 10C84 9 80 9 77 8L82 0L70 0L64 6L36 6L31 0L19 0L19 7C13 6 8 5 0 2Z", [][3]float64{{93, 16, 2.2}}},
	Crab: {60, "M30 30C36 41 64 41 70 30L79 34C76 40 72 50 80 60L85 49L90 58C97 52 95 42 87 35L76 27C82 27 90 24 97 8L95 7C89 18 84 22 76 22C84 20 90 15 92 0L90 0C87 12 82 17 74 17C79 14 82 9 82 0L80 0C79 8 75 12 68 13L32 13" +
		"C25 12 21 8 20 0L18 0C18 9 21 14 26 17C18 17 13 12 10 0L8 0C10 15 16 20 24 22C16 22 11 18 5 7L3 8C10 24 18 27 24 27L13 35C5 42 3 52 10 58L15 49L20 60C28 50 24 40 21 34Z", [][3]float64{{44, 33, 2.4}, {56, 33, 2.4}}},
}

// beast draws one silhouette with its feet at p, of the given length in px, turned by the angle in
// degrees (counted upward), facing left when flip is set.
func (g *svg) beast(a Animal, p pt, length, angle float64, flip bool) {
	f := silhouettes[a]
	k := length / 100
	sx := k
	if flip {
		sx, angle = -k, -angle
	}
	turn := ""
	if angle != 0 {
		turn = " rotate(" + n(angle) + ")"
	}
	shift := " translate(-50 0)"
	g.b.WriteString(`<g transform="translate(` + n(p.x) + " " + n(p.y) + ") scale(" + n3(sx) + " " + n3(-k) + ")" + turn + shift + `">` +
		`<path d="` + f.path + `" class="f-beast"/>`)
	if length >= 24 { // a smaller eye would not be seen
		for _, e := range f.eyes {
			g.circle(e[0], e[1], e[2], "f-paper", 0)
		}
	}
	g.b.WriteString("</g>")
}

func n3(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64) }

// beasts are drawn last, to scale, and only where no words stand.
func (d *sheet) beasts() {
	drawn := map[Haunt]int{}
	for _, b := range d.Beasts {
		if _, ok := silhouettes[b.Animal]; !ok || !(b.Length > 0) || !finite(b.Length) || d.guessed {
			continue
		}
		for i := 0; i < b.Count && drawn[b.Haunt] < fishMost; i++ {
			if !d.placeBeast(b, i) {
				break
			}
			drawn[b.Haunt]++
		}
	}
}

// placeBeast tries fixed places, spread over the haunt, and takes the first that is clear.
func (d *sheet) placeBeast(b Beast, k int) bool {
	length := b.Length * d.s
	high := length * silhouettes[b.Animal].height / 100
	if length < 4 || length > (d.x(d.Length)-d.x(0))/2 {
		return false
	}
	for i := range 72 {
		// Two irrational steps fill a plane evenly; each animal begins elsewhere.
		u := fraction(float64(i+1)*.61803 + float64(b.Animal)*.37 + float64(k)*.23)
		v := fraction(float64(i+1)*.75488 + float64(b.Animal)*.19)
		p, angle, ok := d.spot(b, u, v, high)
		if !ok {
			continue
		}
		tilt := math.Abs(math.Sin(angle * math.Pi / 180))
		in := box{p.x - length/2, p.y - high, p.x + length/2, p.y}.grow(4, 3)
		in.y0 -= tilt * length / 3
		if d.touches(in, b.Haunt) {
			continue
		}
		d.beast(b.Animal, p, length, angle, (i+k)%2 == 1)
		d.block(in, true)
		return true
	}
	return false
}

func fraction(v float64) float64 { return v - math.Floor(v) }

// touches reports whether a box lies on anything, or leaves the glass; who sits on wood may touch
// the wood, and who walks may stand before a plant.
func (d *sheet) touches(b box, at Haunt) bool {
	if !b.inside(d.glass().grow(-3, -3)) {
		return true
	}
	for _, o := range d.obstacles {
		if o.overlap(b) > 0 && !(at == OnBranch && o.wood) && !(at != InWater && !o.hard) {
			return true
		}
	}
	return false
}

// spot is where the feet of an animal stand for u and v in 0..1, and the slope under it in degrees.
func (d *sheet) spot(b Beast, u, v, high float64) (_ pt, angle float64, ok bool) {
	half := b.Length / 2
	switch b.Haunt {
	case OnBranch:
		if len(d.Branches) == 0 {
			return pt{}, 0, false
		}
		br := d.Branches[int(v*float64(len(d.Branches)))]
		top := make(ground, len(br.Line))
		for i, p := range br.Line {
			top[i] = Point{p.X, p.Z + br.Thick/2}
		}
		if top[0].X > top[len(top)-1].X {
			for i, j := 0, len(top)-1; i < j; i, j = i+1, j-1 {
				top[i], top[j] = top[j], top[i]
			}
		}
		from, to := top[0].X+half, top[len(top)-1].X-half
		if to <= from {
			return pt{}, 0, false
		}
		x := from + u*(to-from)
		return pt{d.x(x), d.z(top.at(x)) - 1.5}, degrees(top.slope(x, b.Length)), true
	case OnLand:
		x := half + u*(d.Length-b.Length)
		if d.ground.highest(x-half, x+half) <= d.Water || d.ground.at(x-half) < d.Water || d.ground.at(x+half) < d.Water {
			return pt{}, 0, false
		}
		angle = degrees(d.ground.slope(x, b.Length*.6))
		return pt{d.x(x), d.z(d.ground.at(x))}, angle, math.Abs(angle) < 30
	case OnBed:
		x := half + u*(d.Length-b.Length)
		z := d.ground.at(x)
		if d.z(z)-high < d.z(d.Water)+3 {
			return pt{}, 0, false
		}
		angle = degrees(d.ground.slope(x, b.Length*.6))
		return pt{d.x(x), d.z(z)}, angle, math.Abs(angle) < 30
	default:
		x := half + u*(d.Length-b.Length)
		top, bottom := d.z(d.Water)+high+4, d.z(d.ground.highest(x-half, x+half))-3
		if d.Water <= 0 || bottom < top {
			return pt{}, 0, false
		}
		return pt{d.x(x), top + v*(bottom-top)}, 0, true
	}
}

func degrees(slope float64) float64 { return math.Atan(slope) * 180 / math.Pi }
