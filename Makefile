# The two commands of README are `make run` and `make test`; each installs what
# it needs on Debian and its relatives first. The rest is for contributors.

GO ?= go
BIN := build/organbook

.PHONY: run test build bench fuzz explore vet clean packages-build packages-test

run: build
	@$(BIN) --without-display demo

build: packages-build
	$(GO) build -o $(BIN) ./cmd/organbook

packages-build:
	@sh scripts/packages.sh build

packages-test:
	@sh scripts/packages.sh build test

# The window and sound tests are skipped by a plain `go test ./...`, which
# needs no screen and no sound server; this runs everything.
# Sound must keep time, so the tests that play for real run one after another.
test: packages-test
	$(GO) test -timeout 15m ./...
	ORGANBOOK_WINDOW_TEST=1 ORGANBOOK_SOUND_TEST=1 \
		$(GO) test -p 1 -timeout 15m -run 'Window|Sound' -v ./cmd/organbook ./internal/player

vet:
	$(GO) vet ./...
	$(GO) tool staticcheck ./...

# The table of the sound comes first, then every other benchmark. RENDERER may
# hold the command of any offline MIDI renderer you have, with {mid} and {wav}
# in the place of the files' names; then a MIDI file of three minutes is timed
# through it and through ours in turn.
RENDERER ?=
bench:
	$(GO) test -run '^$$' -bench Table ./internal/synth
	ORGANBOOK_OFFLINE_RENDERER='$(RENDERER)' $(GO) test -run '^$$' -bench MIDIToWAV -benchtime 10x ./cmd/organbook
	$(GO) test -run '^$$' -bench . -skip Table -benchmem ./internal/...

# Every native fuzz target for FUZZTIME each.
FUZZTIME ?= 10s
fuzz:
	sh scripts/fuzz.sh $(FUZZTIME)

# Every property on CHECKS random cases, new ones each time.
CHECKS ?= 3000
explore:
	RAPID_CHECKS=$(CHECKS) RAPID_NOFAILFILE=true $(GO) test -count=1 -timeout 60m \
		$$(grep -rl --include='*_test.go' 'pgregory.net/rapid' internal | xargs -n1 dirname | sort -u | sed 's|^|./|')

clean:
	rm -rf build demo
