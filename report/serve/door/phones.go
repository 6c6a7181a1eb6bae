package door

import (
	"net/http"
	"strings"
	"time"

	"github.com/skip2/go-qrcode"

	"traygauge/report/serve/web"
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

// Phones answers with the code and the phones.
func (d *Door) Phones(w http.ResponseWriter, r *http.Request) {
	l := letIn{LAN: d.o.LAN, Links: []string{}, QR: [][]bool{}, Phones: []letPhone{}, Guessers: d.codes.guessers()}
	for _, p := range d.sessions.in() {
		l.Phones = append(l.Phones, letPhone{p.Key, p.Name, p.Address, p.Since, p.Used.Truncate(time.Minute), p.Owner, p.Key == VisitorOf(r).Key})
	}
	if d.o.LAN {
		code := d.codes.current()
		l.Code = code.Typed[:codeLength/2] + "-" + code.Typed[codeLength/2:]
		if d.o.Links != nil {
			l.Links = d.o.Links()
		}
		if d.o.OwnAuthority && len(l.Links) > 0 {
			l.Trust = strings.Replace(l.Links[0], "https:", "http:", 1)
		}
		if len(l.Links) > 0 {
			if qr, err := qrcode.New(EnterLink(l.Links[0], code), qrcode.Medium); err == nil {
				l.QR = qr.Bitmap()
			}
		}
	}
	web.Answer(w, r, l)
}

// EnterLink is the address under which a phone comes in by a code. The code is behind "#", which browsers send to no one.
func EnterLink(page string, code Code) string { return page + "enter#" + code.Secret }

// OwnerLink is the address under which the computer's own browser comes in.
func (d *Door) OwnerLink(page string) string { return page + "enter?computer#" + d.codes.owner }

// LetOut ends a phone's session.
func (d *Door) LetOut(w http.ResponseWriter, r *http.Request) {
	var want struct {
		Key string `json:"key"`
	}
	if !web.Take(w, r, &want) {
		return
	}
	web.Answer(w, r, map[string]bool{"done": d.sessions.letOut(want.Key)})
}

// mostName is the longest name of a phone, in bytes.
const mostName = 60

// NamePhone gives a phone a name, such as its owner's.
func (d *Door) NamePhone(w http.ResponseWriter, r *http.Request) {
	var want struct {
		Key  string `json:"key"`
		Name string `json:"name"`
	}
	if !web.Take(w, r, &want) {
		return
	}
	name := strings.Join(strings.Fields(want.Name), " ")
	if name == "" || len(name) > mostName {
		web.Refuse(w, r, http.StatusBadRequest, "enter a short name for the phone")
		return
	}
	web.Answer(w, r, map[string]bool{"done": d.sessions.rename(want.Key, name)})
}
