package serve

import (
	"net/http"
	"strings"
	"time"

	"github.com/skip2/go-qrcode"
)

// letIn is the content of the computer's own page: the code for the next phone, and the phones that are let in.
type letIn struct {
	LAN      bool       `json:"lan"`
	Code     string     `json:"code"`  // to type
	Links    []string   `json:"links"` // addresses of the pages, as phones reach them
	QR       [][]bool   `json:"qr"`    // the first link with the code in it; true is dark
	Phones   []letPhone `json:"phones"`
	Guessers []guesser  `json:"guessers"`
	Trust    string     `json:"trust"` // address of the certificate for new phones; "" if it is not ours
}

type letPhone struct {
	Key     string    `json:"key"`
	Name    string    `json:"name"`
	Address string    `json:"address"`
	Since   time.Time `json:"since"`
	Used    time.Time `json:"used"`
	Owner   bool      `json:"owner"`
	Own     bool      `json:"own"` // who asks
}

// phones answers with the code and the phones.
func (s *Server) phones(w http.ResponseWriter, r *http.Request) {
	l := letIn{LAN: s.o.LAN, Links: []string{}, QR: [][]bool{}, Phones: []letPhone{}, Guessers: s.codes.guessers()}
	for _, p := range s.sessions.in() {
		l.Phones = append(l.Phones, letPhone{p.Key, p.Name, p.Address, p.Since, p.Used.Truncate(time.Minute), p.Owner, p.Key == visitorOf(r).Key})
	}
	if s.o.LAN {
		code := s.codes.current()
		l.Code = code.Typed[:codeLength/2] + "-" + code.Typed[codeLength/2:]
		if s.o.Links != nil {
			l.Links = s.o.Links()
		}
		if s.o.OwnAuthority && len(l.Links) > 0 {
			l.Trust = strings.Replace(l.Links[0], "https:", "http:", 1)
		}
		if len(l.Links) > 0 {
			if qr, err := qrcode.New(EnterLink(l.Links[0], code), qrcode.Medium); err == nil {
				l.QR = qr.Bitmap()
			}
		}
	}
	answer(w, r, l)
}

// EnterLink is the address under which a phone comes in by a code. The code is behind "#", which browsers send to nobody.
func EnterLink(page string, code Code) string { return page + "enter#" + code.Secret }

// OwnerLink is the address under which the computer's own browser comes in.
func (s *Server) OwnerLink(page string) string { return page + "enter?computer#" + s.codes.owner }

// letOut ends a phone's session.
func (s *Server) letOut(w http.ResponseWriter, r *http.Request) {
	var want struct {
		Key string `json:"key"`
	}
	if !take(w, r, &want) {
		return
	}
	answer(w, r, map[string]bool{"done": s.sessions.letOut(want.Key)})
}

// mostName is the longest name of a phone, in bytes.
const mostName = 60

// namePhone gives a phone a name, such as its owner's.
func (s *Server) namePhone(w http.ResponseWriter, r *http.Request) {
	var want struct {
		Key  string `json:"key"`
		Name string `json:"name"`
	}
	if !take(w, r, &want) {
		return
	}
	name := strings.Join(strings.Fields(want.Name), " ")
	if name == "" || len(name) > mostName {
		refuse(w, r, http.StatusBadRequest, "a phone's name is one word or a few")
		return
	}
	answer(w, r, map[string]bool{"done": s.sessions.rename(want.Key, name)})
}
