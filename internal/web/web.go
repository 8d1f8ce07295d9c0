package web

import (
	"net/http"

	"halfwater/internal/keeper"
)

// New answers the pages of one enclosure.
func New(k *keeper.Keeper, enclosureID string, demo bool) http.Handler {
	return http.NotFoundHandler()
}
