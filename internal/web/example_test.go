package web_test

import (
	"context"
	"fmt"
	"net/http/httptest"
	"regexp"

	"halfwater/book"
	"halfwater/demo"
	"halfwater/internal/keeper"
	"halfwater/internal/web"
)

// shelf is a book in memory.
type shelf struct{ lines []book.Line }

func (s *shelf) Append(_ context.Context, _ string, lines ...book.Line) error {
	s.lines = append(s.lines, lines...)
	return nil
}

func (s *shelf) Lines(context.Context, string) ([]book.Line, error) { return s.lines, nil }

func Example() {
	pages := web.New(keeper.New(&shelf{}, demo.Clock), "home", web.Options{})
	r := httptest.NewRequest("GET", "http://127.0.0.1/", nil)
	w := httptest.NewRecorder()
	pages.ServeHTTP(w, r)
	fmt.Println(w.Code, regexp.MustCompile(`<h1>(.*?)</h1>`).FindStringSubmatch(w.Body.String())[1])
	// Output:
	// 200 Write down what you know
}
