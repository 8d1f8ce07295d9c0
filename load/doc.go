// Package load reckons what is put into the water: nitrogen, phosphorus, organic carbon and the
// oxygen that they will ask for, from feed, stock, droppings, drowned insects, carcasses, leaf, wood
// and the drainage of the land.
//
// Every amount is a [Doubt]: a median with 5 % and 95 % quantiles, because a keeper's pinch of food
// is no weighing and a lizard's droppings may land on either side. [CourseOf] turns the lines of a
// book into stretches of time with so many mg N a day; a habit ("0.3 g of dry food a day") holds until
// the next line of its kind. The stoichiometry of what follows, from nitrogen to nitrate and the
// alkalinity and oxygen that it costs, stands in stoichiometry.go.
//
// What it does not know: how much plants take up and what the bed gives off as gas. Those show only
// in the enclosure's own readings; package infer learns the net of it.
//
// Works: Timmons & Ebeling (0.092 of the protein fed becomes TAN), feed tables and common practice;
// each number stands in constants.txt with its source.
package load
