package serve

import (
	"html/template"
	"net/http"
	"path"
	"path/filepath"

	"traygauge/measure/trialdir"
	"traygauge/report/serve/web"
)

// hop leads on to its second address by itself.
var hop = template.Must(template.New("hop").Parse(`<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<meta http-equiv="refresh" content="0; url={{.}}">
<title>Review</title>
<p><a href="{{.}}">Look at the photo in review</a></p>
</html>
`))

// fromReport answers the report page's links to photos and overlays. That page is sandboxed, so a browser brings no cookie along its links, and nobody would be
// let in: a page of our own, which says nothing of the trial, asks again.
func (s *Server) fromReport(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_ = hop.Execute(w, "/shown"+r.URL.EscapedPath()) // an error is a visitor who went away
}

// shown leads to review with the photo that lies, or whose overlay lies, at a path below the trial's folder.
func (s *Server) shown(w http.ResponseWriter, r *http.Request) {
	asked := r.PathValue("file")
	readings, _ := s.readings.all(s.o.Dir)
	names := trialdir.PhotoNames(s.o.Dir)
	for _, r := range readings {
		names = append(names, r.Photo)
	}
	for _, photo := range names {
		if asked == path.Join("photos", photo) || asked == path.Join("overlays", filepath.Base(trialdir.OverlayPath(s.o.Dir, photo))) {
			http.Redirect(w, r, "/review#"+idOf(photo), http.StatusSeeOther)
			return
		}
	}
	web.Refuse(w, r, http.StatusNotFound, "this photo is no longer there: write the report again")
}
