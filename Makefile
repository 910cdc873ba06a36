# Crankbay. On a fresh Debian with only Go, make and git, `make run` builds the
# site and serves it, and `make test` runs every test; as root both install what
# else they need.

SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help

export GOFLAGS ?= -buildvcs=false
ADDR ?= 127.0.0.1:8080
WASM := GOOS=js GOARCH=wasm
NODE_EXEC = $(shell go env GOROOT)/lib/wasm/go_js_wasm_exec
PINNED := Golden|Digest|Replay

.PHONY: help run site single test check bench soak crosscheck golden screens pictures tools vet test-go test-wasm test-chromium test-browser evaluate worth library clean

# Lists the targets.
help:
	@awk '/^# /{line=$$0} /^[a-z-]+:/{if(line!=""){sub(/:.*/,"",$$1); printf "  make %-14s %s\n",$$1,substr(line,3)}} !/^# /{line=""}' Makefile

# Builds the site and serves it; ADDR=host:port chooses another address.
run: site
	@go run ./cmd/crankbay serve --site web/dist --addr $(ADDR)

# Writes the site to web/dist, ready for any static host.
site:
	@go run ./web/pack/mksite

# Writes the whole site into one file, web/dist/crankbay.html, that opens from a disk or a mail.
single:
	@go run ./web/pack/mksite -single

# Runs every test: natively, the pinned digests in WebAssembly, the pages in Chromium.
test: VET := -vet=off
test: tools single vet test-go test-wasm test-chromium test-browser

# Checks form without running the program: format, vet for both targets, page scripts, policy.
check: vet
	@unformatted=$$(git ls-files -z '*.go' | xargs -0 gofmt -l); if [[ -n $$unformatted ]]; then echo "gofmt these: $$unformatted"; exit 1; fi
	@if command -v node >/dev/null; then for f in web/shell/app/*.js; do node --input-type=module --check - <"$$f" || { echo "$$f does not parse"; exit 1; }; done; fi
	@go test ./cmd/policy/...

# Measures the speed of the simulation (natively, under Node, in Chromium) and the page: cold start, idle, pictures a second, sizes.
bench: single
	@.ci/bench

# Does 10,000 random sequences of hands on the bench, and as many attempts with the job sheet in between. Takes some minutes.
soak:
	@SOAK=1 go test -count=1 -timeout 60m -run 'Random' -v ./sim/bench ./scenarios/attempt | grep -v '^=== '

# Solves the same engine problems with SciPy and SUNDIALS; prints agreement and times. Takes some minutes.
crosscheck:
	@.ci/crosscheck
	@go run ./cmd/crosscheck

# Holds what is inferred from readings against simulated engines never seen before and against field cases; prints JSON lines.
evaluate:
	@mkdir -p .build
	@nice -n 10 go run ./cmd/libgen evaluate --engines .build/engines.gob

# Evaluates and writes the figures that the model page shows, testdata/evaluation.jsonl.
worth:
	@mkdir -p .build
	@nice -n 10 go run ./cmd/libgen evaluate --engines .build/engines.gob > .build/evaluation.jsonl
	@{ date -u '+{"kind":"recorded","on":"%F"}'; grep -E '"kind":"(library|simulated|unseen|next_best|field)"' .build/evaluation.jsonl; } > testdata/evaluation.jsonl

# Makes the likelihood library anew out of some 3,500 simulated engines; seven minutes on two cores.
library:
	@mkdir -p .build
	@nice -n 10 go run ./cmd/libgen generate -o .build/library.shard
	@go run ./cmd/libgen merge .build/library.shard -o cmd/crankbay/internal/library/library.bin

# Rewrites the recorded results in testdata/golden; then read the diff.
golden:
	@GOLDEN=rewrite go test -count=1 -run Golden ./...
	@git diff --stat -- '*golden*'
	@echo "Read the diff: a changed digest is a new model version, and a commit that says why."

# Takes pictures of every place and state into web/e2e/screens; SCREENS=name,name takes some only.
screens: tools site
	@SCREENS=$${SCREENS:-all} go test -count=1 -timeout 40m -run Screens ./web/e2e
	@echo "Look at web/e2e/screens."

# Takes the pictures of the README anew.
pictures: tools site
	@PICTURES=1 go test -count=1 -run '^TestPictures$$' ./web/e2e

# Installs the tools of the tests where they are missing.
tools:
	@.ci/tools

# Lets the compiler's own critic read everything, natively and for the browser.
vet:
	@go vet ./...
	@$(WASM) go vet ./...

# Runs the tests that need no browser page, natively.
test-go:
	@go test $(VET) -timeout 20m $$(go list ./... | grep -v '/web/e2e$$')

# Runs the pinned digests and replays in WebAssembly, where every bit must agree (those of the catalogue are a test of cmd/crankbay).
test-wasm:
	@if command -v node >/dev/null; then \
	packages=$$(grep -rlE '^func Test[A-Za-z0-9_]*($(PINNED))' --include='*_test.go' sim diagnose scenarios | xargs -n1 dirname | sort -u | sed 's|^|./|'); \
	$(WASM) go test -exec $(NODE_EXEC) -run '$(PINNED)' $$packages; \
	elif [[ -n $${CI:-} ]]; then echo "FAIL: Node is not installed, no digest was compared in WebAssembly"; exit 1; \
	else echo "SKIP: Node is not installed, no digest was compared in WebAssembly"; fi

# Runs the tests of packages that only a browser can run, in Chromium.
test-chromium:
	@packages=$$($(WASM) go list -f '{{if or .TestGoFiles .XTestGoFiles}}{{.ImportPath}}{{end}}' ./web/benchview/... ./web/jsapi/... 2>/dev/null || true); \
	if [[ -n $$packages ]]; then mkdir -p .build; go build -o .build/wasmchrome ./cmd/wasmchrome; \
	$(WASM) go test -p 1 -exec "$$PWD/.build/wasmchrome" $$packages; fi

# Runs the browser tests on the built site, two browsers at a time: much of a test is waiting for what passes in real time.
test-browser:
	@go test -timeout 25m -parallel 2 ./web/e2e

# Removes everything built.
clean:
	@rm -rf .build web/dist web/e2e/screens
