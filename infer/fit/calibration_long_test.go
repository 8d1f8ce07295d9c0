//go:build long

package fit

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"
	"time"

	"halfwater/dynamics"
)

// pretend makes a truth from the prior of a problem and readings from the truth.
func pretend(p *Problem, tables []table, seed uint64) (truth History, told float64) {
	p.Readings = slices.Clone(p.Readings)
	b := newBench(p)
	rnd := rand.New(rand.NewPCG(seed, 0x747275746873))
	z := make([]float64, b.n)
	for j := range z {
		z[j] = rnd.NormFloat64()
	}
	var r run
	b.live(z, &r)
	for i := range p.Readings {
		tables[i].show(&p.Readings[i], b.asKit(i, z, r.seen[i]), rnd)
	}
	truth.take(b, z, &r)
	return truth, b.toldBy(z, &r)
}

// asked are the quantities that are foretold: what each kit of the brook would see at the end of the course, two
// weeks after the last reading.
func asked(p *Problem, h *History) []float64 {
	out := make([]float64, len(readBy))
	for k, r := range readBy {
		out[k] = p.Wanders[k].Apply(r.see(&h.End), h.Wander[k])
	}
	return out
}

// names are those of the scores of a problem, in their order.
func names(p *Problem) []string {
	l := p.layout()
	var out []string
	some := func(name string, to int) {
		for i := 0; len(out) < to; i++ {
			out = append(out, fmt.Sprint(name, " ", i+1))
		}
	}
	for u := range dynamics.Unknowns {
		out = append(out, u.String())
	}
	for _, s := range p.Starts {
		out = append(out, "start "+s)
	}
	for _, s := range p.Slants {
		out = append(out, s.Name)
	}
	some("feed of week", l.uptake)
	some("uptake of month", l.tap)
	some("tap of month", l.litres)
	some("litres of change", l.losses)
	some("loss", l.runs)
	some("lot", l.wanders)
	for i := range p.Wanders {
		some(p.Wanders[i].Name+" departs in fortnight", l.wanders+(i+1)*l.fortnights)
	}
	some("drift", l.n)
	return out
}

// TestCalibration is simulation-based calibration of the slow sampler (Talts et al. 2018): truths from the prior,
// readings from the likelihood of each, and the rank of the truth among 99 draws, for every score, for what is
// foretold, and for the log chance of the readings (Modrák et al. 2023), which tells of the whole where no single
// unknown does. No quantity may be refused at 5 % with all of them counted (Bonferroni). Steps are coarse to save
// time: the truth is run with the same.
func TestCalibration(t *testing.T) {
	const sets, draws = 200, 99
	p, tables := brook(t)
	p.Pace = dynamics.Coarse
	of := append([]string{"log chance"}, names(&p)...)
	for _, r := range readBy {
		of = append(of, r.kit.Of.Label()+" foretold")
	}
	ranks := make([][]int, len(of))
	for i := range ranks {
		ranks[i] = make([]int, sets)
	}
	var lock sync.Mutex
	runs, apart, worth := 0, 0, []float64{}
	e := Patience{Chains: 8, Warm: 60, Rounds: 100, Every: 1, Goal: Mixing{RHat: 1.07, Bulk: draws, Tail: draws / 2}, Longest: 4}
	begun := time.Now()
	var wg sync.WaitGroup
	for w := range 2 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for set := w; set < sets; set += 2 {
				p := p
				truth, told := pretend(&p, tables, uint64(set))
				got, err := p.Sample(context.Background(), e, uint64(set))
				if err != nil {
					t.Error(err)
					return
				}
				true := append(append([]float64{told}, truth.Z...), asked(&p, &truth)...)
				below := make([]int, len(true))
				for k := range draws { // evenly along all chains
					n := len(got.Chains[0])
					at := k * len(got.Chains) * n / draws
					h := &got.Chains[at/n][at%n]
					drawn := append(append([]float64{got.Told[at/n][at%n]}, h.Z...), asked(&p, h)...)
					for i, x := range drawn {
						if x < true[i] {
							below[i]++
						}
					}
				}
				lock.Lock()
				for i, b := range below {
					ranks[i][set] = b
				}
				runs += got.Runs
				worth = append(worth, got.Worst.Bulk)
				if !got.Worst.meets(e.Goal) {
					apart++
					t.Logf("set %d: the chains are still apart: %+v", set, got.Worst)
				}
				if len(worth)%20 == 0 {
					t.Logf("%d of %d sets, %d runs, %s", len(worth), sets, runs, time.Since(begun).Round(time.Second))
				}
				lock.Unlock()
			}
		}()
	}
	wg.Wait()
	slices.Sort(worth)
	t.Logf("%d sets, %d unknowns, %d readings: %d runs in %s; %d still apart; effective draws of the worst score: %.0f at the least, %.0f in the middle",
		sets, len(of)-1-len(readBy), len(tables), runs, time.Since(begun).Round(time.Second), apart, worth[0], worth[sets/2])

	u := uniformityOf(sets, draws+1, 200_000, 1)
	low := 0
	for i, r := range ranks {
		chance := u.chance(r)
		mean, square := 0.0, 0.0
		for _, x := range r {
			v := (float64(x) + 0.5) / (draws + 1)
			mean += v / sets
			square += v * v / sets
		}
		if chance < 0.05 {
			low++
			t.Logf("%-36s p %.4f, mean rank %.3f (0.5), sd %.3f (%.3f)", of[i], chance, mean, math.Sqrt(square-mean*mean), math.Sqrt(1./12))
		}
		if chance < 0.05/float64(len(of)) {
			t.Errorf("%s is refused", of[i])
		}
	}
	t.Logf("%d of %d quantities have p under 0.05; %.1f would by chance", low, len(of), 0.05*float64(len(of)))
}
