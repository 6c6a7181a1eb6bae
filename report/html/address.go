package html

import (
	"fmt"
	"html/template"
	"net/url"
	"path"
	"strings"
)

// Address is where a page will be published. The zero value is for one that stays at home.
type Address struct {
	Page string // of the page itself
	base *url.URL
}

// ParseAddress reads the address under which a page will be published: of its folder, or of the page itself.
func ParseAddress(s string) (Address, error) {
	u, err := url.Parse(s)
	if err != nil || u.Scheme != "https" && u.Scheme != "http" || u.Host == "" {
		return Address{}, fmt.Errorf("%q is not a web address: write it like https://www.example.org/kale-trial/", s)
	}
	if u.RawQuery != "" || u.Fragment != "" || u.User != nil {
		return Address{}, fmt.Errorf("%q contains more than an address: remove everything after ? or #, and any user name and password", s)
	}
	if last := path.Base(u.Path); u.Path == "" || !strings.HasSuffix(u.Path, "/") && !strings.Contains(last, ".") {
		u.Path += "/"
	}
	return Address{Page: u.String(), base: u}, nil
}

// Of returns the absolute address of a file beside the page, and its name alone where the page's address is not known.
func (a Address) Of(name string) string {
	if a.base == nil {
		return name
	}
	return a.base.ResolveReference(&url.URL{Path: name}).String()
}

// icon is the page's mark in a browser's tab: a leaf over a root.
func icon() template.HTMLAttr {
	const svg = `<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 32 32'><path d='M16 18C6 18 4 10 5 4c8 0 12 5 11 14Z' fill='#009e73'/><path d='M16 18c0-8 4-12 11-11 0 7-4 11-11 11Z' fill='#0072b2'/><path d='M16 17v12m0-7-5 6m5-6 5 6' fill='none' stroke='#8a7a60' stroke-width='2'/></svg>`
	return template.HTMLAttr(`href="data:image/svg+xml,` + strings.ReplaceAll(url.PathEscape(svg), "'", "%27") + `"`)
}
