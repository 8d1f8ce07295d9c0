// Package web serves the pages: routes, handlers and one struct per page. It works without scripts,
// under a strict content security policy ([Policy]), at 360 px and with wet hands.
//
// Every page embeds [Base] and is set into the frame of page/base/base.tmpl: the enclosure's name
// above the waterline, the emergency button, the page, and all pages again at the foot, where a
// phone finds them. A page's template defines "main". The table of addresses is in web.go; a handler
// parses, asks the keeper, shows a page, and returns its error, which becomes a page too: one function
// maps a fault to its status. What was typed is never lost: a refused form comes back with everything
// in it and the fault beside its field.
//
// The pages answer only to names of this machine, take no form from another site, and say in their
// headers that nothing may be loaded from elsewhere. There is no log-in yet.
package web
