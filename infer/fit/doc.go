// Package fit turns the course of an enclosure round: given what the kits showed, which constants, which
// start and which weeks may have been.
//
// A [Problem] joins the forward model (package dynamics), what is believed beforehand and the readings. All
// that is not known is a vector of scores that are standard normal beforehand, so that one unit is one
// standard deviation of the prior whatever the quantity: own constants, the start, the doubt of source
// waters, each week's load, each month's uptake and tap, the litres of each change, the loss of each
// service, the bias of each lot of reagent, and for each quantity a slow departure of the world from the
// model ([Wander]).
//
// # Method
//
// [Problem.Solve] climbs to the mode by Gauss-Newton with the expected information of each reading (Fisher
// scoring), damped, each step accepted on the exact objective, from three starts. Draws about it are solutions of problems of
// their own, whose prior and readings were shaken (randomised maximum likelihood); they lean by how the effects of the unknowns
// bend, which takes away what such draws have of another density than the posterior ([Effort]), and a few generalised
// Crank-Nicolson moves (Cotter et al. 2013) may bring them nearer to it. The effect of an unknown on the readings is a
// one-sided difference; what acts only from a week on is run again from the state of that week.
//
// [Problem.Sample] draws from the exact posterior, slowly, by many chains that begin at unrelated places and share
// nothing with the search; it is what Solve is tried against (doc/infer.md, "The slow sampler").
//
// All of it may be stopped from outside, and tells how far it is ([Watch]).
//
// # Limits
//
// Two places are described at most ([Posterior.Branches]); that there was another, and how much worse, is told
// ([Posterior.Other]). How far draws are from the exact posterior stands in doc/infer.md.
//
// # Works
//
// Draws: oliver1996, bardsley2014. The slow sampler (sample.go): murray2010, nishihara2014, cui2016; its mixing: vehtari2021; its tests:
// geweke2004, talts2018, sailynoja2022. The keys are those of cite/works.txt.
package fit
