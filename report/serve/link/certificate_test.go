package link

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

var hosts = []string{"192.168.77.7", "127.0.0.1", "localhost"}

// serverCert returns the certificate that a browser gets, checked as browsers do, by nothing but the authority's own.
func serverCert(t *testing.T, a *Authority, host string) (*x509.Certificate, error) {
	t.Helper()
	trusted := x509.NewCertPool()
	trusted.AppendCertsFromPEM(a.PEM())
	cert, err := a.serverCertificate(hosts)
	if err != nil {
		t.Fatal(err)
	}
	_, err = cert.Leaf.Verify(x509.VerifyOptions{DNSName: host, Roots: trusted, KeyUsages: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}})
	return cert.Leaf, err
}

func TestCertificate(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "settings")
	a, made, err := OpenAuthority(folder, hosts)
	if err != nil || !made {
		t.Fatalf("made: %v, %v", made, err)
	}
	for _, host := range hosts {
		leaf, err := serverCert(t, a, host)
		if err != nil {
			t.Errorf("%s: %v", host, err)
		}
		if days := leaf.NotAfter.Sub(leaf.NotBefore).Hours() / 24; days > 825 { // Apple, "Requirements for trusted certificates in iOS 13 and macOS 10.15"; from memory
			t.Errorf("it is good for %.0f days", days)
		}
	}
	if _, err := serverCert(t, a, "192.168.77.8"); err == nil {
		t.Error("good for an address that is not this computer's")
	}
	again, made, err := OpenAuthority(folder, hosts)
	if err != nil || made || again.Fingerprint() != a.Fingerprint() {
		t.Errorf("opened again: made %v, %v", made, err)
	}
	other, made, err := OpenAuthority(folder, append([]string{"198.51.100.7"}, hosts...)) // a public number (RFC 5737)
	if err != nil || !made || other.Fingerprint() == a.Fingerprint() {
		t.Errorf("with an address that the first cannot vouch for: made %v, %v", made, err)
	}
	for name, mode := range map[string]os.FileMode{"": 0o700, authorityKeyFile: 0o600} {
		if info, err := os.Stat(filepath.Join(folder, name)); err != nil || info.Mode().Perm() != mode {
			t.Errorf("%s: %v, %v", name, info.Mode(), err)
		}
	}
	if err := os.WriteFile(filepath.Join(folder, authorityFile), []byte("nothing"), 0o644); err != nil {
		t.Fatal(err)
	}
	if _, _, err := OpenAuthority(folder, hosts); err == nil || !strings.Contains(err.Error(), "delete the folder") {
		t.Errorf("a broken one: %v", err)
	}
}

// Whoever steals the key that phones trust can be no site on the internet.
func TestTheAuthorityVouchesForNothingOnTheInternet(t *testing.T) {
	a, err := newAuthority(hosts)
	if err != nil {
		t.Fatal(err)
	}
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	trusted := x509.NewCertPool()
	trusted.AddCert(a.cert)
	for host, want := range map[string]bool{"example.org": false, "localhost.example.org": false, "93.184.216.34": false, "192.168.1.9": true, "greenhouse.local": true} {
		about := &x509.Certificate{SerialNumber: serialNumber(), NotBefore: time.Now().Add(-time.Hour), NotAfter: time.Now().Add(time.Hour), ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}}
		if ip := net.ParseIP(host); ip != nil {
			about.IPAddresses = []net.IP{ip}
		} else {
			about.DNSNames = []string{host}
		}
		raw, err := x509.CreateCertificate(rand.Reader, about, a.cert, &key.PublicKey, a.key)
		if err != nil {
			t.Fatal(err)
		}
		leaf, err := x509.ParseCertificate(raw)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := leaf.Verify(x509.VerifyOptions{DNSName: host, Roots: trusted}); (err == nil) != want {
			t.Errorf("%s: %v", host, err)
		}
		if got := a.covers(host); got != want {
			t.Errorf("covers %s: %v", host, got)
		}
	}
	if openssl, err := exec.LookPath("openssl"); err == nil { // another program reads the constraints alike
		c := exec.Command(openssl, "x509", "-noout", "-text")
		c.Stdin = bytes.NewReader(a.PEM())
		out, err := c.CombinedOutput()
		for _, say := range []string{"CA:TRUE, pathlen:0", "X509v3 Name Constraints: critical", "IP:192.168.0.0/255.255.0.0", "DNS:local"} {
			if err != nil || !strings.Contains(string(out), say) {
				t.Errorf("openssl does not say %q: %v\n%s", say, err, out)
			}
		}
	}
}
