package serve

import (
	"crypto/tls"
	"crypto/x509"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"

	"traygauge/report/serve/link"
)

// One address answers both kinds of links: encrypted with the pages, plain with how to trust them.
func TestBothLinksAtOneAddress(t *testing.T) {
	r := serveTrial(t, trialWith(t, feedingTrial), func(o *Options) { o.LAN, o.Secure, o.OwnAuthority = true, true, true })
	trusted := x509.NewCertPool()
	trusted.AppendCertsFromPEM(r.tls.PEM())
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: trusted}, ForceAttemptHTTP2: true}}
	got, err := client.Get(r.url() + "/enter")
	if err != nil {
		t.Fatal(err)
	}
	text, _ := io.ReadAll(got.Body)
	got.Body.Close()
	if got.ProtoMajor != 2 || !strings.Contains(string(text), "Pair this phone") || strings.Contains(string(text), "not encrypted") {
		t.Errorf("%s %.300s", got.Proto, text)
	}
	plain := strings.Replace(r.url(), "https", "http", 1)
	for path, say := range map[string]string{"/": r.tls.Fingerprint(), "/enter": "Download the certificate", link.AuthorityPath: "BEGIN CERTIFICATE", "/api/today": "Download the certificate"} {
		status, text := newPhone(t, plain).ask("GET", path, nil)
		if status != 200 || !strings.Contains(text, say) {
			t.Errorf("%s: %d %.300s", path, status, text)
		}
	}
	own := newPhone(t, strings.Replace(plain, "127.0.0.1", "localhost", 1)) // the computer's own browser, which trusts nothing yet
	_, secret, _ := strings.Cut(r.server.OwnerLink("/"), "#")
	if status, text := own.enter(secret); status != 200 || !strings.Contains(text, "<h1>Phones</h1>") {
		t.Errorf("%d %.300s", status, text)
	}
	if conn, err := net.Dial("tcp", strings.TrimPrefix(plain, "http://")); err == nil { // one that says nothing keeps nobody out
		defer conn.Close()
	}
	if status, _ := newPhone(t, plain).ask("GET", "/", nil); status != 200 {
		t.Errorf("%d", status)
	}
}
