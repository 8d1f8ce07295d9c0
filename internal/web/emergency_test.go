package web_test

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// A phone that kept the file more than a week ago is offered a newer one: by the link in the file, or
// by what the download left behind.
func TestNewerEmergencyFileIsOffered(t *testing.T) {
	e := riverbank(t) // its clock stands at 22 November 2026
	for address, offered := range map[string]bool{
		"/emergency": false, "/emergency?kept=2026-11-20": false, "/emergency?kept=2026-11-10": true, "/emergency?kept=soon": false,
	} {
		w := e.get(address)
		if w.Code != http.StatusOK || strings.Contains(w.Body.String(), "Keep a newer one") != offered {
			t.Errorf("%s answers %d; a newer file should be offered: %t", address, w.Code, offered)
		}
	}
	file := e.get("/emergency.html")
	if !strings.Contains(file.Body.String(), "/emergency?kept=2026-11-22") {
		t.Error("the file does not say its day to the live page")
	}
	cookies := (&http.Response{Header: file.Header()}).Cookies()
	if len(cookies) != 1 || cookies[0].Value != "2026-11-22" || !cookies[0].HttpOnly {
		t.Fatalf("left behind: %v", cookies)
	}
	for day, offered := range map[string]bool{"2026-11-22": false, "2026-10-01": true} {
		r := httptest.NewRequest("GET", "http://127.0.0.1/emergency", nil)
		r.AddCookie(&http.Cookie{Name: cookies[0].Name, Value: day})
		w := httptest.NewRecorder()
		e.handler.ServeHTTP(w, r)
		if strings.Contains(w.Body.String(), "Keep a newer one") != offered {
			t.Errorf("kept on %s; a newer file should be offered: %t", day, offered)
		}
	}
}
