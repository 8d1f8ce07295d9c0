package main

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"time"

	"halfwater/internal/keeper"
	"halfwater/internal/say"
	"halfwater/internal/web"
)

type serveCmd struct {
	Addr string `help:"Where to listen; loopback only until there is a log-in." default:"127.0.0.1:8417"`
}

// Help is printed below the flags.
func (serveCmd) Help() string {
	return `Example:
  halfwater serve
  halfwater serve --addr 127.0.0.1:0     (any free port; the address is printed)`
}

// Run serves until it is told to stop.
func (c *serveCmd) Run(w *world) error {
	s, k, err := w.open()
	if err != nil {
		return err
	}
	defer s.Close()
	return serve(w, k, c.Addr, web.Options{Version: version})
}

// serve listens on loopback and answers until the context ends.
func serve(w *world, k *keeper.Keeper, addr string, o web.Options) error {
	if err := loopback(addr); err != nil {
		return err
	}
	l, err := net.Listen("tcp", addr)
	if err != nil {
		return &keeper.Fault{Kind: keeper.Bad, Field: "addr", Say: say.Sentence("door.no-listen", addr), Err: err}
	}
	srv := web.Server(web.New(k, w.id, o))
	fmt.Fprintln(w.out, say.Sentence("door.serving", l.Addr().String()))
	done := make(chan error, 1)
	go func() { done <- srv.Serve(l) }()
	select {
	case err = <-done:
	case <-w.ctx.Done():
		stop, cancel := context.WithTimeout(context.Background(), 5*time.Second)
		defer cancel()
		err = srv.Shutdown(stop)
	}
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// loopback refuses an address that another machine could reach: there is no log-in yet.
func loopback(addr string) error {
	host, _, err := net.SplitHostPort(addr)
	if err == nil {
		if ip := net.ParseIP(host); host == "localhost" || (ip != nil && ip.IsLoopback()) {
			return nil
		}
	}
	return &keeper.Fault{Kind: keeper.Bad, Field: "addr", Say: say.Sentence("door.loopback", addr)}
}
