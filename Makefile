# Everything a developer does here, one word each; "make help" lists them.
# Python 3.13 is the browser runtime's own version; 3.12 and 3.14 work too (PYTHON=… chooses).
VENV   := .venv
BIN    := $(VENV)/bin
STAMPS := $(VENV)/stamps
PIP    := $(BIN)/python -m pip install --disable-pip-version-check --no-input -qq
SITE   ?= site
RELEASES ?= releases
ADDRESS ?= 127.0.0.1:8000
# Open a browser only where there is a desktop to open it on.
OPEN   := $(if $(CI),,$(if $(or $(DISPLAY),$(WAYLAND_DISPLAY),$(filter Darwin,$(shell uname -s))),--open))
# The theme's notice on its own future is for maintainers, not for every build.
export NO_MKDOCS_2_WARNING := 1
say     = @printf '\n== %s\n' "$(1)"

.DEFAULT_GOAL := help
.PHONY: help venv runtime serve site release test bench lint check-js format lock clean

help:
	@echo "make serve     live preview of the handbook at http://$(ADDRESS)/"
	@echo "make site      the finished site in $(SITE)/ (strict)"
	@echo "make release   VERSION=1.0 NOTE='what is new': all signed, all checked, in $(RELEASES)/"
	@echo "make test      all tests            (ARGS='tests/calc -x' narrows them)"
	@echo "make bench     how quick it is      (ARGS='live --repeats 3' narrows it)"
	@echo "make lint      ruff, mypy, tsc"
	@echo "make format    let ruff put the code in order"
	@echo "make lock      renew requirements.txt and package-lock.json"
	@echo "make clean     remove what was built here"

venv: $(STAMPS)/venv

$(STAMPS)/packages: requirements.txt
	$(call say,Python environment in $(VENV))
	@set -e; found=; \
	for python in $(PYTHON) python3.13 "$$HOME"/.pyenv/versions/3.13*/bin/python3 python3 \
	    python3.12 python3.14; do \
	  if "$$python" -c 'import sys, venv; sys.exit(not (3, 12) <= sys.version_info[:2] <= (3, 14))' \
	      2>/dev/null; then found=$$python; break; fi; \
	done; \
	if [ -z "$$found" ]; then \
	  echo "No Python 3.12, 3.13 or 3.14 found. Install Python 3.13, or name one: make venv PYTHON=python3.13"; \
	  exit 1; fi; \
	"$$found" -c 'import sys; v = sys.version_info; print("using Python %d.%d.%d," % v[:3], sys.executable); v[:2] == (3, 13) or print("note: the browser runtime is Python 3.13; with another version the bundle ships source instead of byte code")'; \
	"$$found" -m venv $(VENV)
	$(PIP) --require-hashes -r requirements.txt
	@mkdir -p $(STAMPS) && touch $@

$(STAMPS)/venv: $(STAMPS)/packages pyproject.toml
	$(PIP) --no-deps --no-build-isolation --editable .
	@touch $@

runtime: $(STAMPS)/runtime

$(STAMPS)/runtime: $(STAMPS)/venv package.json package-lock.json
	$(call say,Browser runtime (once; afterwards from the cache))
	$(BIN)/python -m witnessmark.bundle
	@touch $@

serve: venv runtime
	$(call say,The handbook will be at http://$(ADDRESS)/ (Ctrl-C ends it))
	$(BIN)/mkdocs serve --dev-addr $(ADDRESS) $(OPEN)

site: venv runtime
	$(call say,Building the handbook into $(SITE)/)
	$(BIN)/mkdocs build --strict --clean --site-dir $(SITE)

release: venv runtime
	$(call say,Release $(VERSION) into $(RELEASES)/)
	@$(BIN)/witnessmark release "$$VERSION" --note "$$NOTE" --into "$(RELEASES)"

test: venv runtime node_modules/.package-lock.json
	$(call say,Tests)
	$(BIN)/python -m pytest --numprocesses auto --dist loadfile --no-loadscope-reorder $(ARGS)

bench: venv runtime node_modules/.package-lock.json
	$(call say,Speed)
	@test -d node_modules/@pyscript/core/dist || PATH="$(CURDIR)/$(BIN):$$PATH" $(BIN)/npm ci --ignore-scripts
	$(BIN)/python -m bench $(ARGS)

lint: venv
	$(call say,ruff)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(call say,mypy)
	$(BIN)/mypy
	@$(MAKE) --no-print-directory check-js

# The scripts are checked with the Node.js that the Python environment pins.
check-js: node_modules/.package-lock.json
	$(call say,tsc)
	$(BIN)/node node_modules/typescript/bin/tsc --project tsconfig.json
	$(BIN)/node node_modules/typescript/bin/tsc --project tsconfig.worker.json

node_modules/.package-lock.json: $(STAMPS)/venv package.json package-lock.json
	$(call say,Tools that check the scripts)
	PATH="$(CURDIR)/$(BIN):$$PATH" $(BIN)/npm ci --ignore-scripts
	@touch $@

format: venv
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

# uv resolves for all platforms and Python versions at once; it is needed here only.
lock:
	$(call say,Locking)
	python3 -m venv $(VENV)/lock && $(VENV)/lock/bin/python -m pip install -qq uv
	$(VENV)/lock/bin/uv pip compile --quiet --upgrade --universal --python-version 3.12 \
	  --generate-hashes --no-annotate --no-header --no-emit-package witnessmark \
	  --group pyproject.toml:dev pyproject.toml --output-file requirements.txt
	@sed -i.bak '1i # Everything for development, locked by "make lock"; exact versions, hashes, no addresses.' \
	  requirements.txt && rm requirements.txt.bak
	npm install --package-lock-only --ignore-scripts

clean:
	rm -rf $(VENV) $(SITE) node_modules dist build .mypy_cache .pytest_cache .ruff_cache .hypothesis
