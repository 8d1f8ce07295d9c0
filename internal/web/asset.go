package web

import (
	"crypto/sha256"
	"encoding/hex"
	"io/fs"
	"net/http"
	"path"
	"strings"

	"halfwater/internal/look"
)

// asset is a file that never changes under its address, because the address names its content.
type asset struct {
	address, kind string
	body          []byte
}

// addressed gives a content an address with its digest: /asset/halfwater-1f2e3d4c5b6a.css.
func addressed(name, ending, kind, body string) asset {
	sum := sha256.Sum256([]byte(body))
	return asset{"/asset/" + name + "-" + hex.EncodeToString(sum[:6]) + ending, kind, []byte(body)}
}

// styles are the house's style sheet and what the pages add to it, print last because it takes back.
func styles() string {
	var screen, paper strings.Builder
	files, err := fs.Glob(pageFiles, "page/*/*.css")
	if err != nil {
		panic("web: " + err.Error()) // a fault of the program, seen at start
	}
	for _, name := range files {
		text, err := pageFiles.ReadFile(name)
		if err != nil {
			panic("web: " + err.Error())
		}
		if strings.HasPrefix(path.Base(name), "paper") {
			paper.Write(text)
		} else {
			screen.Write(text)
		}
	}
	return look.CSS() + screen.String() + paper.String()
}

// levelMark is the sign of the house: a triangle standing on a line, with three shortening strokes.
const levelMark = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><rect width="32" height="32" fill="#fbfcfa"/>` +
	`<path d="M7 4h18l-9 12Z" fill="#0b4a63"/><path d="M2 17.5h28M7 22h18M10 26h12M13.5 30h5" stroke="#0b4a63" stroke-width="2.4"/></svg>`

var (
	sheetAsset = addressed("halfwater", ".css", "text/css; charset=utf-8", styles())
	iconAsset  = addressed("mark", ".svg", "image/svg+xml", levelMark)
)

func (a asset) serve(w http.ResponseWriter, _ *http.Request) error {
	w.Header().Set("Content-Type", a.kind)
	w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	_, err := w.Write(a.body)
	return err
}
