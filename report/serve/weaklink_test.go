package serve

import (
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
)

// weakLink is a connection as in a greenhouse. While it is weak every fourth part of a photo breaks off half way, and the answer to each
// second feeding is lost; while it is cut nothing goes through, or nothing from phones.
type weakLink struct {
	weak           atomic.Bool
	cut, phonesCut atomic.Bool
	puts, feedings atomic.Int32
}

func (l *weakLink) around(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case l.cut.Load() || l.phonesCut.Load() && strings.HasPrefix(r.Host, lanNumber):
			panic(http.ErrAbortHandler)
		case l.weak.Load() && r.Method == "PUT" && l.puts.Add(1)%4 == 2:
			r.Body = io.NopCloser(io.LimitReader(r.Body, r.ContentLength/2))
			next.ServeHTTP(httptest.NewRecorder(), r)
			panic(http.ErrAbortHandler)
		case l.weak.Load() && r.URL.Path == "/api/fed" && l.feedings.Add(1)%2 == 1:
			next.ServeHTTP(httptest.NewRecorder(), r)
			panic(http.ErrAbortHandler)
		}
		next.ServeHTTP(w, r)
	})
}
