package infer

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"halfwater/dynamics"
)

// TestLearn tells what ten weeks teach: the same each time, bands in order, and the net slope of nitrate
// about what it was.
func TestLearn(t *testing.T) {
	e := newTruth(21, "plain")
	e.keep(10)
	at := day0.AddDate(0, 0, 71)
	w := Window{Lines: e.lines, At: at, Recorded: at, Seed: 1}
	l, err := Learn(w)
	if err != nil {
		t.Fatal(err)
	}
	if len(l.Values) != int(dynamics.Unknowns) || l.Readings < 20 {
		t.Fatalf("%d values from %d readings", len(l.Values), l.Readings)
	}
	for _, v := range l.Values {
		if b := v.Own; !(b.Low <= b.Lo && b.Lo <= b.Median && b.Median <= b.Hi && b.Hi <= b.High) || v.Told < 0 || v.Told > 1 {
			t.Errorf("%s: %+v", v.Of, v)
		}
	}
	for i, p := range l.Tied {
		if math.Abs(p.By) < tied || i > 0 && math.Abs(p.By) > math.Abs(l.Tied[i-1].By) {
			t.Errorf("tied: %+v", l.Tied)
		}
	}
	if was, _ := e.nextWeek(); was < float64(l.NO3Rise.Low)-2 || was > float64(l.NO3Rise.High)+2 {
		t.Errorf("nitrate rose by %.1f mg N/L a week, learnt %+v", was, l.NO3Rise)
	}
	if again, _ := Learn(w); !reflect.DeepEqual(l, again) {
		t.Error("the same window taught something else")
	}
}

// TestLearnNothing: without a reading there is nothing to learn.
func TestLearnNothing(t *testing.T) {
	n := notes{}
	n.add(day0, plain)
	n.add(day0, hardTap)
	at := day0.AddDate(0, 0, 30)
	var nothing NothingRead
	if _, err := Learn(Window{Lines: n.lines, At: at, Recorded: at, Seed: 1}); !errors.As(err, &nothing) {
		t.Error(err)
	}
	if _, err := Learn(Window{Lines: n.lines}); !errors.As(err, &NoMoment{}) {
		t.Error(err)
	}
}
