// Package draw makes the drawings of Halfwater: a small struct in, an SVG text out. The section of
// the enclosure to scale, the staff at the glass, the band of a quantity, the vessels of a pour,
// the small before and after, and the marks.
//
// Everything is drawn as water between banks: the keeping range is an open channel; past the watch
// line begins the near bank (wide hatch), past the act line the hard bank (close hatch); what is
// believed lies in it as water, as wide as the doubt.
//
// All drawings are pure functions: no clock, no state, no file. Each has two renderings, [Wide] and
// [Narrow]; a page carries both and the style sheet shows one ([Both]). The view box is in CSS
// pixels and text is never scaled. Paint is a class of package look, geometry is an attribute:
// no style anywhere, so that a strict content security policy holds. All text is escaped, and the
// width of text is judged without fonts, so that no label lies on another or leaves the drawing.
//
// A drawing never supplies a number of its own. What cannot be drawn (a NaN, a level that nobody
// gave) is left out and said so; it is never guessed into ink.
package draw
