package water

import (
	"errors"
	"testing"

	"halfwater/quantity"
)

func TestBatchIsEachByItself(t *testing.T) {
	var poses []Pose
	for i := range 1000 {
		p := Pose{Composition: hardTap}
		p.Composition.Temperature = quantity.Celsius(i % 50) // some beyond the span
		switch i % 4 {
		case 0:
			p.PH = Stated(quantity.PH(7.2))
		case 1:
			p.PCO2 = Stated(quantity.Atm(1e-3))
		case 2:
			p.DIC = Stated(Molality(3.5))
		}
		poses = append(poses, p)
	}
	out, errs := Model{}.Batch(poses)
	for i := range poses {
		s, err := Model{}.Speciate(&poses[i])
		if s != out[i] || (err == nil) != (errs[i] == nil) {
			t.Fatalf("water %d: alone %v, in the batch %v", i, err, errs[i])
		}
		if i%4 == 3 && !errors.As(errs[i], new(Unposed)) {
			t.Fatalf("water %d: %v", i, errs[i])
		}
	}
	if out, errs := (Model{}).Batch(nil); len(out)+len(errs) != 0 {
		t.Error("an empty batch gave something")
	}
}
