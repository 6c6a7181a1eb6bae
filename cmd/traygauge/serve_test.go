package main

import (
	"bytes"
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"encoding/pem"
	"io"
	"math/big"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"traygauge/measure/reading"
	"traygauge/report/serve/work"
	"traygauge/vision/card"
)

// started runs a command until stop is called, and returns what it says once it says that it can be stopped.
func started(t *testing.T, args ...string) (out *lockedBuffer, stop func()) {
	t.Helper()
	ctx, cancel := context.WithCancel(context.Background())
	out = &lockedBuffer{}
	std := streams{strings.NewReader(""), out, out}
	ended := make(chan error, 1)
	root := newRootCommand(&std)
	root.SetArgs(args)
	go func() { ended <- root.ExecuteContext(ctx) }()
	for range 1000 {
		if strings.Contains(out.String(), "Ctrl-C") {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	return out, func() {
		t.Helper()
		cancel()
		if err := <-ended; err != nil {
			t.Errorf("stopped: %v", err)
		}
	}
}

type lockedBuffer struct {
	mu  sync.Mutex
	all bytes.Buffer
}

func (b *lockedBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.all.Write(p)
}

func (b *lockedBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.all.String()
}

// read asks for a page and returns its text.
func read(t *testing.T, client *http.Client, address string) (status int, text string) {
	t.Helper()
	got, err := client.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer got.Body.Close()
	raw, err := io.ReadAll(got.Body)
	if err != nil {
		t.Fatal(err)
	}
	return got.StatusCode, string(raw)
}

// noRedirects is a browser that stays where it is.
func noRedirects(transport http.RoundTripper) *http.Client {
	return &http.Client{Transport: transport, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
}

// The command says where its pages are, lets no one on the network in unless --lan asks for it, and stops on a signal.
func TestServeCommand(t *testing.T) {
	dir := trialWith(t, smallTrial, "")
	for _, c := range []struct {
		args []string
		want []string
	}{
		{nil, []string{"Review:       http://localhost:", "Only this computer can open them"}},
		{[]string{"--lan"}, []string{"not encrypted", "Code for the next phone: ", "█", "http://localhost:", "/enter?computer#"}},
	} {
		out, stop := started(t, append([]string{"serve", dir, "--port", "0", "--on", "2026-03-12"}, c.args...)...)
		for _, say := range c.want {
			if !strings.Contains(out.String(), say) {
				t.Errorf("%v says\n%s\nwithout %q", c.args, out.String(), say)
			}
		}
		m := regexp.MustCompile(`http://localhost:\d+/`).FindString(out.String())
		client := noRedirects(nil)
		if c.args == nil {
			if status, text := read(t, client, m); status != 200 || !strings.Contains(text, "Feeding day") {
				t.Errorf("%d %.200s", status, text)
			}
		} else {
			if status, _ := read(t, client, m); status != http.StatusSeeOther {
				t.Errorf("whoever comes is let in: %d", status)
			}
			_, secret, _ := strings.Cut(out.String(), "/enter?computer#")
			secret, _, _ = strings.Cut(secret, "\n")
			got, err := client.PostForm(m+"enter", url.Values{"code": {secret}})
			if err != nil {
				t.Fatal(err)
			}
			got.Body.Close()
			if got.StatusCode != http.StatusSeeOther || got.Header.Get("Location") != "/phones" {
				t.Errorf("the computer's own link: %d to %s", got.StatusCode, got.Header.Get("Location"))
			}
		}
		stop()
	}
	for _, c := range []struct {
		want int
		args []string
		say  string
	}{
		{exitUsage, []string{"--cert", "x"}, "--cert and --key belong together"},
		{exitUsage, []string{"--tls", "--cert", "x", "--key", "y"}, "--tls makes a certificate"},
		{exitUsage, []string{"--port", "70000"}, "--port"},
		{exitUsage, []string{"--on", "tomorrow"}, "--on"},
	} {
		if code, _, errs := traygauge(append([]string{"serve", dir}, c.args...)...); code != c.want || !strings.Contains(errs, c.say) {
			t.Errorf("%v: exit %d: %s", c.args, code, errs)
		}
	}
	// A certificate that cannot be used is refused before any address is shown.
	if code, out, errs := traygauge("serve", dir, "--cert", "nope.pem", "--key", "nope.pem"); code != exitFailed || !strings.Contains(errs, "give the certificate as --cert") || strings.Contains(out+errs, "localhost") {
		t.Errorf("exit %d, %s%s", code, out, errs)
	}
	if code, _, errs := traygauge("serve", t.TempDir()); code != exitFailed || !strings.Contains(errs, "trial.yaml") {
		t.Errorf("no trial: exit %d: %s", code, errs)
	}
	if code, out, _ := traygauge("--help"); code != exitOK || strings.Contains(out, work.PhotoCommand) {
		t.Errorf("a command that is not for people is listed: %d %s", code, out)
	}
}

// With a certificate the link is encrypted, the cookie goes over no other, and nothing is said of reading along.
func TestServeWithACertificate(t *testing.T) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	about := &x509.Certificate{SerialNumber: big.NewInt(1), NotAfter: time.Now().Add(time.Hour), IPAddresses: []net.IP{net.IPv4(127, 0, 0, 1)}}
	cert := worked(x509.CreateCertificate(rand.Reader, about, about, &key.PublicKey, key))
	dir := trialWith(t, smallTrial, "")
	for name, block := range map[string]*pem.Block{"cert.pem": {Type: "CERTIFICATE", Bytes: cert}, "key.pem": {Type: "PRIVATE KEY", Bytes: worked(x509.MarshalPKCS8PrivateKey(key))}} {
		if err := os.WriteFile(filepath.Join(dir, name), pem.EncodeToMemory(block), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	out, stop := started(t, "serve", dir, "--port", "0", "--lan", "--cert", filepath.Join(dir, "cert.pem"), "--key", filepath.Join(dir, "key.pem"))
	defer stop()
	comesIn(t, out.String(), worked(x509.ParseCertificate(cert)))
}

// comesIn lets a phone in over an encrypted link, by the code that the terminal shows, trusting only the given certificate.
func comesIn(t *testing.T, said string, trusted *x509.Certificate) {
	t.Helper()
	port := regexp.MustCompile(`https://[^/ ]+:(\d+)/`).FindStringSubmatch(said)
	code := regexp.MustCompile(`next phone: (\w+-\w+)`).FindStringSubmatch(said)
	if port == nil || code == nil || strings.Contains(said, "not encrypted") {
		t.Fatalf("it says\n%s", said)
	}
	pool := x509.NewCertPool()
	pool.AddCert(trusted)
	client := noRedirects(&http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}, ForceAttemptHTTP2: true})
	got, err := client.PostForm("https://127.0.0.1:"+port[1]+"/enter", url.Values{"code": {code[1]}})
	if err != nil {
		t.Fatal(err)
	}
	got.Body.Close()
	if c := got.Cookies(); got.StatusCode != http.StatusSeeOther || len(c) != 1 || !c[0].Secure || !c[0].HttpOnly {
		t.Errorf("%d, cookies %v", got.StatusCode, c)
	}
}

// With --tls the program makes a certificate, tells how to trust it over the plain link at the same address, and keeps it for the next time.
func TestServeTLS(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	t.Setenv("HOME", t.TempDir())
	dir := trialWith(t, smallTrial, "")
	fingerprint := ""
	for n := range 2 {
		out, stop := started(t, "serve", dir, "--port", "0", "--lan", "--tls")
		said := out.String()
		if made := strings.Contains(said, "A new certificate was made"); made != (n == 0) || !strings.Contains(said, "trust this computer") {
			t.Errorf("start %d says\n%s", n+1, said)
		}
		port := regexp.MustCompile(`https://[^/ ]+:(\d+)/`).FindStringSubmatch(said)[1]
		plain := "http://127.0.0.1:" + port
		status, page := read(t, http.DefaultClient, plain+"/")
		print := regexp.MustCompile(`(?:[0-9A-F]{2}:){31}[0-9A-F]{2}`).FindString(said)
		if status != 200 || print == "" || !strings.Contains(page, print) || !strings.Contains(page, "https://127.0.0.1:"+port+"/") {
			t.Errorf("%d %s", status, page)
		}
		if n == 1 && print != fingerprint {
			t.Error("another certificate the second time")
		}
		fingerprint = print
		_, raw := read(t, http.DefaultClient, plain+"/traygauge.crt")
		block, _ := pem.Decode([]byte(raw))
		if block == nil {
			t.Fatalf("no certificate: %.200s", raw)
		}
		comesIn(t, said, worked(x509.ParseCertificate(block.Bytes)))
		stop()
	}
}

// A photo is measured in a process of its own, which says the same as this one; when its time is over it is stopped.
func TestMeasureApart(t *testing.T) {
	dir := trialWith(t, smallTrial, "")
	if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
		t.Fatal(err)
	}
	drawPhoto(t, filepath.Join(dir, "photos", "a.jpg"), smallSpec(card.Roots, 1))
	apart := func(ctx context.Context, photo string) (reading.Reading, error) {
		return work.MeasureApart(ctx, worked(os.Executable()), dir, photo, version())
	}
	r, err := apart(context.Background(), "a.jpg")
	if err != nil || r.Verdict() != reading.VerdictGood || r.Tray != 1 || len(r.Plugs) != 6 || r.Version != version() {
		t.Fatalf("%+v, %v", r, err)
	}
	if _, err := apart(context.Background(), "b.jpg"); err == nil || !strings.Contains(err.Error(), "there is no photo") {
		t.Errorf("no such photo: %v", err)
	}
	drawPhoto(t, filepath.Join(dir, "photos", "c.jpg"), smallSpec(card.Shoots, 1))
	ctx, stop := context.WithTimeout(context.Background(), time.Millisecond) // a process takes longer to start
	defer stop()
	if r, err := apart(ctx, "c.jpg"); err == nil {
		t.Errorf("not stopped: %+v", r)
	}
	if entries, err := os.ReadDir(filepath.Join(dir, "readings")); err != nil || len(entries) != 2 { // a.jpg's, and the lock
		t.Errorf("it left %v, %v", entries, err)
	}
	if r, err := apart(context.Background(), "c.jpg"); err != nil || r.Verdict() != reading.VerdictGood {
		t.Errorf("then: %+v, %v", r, err)
	}
}

func worked[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
