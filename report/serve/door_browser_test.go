package serve

import "testing"

// A phone comes in over the computer's number on the network, where browsers send less about a request than they do on localhost: with the
// code typed, and by the QR code's link.
func TestAPhoneGetsIn(t *testing.T) {
	for name, browser := range map[string]func(*testing.T, string) window{"chromium": func(t *testing.T, n string) window { return chromium(t, n) }, "firefox": firefox} {
		t.Run(name, func(t *testing.T) {
			w := browser(t, name)
			r := serveTrial(t, trialWith(t, feedingTrial), func(o *Options) { o.LAN = true })
			w.phoneSize()
			w.open(r.lanURL() + "/")
			w.write("#code", r.server.Code().Typed)
			w.press("form", "Continue")
			w.says("#missing", "photos of roots: all 8 trays")
		})
	}
}
