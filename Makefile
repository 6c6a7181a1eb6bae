# make demo      draw an invented trial, measure it, write its report and its sheets
# make test      everything a change has to pass
# make package   packages in dist/ for machines without a compiler
#
# The first two install what is missing on Debian 12 and 13 and on Ubuntu 24.04, and say so first; elsewhere they say what to install.

SHELL := /bin/bash
export PATH := $(PATH):/usr/local/go/bin
export CGO_ENABLED := 1

BIN  := bin/traygauge
DEMO := demo-trial

# opencv4.pc names every module there is, and gocv brings code for most of them; the program keeps what it can reach.
LINK := -ldflags '-extldflags "-Wl,--as-needed -Wl,--gc-sections"'

.PHONY: build demo test package mats accuracy calibrate calibrate-stats bench damage mixed setup setup-test clean

build: setup
	go build $(LINK) -o $(BIN) ./cmd/traygauge

# measure and report exit with 3 here, "done, but some photos need attention": the demo includes a blurred photo and one without a card.
define attended
@echo '$(1)' >&2; $(1); status=$$?; \
case $$status in \
0) ;; \
3) echo 'Exit status 3 is expected: the demo includes a blurred photo and one without a card.' >&2 ;; \
*) exit $$status ;; \
esac
endef

demo: build
	@[ -e $(DEMO) ] || { echo '$(BIN) demo $(DEMO)' >&2; $(BIN) demo $(DEMO) || { rm -rf $(DEMO); exit 1; }; } # no half trial
	$(call attended,$(BIN) measure $(DEMO))
	$(call attended,$(BIN) report $(DEMO))
	$(BIN) print $(DEMO)
	@echo 'Look into $(DEMO)/report and $(DEMO)/overlays.' >&2

test: setup-test
	go build ./...
	go vet ./...
	go mod tidy -diff
	go tool staticcheck ./...
	@unused=$$(go tool deadcode -test ./...); [ -z "$$unused" ] || { echo "Nothing calls these:" >&2; echo "$$unused" >&2; exit 1; }
	@untidy=$$(gofmt -l .); [ -z "$$untidy" ] || { echo "Run gofmt -w on:" $$untidy >&2; exit 1; }
	go test -timeout 15m ./...
	@$(MAKE) --no-print-directory mats

# A .deb for Debian 12 and 13 and a tarball, as far as this machine can build them; .ci/package says how.
package:
	.ci/package

# gocv counts open Mats only under its own build tag, which compiles it once more.
mats: setup-test
	@rooms=$$(grep -rl --include='*_test.go' '^//go:build matprofile' . | xargs -r -n1 dirname | sort -u); \
	[ -z "$$rooms" ] || { set -x; go test -timeout 15m -tags matprofile -run Mat $$rooms; }

# How far the measuring is from the truth, on drawn photos and on whatever photos with known truth are at hand.
accuracy: setup
	go test ./measure -run Accuracy -v -count=1 -timeout 60m -args -everything
	go test ./vision/roots ./vision/leaves -run Real -v -count=1

# How far each quantity is off and how often its error bar holds the truth, over hundreds of small drawn scenes and by the
# conditions that they were drawn under: make calibrate SCENES=400.
SCENES := 200

calibrate: setup
	@set -o pipefail; go test ./measure -run Calibrate -v -count=1 -timeout 60m -args -scenes $(SCENES) | grep -v -e "--- PASS" -e "^=== "

# Whether false alarms, intervals and power are what the statistics say they are: many invented trials.
TRIALS := 12000

calibrate-stats: setup
	@set -o pipefail; go test ./measure/stats ./measure/compare -run 'FalseAlarms|Cover|PowerIsKept' -v -count=1 -timeout 60m -args -trials $(TRIALS) | grep -v -e "^=== "

# Six thousand damaged files, a minute or five; PHOTOS='/path/*.jpg' damages whole photos, too.
damage: setup-test
	go test ./vision/photo -run TestDamagedFiles -v -count=1 -timeout 60m -args -mutations 6000 -mutated '$(PHOTOS)'

# Sixty mixed photos of 12 megapixels, ten of them bad: what is said of each, and how long a second run takes. Then small scenes with each kind of
# trouble in them: tried, told, missed, and how many photos without any are doubted: make mixed TROUBLES=40.
TROUBLES := 12

mixed: setup-test
	go test ./measure -run TestTroubles -v -count=1 -timeout 120m -args -troubles $(TROUBLES)
	go test ./cmd/traygauge -run TestMixedFolder -v -count=1 -timeout 60m -args -mixed 4032

# How fast and how heavy everything is; each figure names its unit. BenchmarkPage's are what a reader of the page waits for: page-bytes, requests,
# s-to-first-picture and s-to-all at 1.6 Mbit/s, embed-bytes.
bench: setup
	go test -run '^$$' -bench . -benchmem ./...

setup:
	@.ci/setup build

setup-test:
	@.ci/setup test

clean:
	rm -rf bin dist $(DEMO)
