# Two commands for a newcomer: `make run` and `make test`.
PY ?= python3
BIN := .venv/bin
UV ?= uv
PORT ?= 8000
LOCK := $(UV) pip compile -q --generate-hashes --no-emit-index-url --no-emit-find-links --universal --python-version 3.11

.PHONY: run demo test check fast coverage bench screenshots lock clean

.venv/.run: requirements.txt
	@test -x $(BIN)/python || $(PY) -m venv .venv
	@echo "Installing what the service needs (once) ..."
	@$(BIN)/python -m pip install --quiet --quiet --disable-pip-version-check --require-hashes -r requirements.txt
	@touch $@

.venv/.dev: .venv/.run requirements-dev.txt
	@echo "Installing what the tests need (once) ..."
	@$(BIN)/python -m pip install --quiet --quiet --disable-pip-version-check --require-hashes -r requirements-dev.txt
	@touch $@

run: .venv/.run  ## Create everything that is missing, show one plan, serve the site
	@PORT=$(PORT) sh scripts/serve.sh

test: .venv/.dev  ## The whole suite; fetches Debian's Chromium where it may
	@sh scripts/chromium.sh
	@sh scripts/test.sh

fast: .venv/.dev  ## The suite without a browser
	@$(BIN)/python -m pytest -n auto --dist worksteal -m "not browser"

check: .venv/.dev  ## Every checker, quick ones first
	@sh scripts/check.sh

coverage: .venv/.dev  ## Which branches of the cores no test visits
	@$(BIN)/python -m pytest -q -n auto --dist worksteal -m "not browser" --cov --cov-report=term

bench: .venv/.dev  ## How fast properties are measured, in ratios; BENCH_SIZE=100000 for as many
	@$(BIN)/python -m scripts.bench

screenshots: .venv/.dev  ## Draw the pictures of the README again
	@sh scripts/chromium.sh
	@$(BIN)/python -m scripts.screenshots

lock:  ## Pin requirements.in and requirements-dev.in again (needs uv)
	@CUSTOM_COMPILE_COMMAND="make lock" UV_CUSTOM_COMPILE_COMMAND="make lock" $(LOCK) requirements.in -o requirements.txt
	@UV_CUSTOM_COMPILE_COMMAND="make lock" $(LOCK) requirements-dev.in -o requirements-dev.txt
	@! grep -nE "://|--find-links|--index" requirements.txt requirements-dev.txt

clean:  ## Forget the environment and the local data
	rm -rf .venv var staticfiles
