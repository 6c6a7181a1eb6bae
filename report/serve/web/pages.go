package web

import (
	"bytes"
	"embed"
	"html/template"
	"net/http"
	"path"
	"strings"
)

//go:embed pages
var files embed.FS

var pages = template.Must(template.ParseFS(files, "pages/*.html"))

// ShowPage fills in a page's template.
func ShowPage(w http.ResponseWriter, status int, name string, data any) {
	var out bytes.Buffer
	if err := pages.ExecuteTemplate(&out, name, data); err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	out.WriteTo(w)
}

// kinds of the files that pages load.
var kinds = map[string]string{".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".svg": "image/svg+xml"}

// Static answers with a style sheet, a script or a drawing.
func Static(w http.ResponseWriter, r *http.Request) { sendFile(w, r, path.Base(r.PathValue("file"))) }

// OfflineScript answers with the script that keeps the feeding-day page available. It is at the top, as it only serves what is below it.
func OfflineScript(w http.ResponseWriter, r *http.Request) { sendFile(w, r, "offline.js") }

func sendFile(w http.ResponseWriter, r *http.Request, name string) {
	kind := kinds[path.Ext(name)]
	text, err := files.ReadFile("pages/" + name)
	if err != nil || kind == "" {
		Refuse(w, r, http.StatusNotFound, "there is nothing at this address")
		return
	}
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "no-cache")
	w.Write(text)
}

// wantsPage reports whether someone will read the answer: a browser that goes to an address says that it wants HTML, a script does not.
func wantsPage(r *http.Request) bool { return strings.Contains(r.Header.Get("Accept"), "text/html") }

// refusePage says in words what is wrong, with a way on.
func refusePage(w http.ResponseWriter, r *http.Request, status int, words string) {
	way := "/"
	if status == http.StatusUnauthorized || r.URL.Path == "/enter" {
		way = "/enter"
	}
	what, remedy, _ := strings.Cut(words, ": ")
	ShowPage(w, status, "refused.html", struct{ What, Remedy, Way string }{sentence(what), sentence(remedy), way})
}

// sentence begins with a capital and ends with a full stop.
func sentence(words string) string {
	if words == "" {
		return ""
	}
	return strings.ToUpper(words[:1]) + words[1:] + "."
}
