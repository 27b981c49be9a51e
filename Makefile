# stavewright: `make start` runs the main job, `make test` passes the tests. Both do all their own set-up.
# Every path is relative, so that the project may live in a folder whose name has a space.

GRADE ?= 3
SEEDS ?= 50
QUESTIONS ?= 1000000
JOBS ?= 2
SYSTEM_PACKAGES ?= check
PYTHON ?=
UPGRADE ?=
export PYTHON UPGRADE

BIN := .venv/bin
PIP_INSTALL := $(BIN)/python -m pip install --quiet --disable-pip-version-check --no-input
MADE := .venv/.made
RUN := .venv/.run-installed
TEST := .venv/.test-installed
BENCH := .venv/.bench-installed

.DELETE_ON_ERROR:
.PHONY: help start test lint verify gallery bench lock clean

help: ## say what each command does
	@sed -n 's/^\([a-z][a-z]*\):.*## /  make \1\t/p' Makefile | expand -t 16

start: $(RUN) ## set everything up and write a paper, answers, mark scheme and a marked script to out/ (GRADE=3)
	$(BIN)/stavewright start --grade $(GRADE) --out out

test: $(TEST) ## set everything up and run every check: style, types, layers, every kind over 50 seeds, tests, examples
	@if [ "$(SYSTEM_PACKAGES)" = check ]; then sh scripts/system_packages.sh; fi
	$(BIN)/ruff check src tests benchmarks scripts
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/stavewright verify --seeds $(SEEDS)
	$(BIN)/python -m pytest -n $(JOBS)

lint: $(TEST) ## only the checks of style, types and layers
	$(BIN)/ruff check src tests benchmarks scripts
	$(BIN)/mypy
	$(BIN)/lint-imports

verify: $(RUN) ## set and work a million questions of all kinds, grades and editions, and hold all together (QUESTIONS=1000000)
	$(BIN)/stavewright verify --questions $(QUESTIONS) --jobs $(JOBS)

gallery: $(RUN) ## draw a card for every kind of question at grades 1, 3 and 5 into out/gallery, to be looked at
	$(BIN)/python scripts/make_gallery.py out/gallery

bench: $(BENCH) ## measure against other programs, as ratios in one run
	$(BIN)/python -m benchmarks

lock: ## make the hashed locks in requirements/ again (UPGRADE=--upgrade for newer versions)
	@sh scripts/lock.sh

clean: ## remove the environment and everything written by the commands
	rm -rf .venv .lock-tools out .pytest_cache .mypy_cache .ruff_cache .import_linter_cache .hypothesis

$(MADE): scripts/make_venv.sh scripts/find_python.sh
	@if [ ! -x $(BIN)/python ] || ! $(BIN)/python -c pass 2>/dev/null; then echo "Making .venv ..."; sh scripts/make_venv.sh; fi
	@touch $@

$(RUN): $(MADE) requirements/run.txt pyproject.toml
	@echo "Installing what the program needs (once) ..."
	@$(PIP_INSTALL) --require-hashes --only-binary :all: -r requirements/run.txt
	@$(PIP_INSTALL) --no-deps --no-build-isolation -e .
	@touch $@

$(TEST): $(RUN) requirements/test.txt
	@echo "Installing what the tests need (once) ..."
	@$(PIP_INSTALL) --require-hashes --only-binary :all: -r requirements/test.txt
	@touch $@

$(BENCH): $(TEST) requirements/bench.txt
	@echo "Installing what the benchmarks need (once) ..."
	@$(PIP_INSTALL) --require-hashes --only-binary :all: -r requirements/bench.txt
	@touch $@
