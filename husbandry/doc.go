// Package husbandry knows what animals and plants need of their enclosure and what they give off.
//
// It holds the species table ([Lookup], [All]), what a kind wants of water, air and light
// ([Needs]), the lines past which water asks for the keeper ([LinesOf]) and the greatest steps
// it may take in a day ([StepLimitsOf]), who may live with whom ([Together]), and the rates at
// which stock and feed give off nitrogen and take oxygen.
//
// The species table is from memory of keeping practice, rounded inward: prompts which a keeper
// may override. The lines are judgement, informed by the criteria of the US EPA (2013, 1986), the
// CCME guidelines, Camargo et al. 2005, Schuytema and Nebeker 1999 and Tomasso et al. 1979. Lines
// of poisons and of oxygen, and steps, may be tightened and never loosened.
//
// The package speaks in codes; their sentences stand in the catalogue of sentences. It never
// diagnoses and never doses: a vet does.
package husbandry
