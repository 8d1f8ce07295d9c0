// Package dynamics is how the water of an enclosure changes: what is put in, what rots, what bacteria,
// plants and the air do with it, and what pouring water in and out does.
//
// A [State] holds amounts. A [Course] is the book turned into stretches of even forcing and exact
// events. [Params] are the own constants of one enclosure, each with its prior; [Deviations] are what
// one history has beside them, week by week. [Course.Run] carries a state through a course, positive
// and conserving, in a few microseconds a day; [Course.Reference] does the same tightly and slowly,
// and is what Run is tested against.
//
//	course, err := dynamics.Compile(lines, dynamics.Window{From: begun, To: now})
//	p, d := dynamics.Book(), course.Deviations()
//	now := course.Run(&p, &d, start, course.Days, nil, nil, dynamics.Careful)
//
// # Model
//
// Every process is a named value with its law and its works ([Processes]): waste and mulm in two pools,
// two ammonia guilds and a nitrite guild per filter stage and elsewhere, plants, denitrification,
// stone and peat, organic carbon and activated carbon, binders and chloramine, oxygen, carbon dioxide
// on its way back to rest, evaporation, warming, a surface film. Nitrogen, phosphorus, each ion and the
// charge are conserved by construction: every flux is computed once and handed on.
//
// # Limits
//
// One well mixed water. The state is the mean of the day: for the hour see [Course.AtHour]. Nitrifiers
// are not limited by area. Plants take up net, in proportion to no mass of their own. Nothing
// precipitates. Rates are judgement or from memory for the most part, as their table says.
package dynamics
