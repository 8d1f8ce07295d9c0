// Package web serves the pages: routes, handlers and one struct per page. It works without scripts,
// under a strict content security policy ([Policy]), at 360 px and with wet hands.
//
// Every page embeds [Base] and is set into the frame of page/base/base.tmpl: the enclosure's name
// above the waterline, the emergency button, the page, and all pages again at the foot, where a
// phone finds them. A page's template defines "main".
package web
