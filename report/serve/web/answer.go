// Package web writes responses: pages and their files, JSON, and errors that scripts and people can read.
//
//	in    requests, what to show or why not
//	out   HTML by its templates, scripts and style sheets, JSON
//
// It must not depend on trials or on who sent the request.
package web

import (
	"encoding/json"
	"errors"
	"io"
	"net/http"
)

// Answer sends v as JSON.
func Answer(w http.ResponseWriter, r *http.Request, v any) {
	text, err := json.Marshal(v)
	if err != nil {
		Refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write(text)
}

// Refuse says what is wrong and, after a colon, what to do: to a script as JSON, to a person as a page.
func Refuse(w http.ResponseWriter, r *http.Request, status int, words string) {
	RefuseWith(w, r, status, words, nil)
}

// RefuseWith adds what a script goes by.
func RefuseWith(w http.ResponseWriter, r *http.Request, status int, words string, more map[string]any) {
	if wantsPage(r) {
		refusePage(w, r, status, words)
		return
	}
	problem := map[string]any{"problem": words}
	for name, value := range more {
		problem[name] = value
	}
	text, err := json.Marshal(problem)
	if err != nil {
		text = []byte(`{"problem":"the answer could not be written"}`)
	}
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	w.Write(text)
}

// mostJSON is more than any page sends.
const mostJSON = 64 << 10

// Take reads what a page sent into v; what is no such thing is refused.
func Take(w http.ResponseWriter, r *http.Request, v any) bool {
	dec := json.NewDecoder(http.MaxBytesReader(w, r.Body, mostJSON))
	dec.DisallowUnknownFields()
	err := dec.Decode(v)
	if err == nil {
		if _, more := dec.Token(); !errors.Is(more, io.EOF) {
			err = errors.New("something follows it")
		}
	}
	if err != nil {
		Refuse(w, r, http.StatusBadRequest, "the request could not be read, so nothing was done ("+err.Error()+"): reload the page")
	}
	return err == nil
}
