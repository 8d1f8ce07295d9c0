// Package change is what pouring water in does: at once, tonight and after many weeks.
//
// The closed forms of water change arithmetic come first: [After] n changes, the [Plateau] that a
// routine settles to, the share that a limit asks for ([ShareForPeak]), the creep of minerals by
// top-up ([Creep]), the weeks until a new routine shows ([CyclesToShow]), the warmth of a mix
// ([MixTemperature]). They are mass and heat balances and hold for whatever only mixes: ions,
// hardness, alkalinity, nitrogen. They never hold for pH.
//
// What the pH does is computed by package water in [Mix]: at mixing, closed, from the carbonate
// that both waters bring; within two days, open, at the carbon dioxide that the enclosure or the
// room keeps. Free ammonia is read at both.
//
// [StepCheck] holds a change against what the stock bears in one day, and [Staged] cuts a change
// that is too large into equal steps of what is there.
package change
