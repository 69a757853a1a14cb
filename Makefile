PYTHON := $(shell for p in python3.14 python3.13 python3.12 python3.11 python3; do \
  $$p -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' 2>/dev/null && echo $$p && break; done)
BIN := .venv/bin
PIP := $(BIN)/python -m pip --quiet --disable-pip-version-check install
LOCKED := --only-binary :all: --require-hashes -r
DEMO := examples/bungalow-slider-and-fixed-lites.toml

.PHONY: demo test bench lock format
# small matrices: more threads only get in each other's way
export OPENBLAS_NUM_THREADS := 1

demo: .venv/run.ok
	$(BIN)/sillwright plan $(DEMO) --out demo
	@echo
	@echo "The same wall on a phone, or in a browser on this machine:"
	@echo "  $(BIN)/sillwright serve --db out/demo.db --job $(DEMO)"

test: .venv/test.ok
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/coverage erase
	$(BIN)/coverage run -m pytest -q -n auto
	$(BIN)/coverage combine -q
	$(BIN)/coverage report --fail-under=90

bench: .venv/test.ok
	$(BIN)/python -m benchmarks
	$(BIN)/python -m benchmarks.phones

format: .venv/test.ok
	$(BIN)/ruff format .
	$(BIN)/ruff check --fix .

.venv/run.ok: pyproject.toml locks/run.txt
	$(if $(PYTHON),,$(error needs Python 3.11 or newer with the venv module on the PATH))
	$(PYTHON) -m venv --clear .venv
	$(PIP) $(LOCKED) locks/run.txt
	$(PIP) --no-deps --no-build-isolation -e .
	touch $@

.venv/test.ok: .venv/run.ok locks/test.txt
	$(PIP) $(LOCKED) locks/test.txt
	touch $@

UVC := uv pip compile -q --universal --python-version 3.11 --generate-hashes --no-header --no-annotate --no-emit-index-url pyproject.toml
lock:
	$(UVC) --group build -o locks/run.txt
	$(UVC) --group build --group dev -c locks/run.txt -o locks/test.txt
