package serve

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"traygauge/report/serve/link"
	"traygauge/vision/card"
)

// trusting returns a folder in which a browser finds that it may trust the authority, as a user would have said it on a phone.
func trusting(t *testing.T, a *link.Authority, below string) (home string) {
	t.Helper()
	certutil, err := exec.LookPath("certutil")
	if err != nil {
		t.Skip("certutil is not installed (Debian: libnss3-tools): no browser can be made to trust a certificate")
	}
	home = t.TempDir()
	base := filepath.Join(home, below)
	if err := os.MkdirAll(base, 0o700); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(home, "traygauge.crt")
	writeFile(t, file, a.PEM())
	for _, args := range [][]string{{"-N", "--empty-password"}, {"-A", "-n", "traygauge", "-t", "C,,", "-i", file}} {
		if out, err := exec.Command(certutil, append([]string{"-d", "sql:" + base}, args...)...).CombinedOutput(); err != nil {
			t.Fatalf("certutil %v: %v %s", args, err, out)
		}
	}
	return home
}

// Over an encrypted link that the phone trusts, the page opens without a connection, takes a photo and a feeding, and hands both over when
// the computer is back. The browsers check the certificate by their own rules.
func TestWithoutAConnection(t *testing.T) {
	for name, browser := range map[string]func(*testing.T, *link.Authority) window{
		"chromium": func(t *testing.T, a *link.Authority) window {
			return chromium(t, "offline", chromedp.Env("HOME="+trusting(t, a, ".pki/nssdb")))
		},
		"firefox": func(t *testing.T, a *link.Authority) window {
			return firefoxWith(t, "offline-firefox", trusting(t, a, "."))
		},
	} {
		t.Run(name, func(t *testing.T) {
			r := serveTrial(t, trialWith(t, feedingTrial), func(o *Options) { o.LAN, o.Secure, o.OwnAuthority = true, true, true })
			w := browser(t, r.tls)
			w.phoneSize()
			w.open(strings.Replace(r.lanURL(), "https", "http", 1) + "/")
			w.says("main", "Download the certificate")
			w.looksOnPhone("trust")
			w.phoneSize()
			w.open(r.lanURL() + "/enter#" + r.server.Code().Secret)
			w.says("#missing", "photos of roots: all 8 trays")
			w.silent("main", "not encrypted")
			if !w.until(`navigator.serviceWorker.ready.then(r => r.active.state === "activated" && caches.open("traygauge-1").then(c => c.match("/")).then(p => p !== undefined))`) {
				t.Fatal("the page is not kept")
			}
			photo := filepath.Join(t.TempDir(), "photo.jpg")
			writeFile(t, photo, photoOf(t, card.Roots, 8))

			r.stop()
			w.open("about:blank")
			w.open(r.lanURL() + "/")
			w.says("#missing", "photos of roots: all 8 trays")
			w.says("#stored", "No connection. Everything so far is stored. Shown as of")
			w.photograph("#tray-8 .shot", "Roots", photo)
			w.says("#sheet", "No connection.")
			w.press("#sheet", "Continue")
			w.press("#tray-8", "Mark as fed")
			w.press("#feeding", "Save feeding")
			w.holds(2)
			w.open("about:blank")
			w.open(r.lanURL() + "/")
			w.says("#stored", "No connection. Only on this phone: 1 photo and 1 feeding")
			w.looksOnPhone("offline")
			w.phoneSize()

			r.start()
			w.says("#stored", "Everything is stored.")
			w.says("#tray-8", "✓ good")
			w.says("#tray-8", "Fed at 09:4")
			if names := photosIn(t, r.dir); len(names) != 1 || !strings.HasPrefix(names[0], "day-10/tray-08-roots-") {
				t.Errorf("stored as %v", names)
			}
			if log := logOf(t, r.dir); strings.Count(log, "feeding") != 1 {
				t.Errorf("the log holds\n%s", log)
			}
			putOut(r)
			w.open(r.lanURL() + "/") // who is let out does not go on with the page that is kept
			w.says("main", "Code on the computer’s screen")
		})
	}
}

// The script that keeps the page available knows all of its parts.
func TestAllPartsAreKept(t *testing.T) {
	script, err := os.ReadFile("web/pages/offline.js")
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	var look func(name string)
	look = func(name string) {
		if seen[name] {
			return
		}
		seen[name] = true
		text, err := os.ReadFile("web/pages/" + name)
		if err != nil {
			t.Fatal(err)
		}
		for _, word := range strings.FieldsFunc(string(text), func(r rune) bool { return strings.ContainsRune("\"'`<> ;()", r) }) {
			if at, ok := strings.CutPrefix(word, "./"); ok && strings.HasSuffix(at, ".js") {
				look(at)
			}
			if at, ok := strings.CutPrefix(word, "/static/"); ok && slices.Contains([]string{".js", ".css", ".svg"}, filepath.Ext(at)) {
				look(at)
			}
		}
	}
	look("today.html")
	delete(seen, "today.html")
	if len(seen) < 8 {
		t.Fatalf("found only %v", seen)
	}
	for name := range seen {
		if !strings.Contains(string(script), `"`+name+`"`) {
			t.Errorf("%s is not kept", name)
		}
	}
}
