package serve

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"html/template"
	"io"
	"net/http"
	"path"
)

//go:embed pages
var files embed.FS

var pages = template.Must(template.ParseFS(files, "pages/*.html"))

// page answers with one of the two pages, which carries its session's token.
func (s *Server) page(name string) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var out bytes.Buffer
		err := pages.ExecuteTemplate(&out, name, struct {
			Token  string
			Plain  bool // open to the network and not encrypted
			Phones bool
		}{s.door.token(r), s.o.LAN && !s.o.Secure, s.o.LAN})
		if err != nil {
			refuse(w, http.StatusInternalServerError, err.Error())
			return
		}
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		out.WriteTo(w)
	}
}

// static answers with a style sheet or a script.
func static(w http.ResponseWriter, r *http.Request) {
	name := path.Base(r.PathValue("file"))
	var kind string
	switch path.Ext(name) {
	case ".js":
		kind = "text/javascript; charset=utf-8"
	case ".css":
		kind = "text/css; charset=utf-8"
	case ".svg":
		kind = "image/svg+xml"
	default:
		http.NotFound(w, r)
		return
	}
	text, err := files.ReadFile("pages/" + name)
	if err != nil {
		http.NotFound(w, r)
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "no-cache")
	w.Write(text)
}

// answer sends v as JSON.
func answer(w http.ResponseWriter, status int, v any) {
	text, err := json.Marshal(v)
	if err != nil {
		refuse(w, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(text)
}

// refuse says what is wrong and what to do.
func refuse(w http.ResponseWriter, status int, words string) {
	text, _ := json.Marshal(map[string]string{"problem": words}) // a map of strings always can
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(text)
}

// mostJSON is more than any page sends.
const mostJSON = 64 << 10

// take reads what a page sent into v; what is no such thing is refused.
func take(w http.ResponseWriter, r *http.Request, v any) bool {
	dec := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostJSON))
	dec.DisallowUnknownFields()
	err := dec.Decode(v)
	if err == nil {
		if _, more := dec.Token(); !errors.Is(more, io.EOF) {
			err = errors.New("something follows it")
		}
	}
	if err != nil {
		refuse(w, http.StatusBadRequest, "this could not be read and nothing was done ("+err.Error()+"): load the page again")
	}
	return err == nil
}
