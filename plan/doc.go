// Package plan turns what is believed into work: the pour, the service, the tests due, and the
// work sheet of one visit.
//
// [Write] is one pure function from a belief, the facts and the book to a [Sheet] of codes and typed
// facts; the sentences stand in the catalogue of package say.
//
// # How the pour is found
//
//  1. How much: the routine's share, or more when the plateau before a change (source + rise/share)
//     would leave its range; not from today's reading alone.
//  2. Which waters: bounded least squares over the shares of the source waters for GH, KH, EC and
//     temperature together, with the weights named on the sheet, stores as bounds, and salts when
//     the waters alone leave a gap. A level inside its range is held where it is, with what is lost
//     until the next change made up for.
//  3. Hard limits, held with 95 % chance over the draws: the day's steps of GH, KH and EC, and free
//     ammonia at mixing and within two days (package change). A routine change that steps too far
//     is poured nearer to what is there; one that the keeper asked for is cut into a staged path;
//     one that would free ammonia becomes small steps that give up neither KH nor the animals.
//  4. Litres to the half litre, marks to the millimetre, vessels of 10 kg at most; the limits are
//     checked again on what is really poured.
//
// What is done already is not asked for again: after a change of the last day, or one so lately that
// the routine does not ask yet, the sheet says when the next is. A visit waits for RO that has to be
// made, and for a source water whose analysis cannot be used; a danger waits for neither routine nor
// RO. What comes rests on the changes as they were poured, not on the pour of today.
//
// # Limits
//
// The pour is planned for one water body and one visit; the draws carry the doubt of the enclosure,
// and a fixed sequence that of the source waters. Steps of pH are not limited by themselves: it
// swings between night and day. The program never doses a medicine and gives no advice on law; the
// cautions say who decides.
package plan
