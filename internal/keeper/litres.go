package keeper

import (
	"context"

	"halfwater/book"
	"halfwater/enclosure"
	"halfwater/infer"
	"halfwater/internal/say"
	"halfwater/quantity"
)

// Litres is how much water the box holds, how that is known, and what was asked about it.
type Litres struct {
	Held    quantity.Band[quantity.HeldLitres] // at the full mark
	Doubt   quantity.Share                     // 0.06: known to about 6 %
	Gross   quantity.GrossLitres               // footprint x full mark
	Sources []enclosure.HeldSource             // what each told, in the order in which they joined
	Fell    *quantity.Band[quantity.Litres]    // of a fall of the level that was asked about
	Tracer  *enclosure.Tracer                  // of a salt tracer that was asked about

	estimate enclosure.HeldEstimate
	table    *enclosure.LevelTable
	stock    []enclosure.Batch
}

// Litres says how much water one body holds.
func (k *Keeper) Litres(ctx context.Context, enclosureID, waterBody string) (Litres, error) {
	lines, err := k.Lines(ctx, enclosureID)
	if err != nil {
		return Litres{}, err
	}
	now := k.now()
	held, table, ok := infer.Held(infer.Window{Lines: lines, Water: waterBody, At: now, Recorded: known(lines, now)})
	if !ok {
		return Litres{}, &Fault{Kind: Missing, Say: say.Sentence("door.no-box", nil)}
	}
	return Litres{
		Held: held.Held, Doubt: quantity.Share(held.LnSD), Gross: held.Gross, Sources: held.Sources,
		estimate: held, table: table, stock: book.FactsAt(lines, waterBody, now, known(lines, now)).Stock,
	}, nil
}

// FellBetween is how many litres a fall of the level between two marks is.
func (l *Litres) FellBetween(from, to quantity.Millimetres) error {
	if l.table == nil {
		return &Fault{Kind: Missing, Say: say.Sentence("door.no-box", nil)}
	}
	band := l.table.Fell(from, to)
	l.Fell = &band
	return nil
}

// ForLabel refuses to dose by the size of a label, and says by how much it would overdose.
func (l *Litres) ForLabel(size float64, unit string) error {
	gross, err := enclosure.LabelSize(size, unit)
	if err == nil {
		_, err = l.estimate.DoseLitres(gross)
	}
	if err != nil {
		return &Fault{Kind: Refused, Field: "label", Say: say.Error(err), Err: err}
	}
	return nil
}

// WithTracer plans a salt tracer for a water of an EC, or says who must not have it.
func (l *Litres) WithTracer(ec quantity.Conductivity) error {
	t, err := l.estimate.PlanTracer(l.stock, ec)
	if err != nil {
		return &Fault{Kind: Refused, Field: "tracer", Say: say.Error(err), Err: err}
	}
	l.Tracer = &t
	return nil
}
