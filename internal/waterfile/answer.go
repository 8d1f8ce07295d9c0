package waterfile

import (
	"halfwater/quantity"
	"halfwater/water"
)

// Answers are the waters of a table that could be speciated, in its order.
type Answers struct {
	Table  *Table
	Of     []*water.Speciation // by row; nil where the row is at fault
	Faults Faults              // of reading and of chemistry, in order of lines
}

// Answer speciates every row that could be read, on all cores.
func Answer(t *Table, m water.Model) *Answers {
	out := &Answers{Table: t, Of: make([]*water.Speciation, len(t.Rows))}
	var poses []water.Pose
	var rows, second []int // the row of each pose; the pose of the second water of a row, or -1
	for i := range t.Rows {
		q := t.Rows[i].ask
		if q == nil {
			continue
		}
		rows = append(rows, i)
		second = append(second, -1)
		poses = append(poses, q.a)
	}
	for k, i := range rows {
		if q := t.Rows[i].ask; q.b != nil {
			second[k] = len(poses)
			poses = append(poses, *q.b)
		}
	}
	got, errs := m.Batch(poses)
	failed := map[int]error{}
	// Second round: the mixtures, closed.
	var mixed []water.Pose
	var mixedRow []int
	for k, i := range rows {
		switch b := second[k]; {
		case errs[k] != nil:
			failed[i] = errs[k]
		case b < 0:
			out.Of[i] = &got[k]
		case errs[b] != nil:
			failed[i] = secondWater{errs[b]}
		default:
			q := t.Rows[i].ask
			mix, err := water.Blend([]water.Part{
				{Composition: q.a.Composition, DIC: got[k].DIC, Litres: quantity.Litres(q.shareA)},
				{Composition: q.b.Composition, DIC: got[b].DIC, Litres: quantity.Litres(1 - q.shareA)},
			})
			if err != nil {
				failed[i] = err
				continue
			}
			mixed = append(mixed, water.Pose{Composition: mix.Composition, DIC: water.Stated(mix.DIC)})
			mixedRow = append(mixedRow, i)
		}
	}
	gotMixed, errs := m.Batch(mixed)
	for k, i := range mixedRow {
		if errs[k] != nil {
			failed[i] = errs[k]
		} else {
			out.Of[i] = &gotMixed[k]
		}
	}
	unread := map[int]Fault{}
	for _, f := range t.Faults {
		unread[f.Line] = f
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		if err := failed[i]; err != nil {
			out.Faults = append(out.Faults, Fault{Line: r.Line, ID: r.ID, Says: err.Error()})
		} else if f, ok := unread[r.Line]; ok {
			out.Faults = append(out.Faults, f)
		}
	}
	return out
}

type secondWater struct{ err error }

func (e secondWater) Error() string { return "second water: " + e.err.Error() }
