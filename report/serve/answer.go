package serve

import (
	"encoding/json"
	"errors"
	"io"
	"net/http"
)

// answer sends v as JSON.
func answer(w http.ResponseWriter, r *http.Request, v any) {
	text, err := json.Marshal(v)
	if err != nil {
		refuse(w, r, http.StatusInternalServerError, err.Error())
		return
	}
	w.Header().Set("Content-Type", "application/json")
	w.Write(text)
}

// refuse says what is wrong and, after a colon, what to do: to a script as JSON, to a person as a page.
func refuse(w http.ResponseWriter, r *http.Request, status int, words string) {
	refuseWith(w, r, status, words, nil)
}

// refuseWith adds what a script goes by.
func refuseWith(w http.ResponseWriter, r *http.Request, status int, words string, more map[string]any) {
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
		refuse(w, r, http.StatusBadRequest, "this could not be read and nothing was done ("+err.Error()+"): load the page again")
	}
	return err == nil
}
