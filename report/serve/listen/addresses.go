package listen

import (
	"fmt"
	"net"
	"os"
	"path/filepath"

	"traygauge/report/serve/link"
)

// openAuthority opens the authority that this computer's certificates are signed by, kept where the system keeps settings.
func openAuthority() (a *link.Authority, made bool, err error) {
	settings, err := os.UserConfigDir()
	if err != nil {
		return nil, false, fmt.Errorf("there is no settings folder for the certificate: %w: give your own with --cert and --key", err)
	}
	return link.OpenAuthority(filepath.Join(settings, "traygauge"), ownHosts())
}

// ownHosts are the addresses and names under which this computer is reached.
func ownHosts() []string {
	hosts := append(lanAddresses(), "localhost", "127.0.0.1", "::1")
	if name, err := os.Hostname(); err == nil && name != "" {
		hosts = append(hosts, name, name+".local")
	}
	return hosts
}

// lanAddresses returns this computer's addresses in the networks that it is in, private ones first.
func lanAddresses() (hosts []string) {
	addresses, err := net.InterfaceAddrs()
	if err != nil {
		return nil
	}
	var others []string
	for _, a := range addresses {
		network, ok := a.(*net.IPNet)
		if !ok || network.IP.IsLoopback() || network.IP.IsLinkLocalUnicast() || network.IP.To4() == nil {
			continue
		}
		if network.IP.IsPrivate() {
			hosts = append(hosts, network.IP.String())
		} else {
			others = append(others, network.IP.String())
		}
	}
	return append(hosts, others...)
}
