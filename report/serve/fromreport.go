package serve

import (
	"html/template"
	"net/http"
	"path"
	"path/filepath"

	"traygauge/measure/trialdir"
	"traygauge/report/serve/web"
)

// onward leads to another address of this server by itself.
var onward = template.Must(template.New("onward").Parse(`<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<meta http-equiv="refresh" content="0; url={{.}}">
<title>Review</title>
<p><a href="{{.}}">Look at the photo in review</a></p>
</html>
`))

// fromReport answers the report page's links to photos and overlays. That page is sandboxed, so a browser brings no cookie along its links, and no one would be
// let in: a page of our own, which says nothing of the trial, asks again.
func (s *Server) fromReport(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_ = onward.Execute(w, "/shown"+r.URL.EscapedPath()) // an error is a visitor who went away
}

// shown leads to review with the photo that lies, or whose overlay lies, at a path below the trial's folder. Such a path may tell the treatment.
func (s *Server) shown(w http.ResponseWriter, r *http.Request) {
	if s.namesHidden(w, r) {
		return
	}
	asked := r.PathValue("file")
	photo, err := s.measured(func(photo string) bool {
		return asked == path.Join(trialdir.PhotosFolder, photo) || asked == path.Join(trialdir.OverlaysFolder, filepath.Base(trialdir.OverlayPath(s.o.Dir, photo)))
	})
	if err != nil {
		web.Refuse(w, r, http.StatusNotFound, "this photo no longer exists: write the report again")
		return
	}
	http.Redirect(w, r, "/review#"+idOf(photo), http.StatusSeeOther)
}
