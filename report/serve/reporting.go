package serve

import (
	"io"
	"net/http"
	"path"
	"path/filepath"
	"regexp"

	"traygauge/report/fromfolder"
	"traygauge/report/serve/web"
)

// reportKinds are the files of a report that are handed out.
var reportKinds = map[string]string{
	".csv": "text/csv; charset=utf-8", ".json": "application/json", ".html": "text/html; charset=utf-8", ".png": "image/png",
	".xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}

// plainFile is a name that stays in its folder.
var plainFile = regexp.MustCompile(`^[A-Za-z0-9_-]+\.[a-z]+$`)

// sandboxed lets the report's page be looked at and do nothing to this server.
const sandboxed = "sandbox allow-scripts allow-downloads; default-src 'none'; img-src 'self' data:; style-src 'unsafe-inline'; script-src 'unsafe-inline'; frame-ancestors 'none'"

// namesHidden refuses what tells treatments, as long as their names are hidden.
func (s *Server) namesHidden(w http.ResponseWriter, r *http.Request) bool {
	hidden, err := s.namesAreHidden()
	switch {
	case err != nil:
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
	case hidden:
		web.Refuse(w, r, http.StatusConflict, "the report shows treatment names, which are hidden now: show the names first")
	default:
		return false
	}
	return true
}

// writeReport writes the report from what is measured and corrected now.
func (s *Server) writeReport(w http.ResponseWriter, r *http.Request) {
	if s.namesHidden(w, r) {
		return
	}
	s.report.Lock()
	defer s.report.Unlock()
	written, err := fromfolder.Write(s.o.Dir, s.o.Version, fromfolder.Options{}, io.Discard)
	if err != nil {
		web.Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	names := []string{}
	for _, file := range written.Files {
		if name := filepath.Base(file); reportKinds[path.Ext(name)] != "" {
			names = append(names, name)
		}
	}
	web.Answer(w, r, map[string][]string{"files": names})
}

// reportFile answers with a file of the report.
func (s *Server) reportFile(w http.ResponseWriter, r *http.Request) {
	if s.namesHidden(w, r) {
		return
	}
	name := r.PathValue("file")
	kind := reportKinds[path.Ext(name)]
	if kind == "" || !plainFile.MatchString(name) {
		web.Refuse(w, r, http.StatusNotFound, "the report has no such file")
		return
	}
	if path.Ext(name) == ".html" {
		w.Header().Set("Content-Security-Policy", sandboxed)
	} else {
		w.Header().Set("Content-Disposition", `attachment; filename="`+name+`"`)
	}
	serveFile(w, r, filepath.Join(s.o.Dir, "report", name), kind)
}
