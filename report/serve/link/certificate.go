// Package link provides encryption: a certificate authority for this computer, and plain and encrypted connections on one address.
//
//	in    this computer's addresses and names, the folder where the authority is kept
//	out   certificates, two listeners of one, a page that says how to trust the authority
//
// It must not depend on which pages are served.
package link

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"traygauge/measure/store"
)

const (
	authorityLife = 10 * 365 * 24 * time.Hour
	serverLife    = 365 * 24 * time.Hour // some phones accept at most 825 days
	renewBefore   = 30 * 24 * time.Hour
)

// Authority signs certificates for this computer. A phone that trusts it opens the pages over an encrypted link without a warning. Its name
// constraints allow private addresses and this computer's names only, and nothing on the internet.
type Authority struct {
	cert *x509.Certificate
	key  *ecdsa.PrivateKey

	mu     sync.Mutex
	server *tls.Certificate
}

// privateRanges are the addresses of local networks: RFC 1918, RFC 3927, RFC 4193, RFC 4291 (link-local), and this computer itself.
var privateRanges = []string{"10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "169.254.0.0/16", "127.0.0.0/8", "fc00::/7", "fe80::/10", "::1/128"}

// OpenAuthority reads the authority in a folder, or makes one if there is none that covers hosts, this computer's addresses and names. made
// reports whether it is new, so that phones have to trust it first.
func OpenAuthority(folder string, hosts []string) (a *Authority, made bool, err error) {
	a, err = readAuthority(folder)
	switch {
	case err == nil && a.coversAll(hosts) && time.Now().Add(renewBefore).Before(a.cert.NotAfter):
		return a, false, nil
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return nil, false, fmt.Errorf("the certificate in %s cannot be read: %w: delete the folder to make a new one, which phones then have to trust again", folder, err)
	}
	if a, err = newAuthority(hosts); err != nil {
		return nil, false, err
	}
	return a, true, a.keep(folder)
}

const (
	authorityFile    = "authority.pem"
	authorityKeyFile = "authority-key.pem"
)

func newAuthority(hosts []string) (*Authority, error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	name, err := os.Hostname()
	if err != nil {
		name = "this computer"
	}
	now := time.Now()
	about := &x509.Certificate{
		SerialNumber: serialNumber(), Subject: pkix.Name{CommonName: "traygauge on " + name, Organization: []string{"traygauge"}},
		NotBefore: now.Add(-time.Hour), NotAfter: now.Add(authorityLife),
		IsCA: true, BasicConstraintsValid: true, MaxPathLenZero: true, KeyUsage: x509.KeyUsageCertSign | x509.KeyUsageCRLSign,
		PermittedDNSDomainsCritical: true, PermittedDNSDomains: []string{"localhost", "local"},
	}
	for _, r := range privateRanges {
		_, network, err := net.ParseCIDR(r)
		if err != nil {
			return nil, err
		}
		about.PermittedIPRanges = append(about.PermittedIPRanges, network)
	}
	for _, h := range hosts {
		ip := net.ParseIP(h)
		switch {
		case ip == nil:
			about.PermittedDNSDomains = append(about.PermittedDNSDomains, strings.ToLower(h))
		case !within(about.PermittedIPRanges, ip): // a public address: only this one
			about.PermittedIPRanges = append(about.PermittedIPRanges, &net.IPNet{IP: ip, Mask: net.CIDRMask(8*len(ip), 8*len(ip))})
		}
	}
	for i, r := range about.PermittedIPRanges {
		if four := r.IP.To4(); four != nil { // RFC 5280, 4.2.1.10: address and mask are of one length
			ones, bits := r.Mask.Size()
			about.PermittedIPRanges[i] = &net.IPNet{IP: four, Mask: net.CIDRMask(ones-(bits-32), 32)}
		}
	}
	raw, err := x509.CreateCertificate(rand.Reader, about, about, &key.PublicKey, key)
	if err != nil {
		return nil, err
	}
	cert, err := x509.ParseCertificate(raw)
	return &Authority{cert: cert, key: key}, err
}

func serialNumber() *big.Int {
	n, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 126))
	if err != nil {
		panic(err) // never fails, by its documentation
	}
	return n
}

func within(ranges []*net.IPNet, ip net.IP) bool {
	return slices.ContainsFunc(ranges, func(r *net.IPNet) bool { return r.Contains(ip) })
}

// covers reports whether the authority can vouch for an address or a name.
func (a *Authority) covers(host string) bool {
	if ip := net.ParseIP(host); ip != nil {
		return within(a.cert.PermittedIPRanges, ip)
	}
	host = strings.ToLower(host)
	return slices.ContainsFunc(a.cert.PermittedDNSDomains, func(d string) bool { return host == d || strings.HasSuffix(host, "."+d) })
}

func (a *Authority) coversAll(hosts []string) bool {
	return !slices.ContainsFunc(hosts, func(h string) bool { return !a.covers(h) })
}

// keep writes the authority into a folder that only its owner can read.
func (a *Authority) keep(folder string) error {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("cannot keep the certificate: %w", err)
	}
	key, err := x509.MarshalPKCS8PrivateKey(a.key)
	if err != nil {
		return err
	}
	path := filepath.Join(folder, authorityKeyFile)
	os.Remove(path) // of an earlier authority
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err == nil {
		err = errors.Join(pem.Encode(f, &pem.Block{Type: "PRIVATE KEY", Bytes: key}), f.Close())
	}
	if err == nil {
		err = store.WriteWhole(filepath.Join(folder, authorityFile), func(w io.Writer) error { _, err := w.Write(a.PEM()); return err })
	}
	if err != nil {
		return fmt.Errorf("cannot keep the certificate: %w", err)
	}
	return nil
}

func readAuthority(folder string) (*Authority, error) {
	cert, err := os.ReadFile(filepath.Join(folder, authorityFile))
	if err != nil {
		return nil, err
	}
	key, err := os.ReadFile(filepath.Join(folder, authorityKeyFile))
	if err != nil {
		return nil, err
	}
	pair, err := tls.X509KeyPair(cert, key)
	if err != nil {
		return nil, err
	}
	private, ok := pair.PrivateKey.(*ecdsa.PrivateKey)
	if !ok || !pair.Leaf.IsCA {
		return nil, errors.New("traygauge did not make it")
	}
	return &Authority{cert: pair.Leaf, key: private}, nil
}

// PEM returns the authority's certificate, for phones to trust.
func (a *Authority) PEM() []byte {
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: a.cert.Raw})
}

// Fingerprint returns the certificate's SHA-256 as phones show it: pairs of digits.
func (a *Authority) Fingerprint() string {
	sum := sha256.Sum256(a.cert.Raw)
	var pairs []string
	for _, b := range sum {
		pairs = append(pairs, strings.ToUpper(hex.EncodeToString([]byte{b})))
	}
	return strings.Join(pairs, ":")
}

// Config returns the TLS settings for hosts. An address that the computer got later is added on demand.
func (a *Authority) Config(hosts []string) *tls.Config {
	return &tls.Config{MinVersion: tls.VersionTLS12, GetCertificate: func(hello *tls.ClientHelloInfo) (*tls.Certificate, error) {
		asked := hosts
		if at, ok := hello.Conn.LocalAddr().(*net.TCPAddr); ok && a.covers(at.IP.String()) {
			asked = append(slices.Clone(hosts), at.IP.String())
		}
		return a.serverCertificate(asked)
	}}
}

// serverCertificate returns a certificate for all of hosts.
func (a *Authority) serverCertificate(hosts []string) (*tls.Certificate, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.server != nil && time.Now().Add(renewBefore).Before(a.server.Leaf.NotAfter) && !slices.ContainsFunc(hosts, func(h string) bool { return a.server.Leaf.VerifyHostname(h) != nil }) {
		return a.server, nil
	}
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	now := time.Now()
	about := &x509.Certificate{SerialNumber: serialNumber(), Subject: pkix.Name{CommonName: hosts[0]}, NotBefore: now.Add(-time.Hour), NotAfter: now.Add(serverLife),
		KeyUsage: x509.KeyUsageDigitalSignature, ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}}
	if a.server != nil { // keep the earlier addresses
		about.IPAddresses, about.DNSNames = a.server.Leaf.IPAddresses, a.server.Leaf.DNSNames
	}
	for _, h := range hosts {
		if ip := net.ParseIP(h); ip != nil {
			about.IPAddresses = append(about.IPAddresses, ip)
		} else {
			about.DNSNames = append(about.DNSNames, strings.ToLower(h))
		}
	}
	raw, err := x509.CreateCertificate(rand.Reader, about, a.cert, &key.PublicKey, a.key)
	if err != nil {
		return nil, err
	}
	leaf, err := x509.ParseCertificate(raw)
	if err != nil {
		return nil, err
	}
	a.server = &tls.Certificate{Certificate: [][]byte{raw, a.cert.Raw}, PrivateKey: key, Leaf: leaf}
	return a.server, nil
}
