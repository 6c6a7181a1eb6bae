package serve

import (
	"fmt"
	"strings"
	"testing"

	"traygauge/vision/card"
)

// browsers are those that are tried. Each takes its own way to reach lanNumber, which is no loopback address, so that they send what
// they send on a local network: less than on localhost.
var browsers = map[string]func(*testing.T, string) window{
	"chromium": func(t *testing.T, name string) window { return chromium(t, name) },
	"firefox":  firefox,
}

// A phone comes in over the computer's number on the network: with the code typed, and by the QR code's link. What is wrong is said in words.
func TestAPhoneGetsIn(t *testing.T) {
	for name, browser := range browsers {
		t.Run(name, func(t *testing.T) {
			w := browser(t, name)
			r := serveTrial(t, trialWith(t, feedingTrial), lan)
			w.phoneSize()
			w.open(r.lanURL() + "/")
			w.says("main", "Code on the computer’s screen")
			w.looksOnPhone("enter")
			w.phoneSize()
			w.write("#code", "ABCD-EFGH")
			w.press("form", "Continue")
			w.says("main", "This code is wrong or already used.")
			w.looksOnPhone("wrong-code")
			w.phoneSize()
			code := r.server.Code().Typed
			w.write("#code", strings.ToLower(code[:4]+"-"+code[4:]))
			w.press("form", "Continue")
			w.says("#missing", "photos of roots: all 8 trays")
			w.says("main", "The connection is not encrypted")
			w.says("main", "because it cannot be opened again without a connection")

			putOut(r)
			w.open("about:blank")
			next := r.server.Code()
			w.open(r.lanURL() + "/enter#" + next.Secret)
			w.says("#missing", "photos of roots: all 8 trays")
			if at := eval[string](w, `location.href + " " + document.cookie`); strings.Contains(at, next.Secret) || strings.Contains(at, "traygauge-") {
				t.Errorf("scripts and the address see %s", at)
			}
			w.open(r.lanURL() + "/nowhere")
			w.says("main", "There is nothing at this address.")
			w.looksOnPhone("refused")
			w.phoneSize()
			w.press("main", "To the trial’s page")
			w.says("#missing", "photos of roots: all 8 trays")
		})
	}
}

// Too many wrong codes count down on the phone that sent them.
func TestTooManyWrongCodesInABrowser(t *testing.T) {
	w := chromium(t, "guesser")
	r := serveTrial(t, trialWith(t, feedingTrial), lan)
	w.phoneSize()
	w.open(r.lanURL() + "/enter")
	for range 5 {
		w.write("#code", "ABCDEFGH")
		w.press("form", "Continue")
		w.says("main", "This code is wrong or already used.")
		w.open(r.lanURL() + "/enter")
	}
	w.write("#code", "ABCDEFGH")
	w.press("form", "Continue")
	w.says("main", "Too many wrong codes from this address.")
	w.says("form button", "Wait ")
	w.looksOnPhone("too-many")
}

// The computer's own page shows the code and who is in; a code that is used is replaced on it, and a phone that is let out hears of it at once
// and loses nothing that it holds.
func TestThePhonesPage(t *testing.T) {
	own, phone := chromium(t, "own"), chromium(t, "phone")
	r := serveTrial(t, trialWith(t, feedingTrial), func(o *Options) {
		o.LAN, o.Links = true, func() []string { return []string{"http://192.168.77.7:8510/"} }
	})
	own.size(1280, 900, "light")
	own.open(r.server.OwnerLink(r.url() + "/"))
	code := r.server.Code()
	own.says("#next .code", code.Typed[:4]+"-"+code.Typed[4:])
	own.looks("phones", 1280, 900)
	own.looksOnPhone("phones")
	phone.phoneSize()
	phone.open(r.lanURL() + "/enter#" + code.Secret)
	phone.says("#missing", "photos of roots")
	next := r.server.Code()
	own.says("#next .code", next.Typed[:4]+"-"+next.Typed[4:])
	own.says("#in", "Unpair")
	own.looks("phones-two", 1280, 900)

	r.link.phonesCut.Store(true)
	phone.press("#tray-4", "Mark as fed")
	phone.press("#feeding", "Save feeding")
	phone.says("#stored", "Only on this phone: 1 feeding")
	own.press("#in", "Unpair")
	if !own.until(`document.querySelectorAll("#in li").length === 1`) {
		t.Error("it is still listed")
	}
	r.link.phonesCut.Store(false)
	phone.says("#stored", "1 feeding")
	phone.says("main", "This phone is not paired with the trial")
	phone.says("main", "Photos and feedings on this phone are kept")
	if n := eval[int](phone, `document.querySelectorAll(".problem").length`); n != 1 {
		t.Errorf("it is said %d times", n)
	}
	phone.looksOnPhone("let-out")
	phone.phoneSize()
	phone.press("main", "Enter a code")
	phone.says("main", "Code on the computer’s screen")
	phone.open("about:blank")
	phone.open(r.lanURL() + "/enter#" + r.server.Code().Secret)
	phone.says("#tray-4", "Fed at 09:4")
}

// What is refused is said with what to do, and nothing is entered unasked.
func TestTroubleInABrowser(t *testing.T) {
	w := chromium(t, "trouble")
	r := serveTrial(t, trialWith(t, feedingTrial), lan)
	w.phoneSize()
	w.open(r.lanURL() + "/enter#" + r.server.Code().Secret)
	w.says("#missing", "photos of roots: all 8 trays")
	w.hashes()
	notes := t.TempDir() + "/notes.jpg"
	writeFile(t, notes, []byte("no photo at all"))
	w.choose("#pick", func() { w.press("#album", "From album") }, notes)
	w.says("#sheet", "1 not stored")
	w.press("#sheet footer", "Close")
	w.says("#queue", "Photo not stored: the file is not a photo in a known format")
	w.press("#tray-3", "Mark as fed")
	other := letInto(r)
	other.enters(fedAt(3, -60, 1000, 2), 200) // somebody else was quicker
	w.press("#feeding", "Save feeding")
	w.says("#queue", "Feeding of tray 3 not stored: tray 3 was already fed on that day, at 08:40 (1000 mL in total, 2 mL base feed).")
	w.says("#stored", "Not stored: 1 photo and 1 feeding")
	w.looksOnPhone("not-stored")
	w.phoneSize()
	w.press("#queue", "Discard this feeding")
	w.says("#stored", "Not stored: 1 photo. See below.")
	if log := logOf(t, r.dir); strings.Count(log, "\n") != 0 {
		t.Errorf("the log holds\n%s", log)
	}
	w.press("#queue", "Discard this photo")
	w.says("#stored", "Everything is stored.")

	var held []func()
	for n := 0; ; n++ {
		done, err := r.server.inbox.Receive(fmt.Sprint("another phone ", n))
		if err != nil {
			break
		}
		held = append(held, done)
	}
	photo := t.TempDir() + "/photo.jpg"
	writeFile(t, photo, photoOf(t, card.Roots, 4))
	w.photograph("#tray-4 .shot", "Roots", photo)
	w.says("#sheet", "Waiting: many phones are sending at the moment.")
	w.says("#stored", "Only on this phone: 1 photo. Waiting: many phones are sending at the moment.")
	w.looksOnPhone("waiting")
	w.phoneSize()
	for _, done := range held {
		done()
	}
	w.says("#sheet", "Good. Put it back.")
}
