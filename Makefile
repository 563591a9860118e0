# `make test` and `make demo` each work alone on a fresh clone: both first set up .venv.
PYTHON ?= python3
BIN := .venv/bin
READY := .venv/ready

help: ## list what there is to make
	@awk -F ':.*## ' '/^[a-z-]+:.*## /{printf "make %-10s %s\n", $$1, $$2}' $(MAKEFILE_LIST)

demo: $(READY) ## write all files of a sample album under out/
	$(BIN)/dielines make samples/lakeside/lakeside.toml --out out/lakeside

test: lint types tests ## set up, and run everything that must hold

lint: $(READY) ## style and layout of the code
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .

types: $(READY) ## types of everything that is installed
	$(BIN)/mypy

tests: $(READY) ## tests and doctests, on all processors
	$(BIN)/pytest -n auto

soak: $(READY) ## the long sweeps
	$(BIN)/pytest -n auto -m soak

bench: $(READY) ## speed and size; prints figures, fails on nothing
	@for file in benchmarks/*.py; do $(BIN)/python $$file || exit 1; done

pictures: $(READY) ## the pictures and the pages of docs/ that are made from the code
	$(BIN)/python docs/pictures.py
	$(BIN)/python docs/rules.py

format: $(READY) ## lay the code out as `make lint` wants it
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

lock: ## resolve the dependencies again, for all platforms, into requirements.lock
	$(PYTHON) -m venv .venv-lock
	.venv-lock/bin/pip install -qq uv
	.venv-lock/bin/uv pip compile --quiet --universal --python-version 3.11 --extra dev \
	    --generate-hashes --no-emit-index-url --no-emit-find-links --upgrade \
	    --custom-compile-command "make lock" \
	    --output-file requirements.lock pyproject.toml
	rm -rf .venv-lock

setup: $(READY) ## only set up .venv

# Again only when what it depends on has changed.
$(READY): pyproject.toml setup.py requirements.lock
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
	    { echo "Python 3.11 or later is needed and '$(PYTHON)' is none; name one, such as: make PYTHON=python3.12 test" >&2; exit 1; }
	@$(PYTHON) -c 'import venv, ensurepip' 2> /dev/null || \
	    { echo "'$(PYTHON)' cannot make virtual environments; install what it needs for that (Debian: python3-venv)" >&2; exit 1; }
	@.ci/libraries $(PYTHON)
	$(PYTHON) -m venv .venv
	$(BIN)/pip install -qq --disable-pip-version-check --require-hashes --requirement requirements.lock
	$(BIN)/pip install -qq --disable-pip-version-check --no-deps --no-build-isolation --editable .
	@touch $(READY)

clean: ## remove what was made
	rm -rf .venv .venv-lock out build dist *.egg-info .mypy_cache .pytest_cache .ruff_cache .hypothesis
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

.PHONY: help demo test lint types tests soak bench pictures format lock setup clean
