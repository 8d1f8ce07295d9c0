package web

import (
	"bytes"
	"html/template"
	"log/slog"
	"net"
	"net/http"
	"time"

	"halfwater/internal/keeper"
	"halfwater/internal/say"
)

// site is the pages of one enclosure.
type site struct {
	keeper *keeper.Keeper
	id     string
	Options
}

// Options are what the pages are told besides the book.
type Options struct {
	Demo     bool          // the enclosure is invented and the clock stands
	Version  string        // of the program: what stands beside an outlook that is kept
	Patience time.Duration // after which a page says that it is at work; 0 is half a second
}

// handler parses, calls, answers, and returns its error.
type handler func(http.ResponseWriter, *http.Request) error

// route is one line of the table of addresses.
type route struct {
	pattern string
	answer  handler
}

// routes is the table: every address that there is.
func (s *site) routes() []route {
	return []route{
		{"GET /{$}", s.showToday},
		{"GET /sheet", s.showSheet},
		{"GET /sheet/print", s.showPaper},
		{"GET /water", s.showWater},
		{"GET /outlook", s.showOutlook},
		{"POST /outlook", s.keepOutlook},
		{"GET /reading", s.showReading},
		{"POST /reading", s.takeReading},
		{"POST /line", s.writeLine},
		{"GET /kept", s.showKept},
		{"GET /book", s.showBook},
		{"GET /book/line", s.showLine},
		{"POST /book/line", s.doubtLine},
		{"GET " + emergencyAddress, s.showEmergency},
		{"GET " + emergencyAddress + ".html", s.keepEmergency},
		{"GET " + sheetAsset.address, sheetAsset.serve},
		{"GET " + iconAsset.address, iconAsset.serve},
		{"/", s.noPage},
	}
}

// largestForm is the most that a form may send, in bytes.
const largestForm = 64 << 10

// New answers the pages of one enclosure.
func New(k *keeper.Keeper, enclosureID string, o Options) http.Handler {
	s := &site{k, enclosureID, o}
	mux := http.NewServeMux()
	for _, r := range s.routes() {
		mux.Handle(r.pattern, s.answered(r.answer))
	}
	return guarded(http.NewCrossOriginProtection().Handler(mux))
}

// Server is an HTTP server for the pages that waits for nobody for ever.
func Server(h http.Handler) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       15 * time.Second,
		WriteTimeout:      30 * time.Second,
		IdleTimeout:       2 * time.Minute,
		MaxHeaderBytes:    32 << 10,
	}
}

// guarded sets what holds for every answer, and answers only to names of this machine: a page from
// elsewhere that has its own name point here is not let in.
func guarded(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", Policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if !loopback(r.Host) {
			http.Error(w, say.Sentence("door.other-host", nil), http.StatusMisdirectedRequest)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, largestForm)
		next.ServeHTTP(w, r)
	})
}

// loopback reports whether a host, with or without a port, is this machine itself.
func loopback(host string) bool {
	name, _, err := net.SplitHostPort(host)
	if err != nil {
		name = host
	}
	if n := len(name); n > 2 && name[0] == '[' && name[n-1] == ']' {
		name = name[1 : n-1]
	}
	ip := net.ParseIP(name)
	return name == "localhost" || ip != nil && ip.IsLoopback()
}

// answered answers with a handler; its error becomes a page that says what happened.
func (s *site) answered(h handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		err := h(w, r)
		if err == nil {
			return
		}
		if err = s.showFault(w, r, err); err != nil {
			slog.ErrorContext(r.Context(), "answer", "path", r.URL.Path, "err", err)
		}
	})
}

// show writes a page, whole or not at all.
func show(w http.ResponseWriter, status int, t *template.Template, page any) error {
	var b bytes.Buffer
	if err := t.ExecuteTemplate(&b, "base", page); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, err := w.Write(b.Bytes())
	return err
}

// base is the frame of a page of the enclosure by its book.
func (s *site) base(l keeper.Standing, title string) Base {
	b := s.bare(title)
	b.Enclosure, b.When = l.Name(), say.Day(l.At)
	b.Home, b.Pages = "/", Pages(title)
	b.Foot = say.Sentence("door.foot", footFacts(l))
	return b
}

// bare is the frame when nothing is known of the enclosure.
func (s *site) bare(title string) Base {
	b := Base{Title: title, Sheet: sheetAsset.address, Icon: iconAsset.address, Emergency: emergencyAddress}
	if s.Demo {
		b.Notice = say.Sentence("door.demo", s.keeper.Now())
	}
	return b
}

type foot struct {
	Lines int
	Since string
}

func footFacts(l keeper.Standing) foot {
	f := foot{Lines: len(l.Lines)}
	if len(l.Lines) > 0 {
		f.Since = l.Lines[0].At.In(l.At.Location()).Format("2 January 2006")
	}
	return f
}
