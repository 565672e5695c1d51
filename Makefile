# The workshop. `make demo` shows what Cordwright does, `make test` proves it, `make check` is what CI runs.
# Needs make, bash and Python 3.11 or later with venv; everything else is installed into .venv from requirements.lock.

SHELL := /bin/bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help
.ONESHELL:
.SILENT:
.NOTPARALLEL:

VENV := .venv
PY := $(VENV)/bin/python
STUDIO := examples/weaving-studio
DEMO := .cache/demo/weaving-studio

export PIP_DISABLE_PIP_VERSION_CHECK := 1

.PHONY: help setup lint check test demo lock docs bench clean

help: ## this list
	sed -n 's/^\([a-z]*\):.*## /\1\t/p' Makefile | expand -t 8

setup: ## .venv with the locked tools and the package as an owner would have it; a no-op when nothing changed
	bash tools/setup.sh

lint: setup ## style, types, and the order of imports
	$(VENV)/bin/ruff check src tests bench docs
	$(VENV)/bin/ruff format --check src tests bench docs
	$(PY) -m mypy
	PYTHONPATH=src $(VENV)/bin/lint-imports

check: lint test ## all that CI runs

test: setup ## every test against the installed package, the wheel and the browser too, then the coverage gate
	bash tools/chromium.sh
	OMP_NUM_THREADS=1 $(PY) -m pytest -n 2 --dist worksteal --cov --cov-report= --cov-fail-under=0
	$(VENV)/bin/coverage report

demo: setup ## the weaving studio's build book; the last line is its path
	bash tools/demo.sh $(STUDIO) $(DEMO)

lock: setup ## requirements.lock anew: newest releases that pyproject.toml allows, with hashes, without addresses
	bash tools/lock.sh

docs: setup ## the generated pages: nomenclature, sources, validation
	$(PY) docs/generate.py

bench: setup ## the benchmarks, each beside a peer in the same run (see bench/README.md)
	$(PY) bench/reckon.py
	$(PY) bench/book.py
	$(PY) bench/check.py
	$(PY) bench/growth.py
	$(PY) bench/weather.py
	$(PY) bench/layout.py
	$(PY) bench/replan.py
	OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 NUMBA_NUM_THREADS=1 $(PY) bench/season.py
	$(PY) bench/heat_year.py
	OMP_NUM_THREADS=1 OPENBLAS_NUM_THREADS=1 NUMBA_NUM_THREADS=1 $(PY) bench/heat_panel.py
	$(PY) bench/diary.py

clean: ## removes what the workshop made, not what owners wrote
	rm -rf $(VENV) .stamps .cache .mypy_cache .ruff_cache .pytest_cache .import_linter_cache .hypothesis .coverage
