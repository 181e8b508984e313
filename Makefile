# `make` alone lists the targets. A line beside a target says what it is for.
#
# PYTHON must be 3.11 or 3.13, the two that Blender's module is built for.

PYTHON ?= python3
VENV ?= .venv
SCENE ?= scenes/marsh_road.yaml

# Says each package and how much of it has come, so that a slow line is never taken for a hang.
PIP = $(VENV)/bin/pip install --disable-pip-version-check --progress-bar on -c constraints.txt

# Debian and Ubuntu packages with the shared libraries that Blender's module needs.
LIBRARIES = libx11-6 libxrender1 libxfixes3 libxi6 libxkbcommon0 libsm6 libice6 libgl1 libegl1

help:  ## list these
	@sed -n 's/^\([a-z-]*\):[^#]*## \(.*\)/make \1|\2/p' $(MAKEFILE_LIST) | awk -F'|' '{printf "  %-20s %s\n", $$1, $$2}'

study: $(VENV)/ready  ## set up everything, then make the bundled scene's pictures
	$(VENV)/bin/massing study $(SCENE) --open

test: $(VENV)/ready-test  ## set up everything, then run the checks and tests
	$(VENV)/bin/ruff format --check .
	$(VENV)/bin/ruff check .
	$(VENV)/bin/mypy
	$(VENV)/bin/lint-imports
	$(VENV)/bin/pytest -n auto --dist worksteal

extension: $(VENV)/ready-test  ## pack the Blender extension into dist/, for every platform
	$(VENV)/bin/python -m addon.pack dist --study --here
	$(VENV)/bin/python -m addon.pack dist
	MASSING_ZIP=$$(ls -t dist/massing-*-study-*.zip | head -1) $(VENV)/bin/pytest tests/addon/test_addon.py -k zip

setup: $(VENV)/ready  ## set up everything, and make nothing

$(VENV)/ready: pyproject.toml constraints.txt
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info[:2] not in ((3, 11), (3, 13)))' || \
	  { echo "massing: $(PYTHON) is $$($(PYTHON) -V 2>&1); Blender's module needs Python 3.11 or 3.13: make study PYTHON=python3.13"; exit 1; }
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || \
	  { echo "massing: $(PYTHON) cannot make virtual environments; on Debian or Ubuntu run: apt-get install python3-venv"; exit 1; }
	@echo "massing: setting up in $(VENV): about 0.6 GB to download, 1.5 GB on disk, most of it Blender's module"
	$(PYTHON) -m venv $(VENV)
	$(PIP) -e '.[render,desk]'
	@$(VENV)/bin/python -c 'import sys; from massing.render.driver.requirements import check_blender; sys.exit(check_blender())'
	@touch $@

$(VENV)/ready-test: $(VENV)/ready
	@echo "massing: what the checks need besides, about 0.2 GB on disk"
	$(PIP) -e '.[render,desk,test]'
	@touch $@

# which breaks of a room's lines its tests notice: make mutants ROOM=canon
mutants: $(VENV)/ready-test
	$(VENV)/bin/pip install --quiet --disable-pip-version-check -c constraints.txt -e '.[mutants]'
	$(VENV)/bin/python benchmarks/mutants.py $(ROOM) --survivors

list-libraries:  ## the Debian packages that Blender's module needs
	@echo $(LIBRARIES)

constraints:  ## move every dependency to its newest version (needs uv)
	uv pip compile pyproject.toml --universal --python-version 3.11 --extra render --extra test \
	  --no-annotate --custom-compile-command 'make constraints' --upgrade -o constraints.txt

clean:  ## take away what set-up made
	rm -rf $(VENV) build dist *.egg-info

.PHONY: help study test extension mutants setup list-libraries constraints clean
