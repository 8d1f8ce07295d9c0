// Package plan turns what is believed into work: the pour, the service, the tests due, and the
// work sheet of one visit.
//
// The change is sized from the plateau before a change (source + weekly rise / share), not from
// today's reading alone. The blend is a bounded least squares over the source waters for GH, KH,
// EC and temperature together. Hard limits are held with 95 % chance over the draws of the belief:
// when a step, free ammonia or a line would be passed, the sheet says "not in one visit" and gives
// the stepped path.
package plan
