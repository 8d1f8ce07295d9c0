// Package halfwater is the map of the program: where each idea lives and what it follows.
//
// A keeper's book of dated lines goes in; what the water is now, what to pour back and the work
// sheet of a visit come out. The book is the only truth; everything else is computed from it.
//
//	idea                                   package              page or command
//	a quantity, its unit and basis         quantity             everywhere
//	the works behind the numbers           cite                 halfwater constants
//	ions, pH, CO2, conductivity, blends    water                halfwater water
//	air, evaporation, heat, light          climate              emergency
//	what animals need and give off         husbandry            stock, lines, tiers
//	the usual warnings                     caution              every sheet
//	what a shown value says                kit                  take a reading
//	basin, levels, held water, sources     enclosure            today
//	what pouring does                      change               work sheet
//	what happened                          book                 the book
//	nitrogen and oxygen demand put in      load                 the water now
//	how the water changes                  dynamics             the water now, outlook
//	what the water is now                  infer                the water now
//	which histories the readings bear      infer/fit            halfwater learnt
//	who is to blame for what does not fit  infer/blame          the water now
//	the pour, the service, the sheet       plan                 work sheet
//	what comes, and how that held          plan                 outlook
//	first acts, hours left without power   emergency            halfwater emergency, emergency
//
// At the edge: internal/keeper is what a keeper can do through any door; internal/store keeps the
// book on SQLite; internal/files reads and writes the open files, internal/waterfile tables of
// waters; internal/say holds every sentence; internal/look and internal/draw the look;
// internal/report the sheets as text and JSON; internal/web the pages; cmd/halfwater the commands;
// demo the invented enclosures, as files.
//
// Imports point inward only; internal/arch holds the rows and tests them. The words of the program
// are in doc/words.md.
package halfwater
