package listen

import (
	"fmt"
	"io"
	"net"
	"strconv"
	"strings"
	"sync"

	"github.com/skip2/go-qrcode"

	"traygauge/report/serve"
	"traygauge/report/serve/door"
	"traygauge/report/serve/link"
)

// spoken says in the terminal where the pages are. Codes are shown from other goroutines.
type spoken struct {
	mu        sync.Mutex
	to        io.Writer
	scheme    string
	port      int
	lan       bool
	authority *link.Authority // nil: none of ours
	firstTime bool            // it was made just now
}

func (s *spoken) begin(server *serve.Server) {
	if !s.lan {
		fmt.Fprintf(s.to, "Feeding day:  %s\nReview:       %sreview\nOnly this computer can open them. To use phones too, start with --lan. Press Ctrl-C to stop.\n", s.address("localhost"), s.address("localhost"))
		return
	}
	switch {
	case s.authority != nil:
		plain := strings.Replace(s.links()[0], "https:", "http:", 1)
		if s.firstTime {
			fmt.Fprintln(s.to, "A new certificate was made for this computer. Phones that trusted an earlier one have to trust the new one.")
		}
		fmt.Fprintf(s.to, "On a new phone, open %s first: the page explains how to trust this computer.\nThe certificate’s fingerprint (SHA-256) is\n%s\n", plain, s.authority.Fingerprint())
	case s.scheme == "http":
		fmt.Fprintln(s.to, "The connection is not encrypted, so anyone on this network can read along. Use a network where you trust everyone, or --tls.")
	}
	own := s.address("localhost")
	if s.authority != nil {
		own = strings.Replace(own, "https:", "http:", 1) // see serve.PlainHandler
	}
	fmt.Fprintf(s.to, "On this computer (code, phones, all pages):\n%s\n", server.OwnerLink(own))
	s.code(server.Code())
}

// say tells something while the program runs.
func (s *spoken) say(words string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	fmt.Fprintln(s.to, words)
}

func (s *spoken) address(host string) string {
	return fmt.Sprintf("%s://%s/", s.scheme, net.JoinHostPort(host, strconv.Itoa(s.port)))
}

// links are the addresses under which phones reach the pages.
func (s *spoken) links() []string {
	var links []string
	for _, host := range lanAddresses() {
		links = append(links, s.address(host))
	}
	if len(links) == 0 {
		links = []string{s.address("localhost")}
	}
	return links
}

// code shows a one-time code, to type and as a QR code (ISO/IEC 18004).
func (s *spoken) code(code door.Code) {
	s.mu.Lock()
	defer s.mu.Unlock()
	links := s.links()
	if qr, err := qrcode.New(door.EnterLink(links[0], code), qrcode.Medium); err == nil {
		fmt.Fprintln(s.to, "\n"+qr.ToSmallString(false))
	}
	half := len(code.Typed) / 2
	fmt.Fprintf(s.to, "%s\nCode for the next phone: %s-%s (works once; a new one appears when it is used, or after an hour). Press Ctrl-C to stop.\n",
		strings.Join(links, "   "), code.Typed[:half], code.Typed[half:])
}
