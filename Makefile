# make study   set up everything and run the bundled scene
# make test    set up everything and run the checks and tests
# make extension   pack the Blender extension into dist/, for every platform, with the wheels it needs
#
# PYTHON must be 3.11 or 3.13, the two that Blender's module is built for.

PYTHON ?= python3
VENV ?= .venv
SCENE ?= scenes/marsh_road.yaml

# Debian and Ubuntu packages with the shared libraries that Blender's module needs.
LIBRARIES = libx11-6 libxrender1 libxfixes3 libxi6 libxkbcommon0 libsm6 libice6 libgl1 libegl1

study: $(VENV)/ready
	$(VENV)/bin/massing study $(SCENE)

test: $(VENV)/ready-test
	$(VENV)/bin/ruff format --check .
	$(VENV)/bin/ruff check .
	$(VENV)/bin/mypy
	$(VENV)/bin/lint-imports
	$(VENV)/bin/pytest

extension: $(VENV)/ready-test
	$(VENV)/bin/python -m addon.pack dist --study --here
	$(VENV)/bin/python -m addon.pack dist
	MASSING_ZIP=$$(ls -t dist/massing-*-study-*.zip | head -1) $(VENV)/bin/pytest tests/addon/test_addon.py -k zip

setup: $(VENV)/ready

$(VENV)/ready: pyproject.toml constraints.txt
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info[:2] not in ((3, 11), (3, 13)))' || \
	  { echo "massing: $(PYTHON) is $$($(PYTHON) -V 2>&1); Blender's module needs Python 3.11 or 3.13: make study PYTHON=python3.13"; exit 1; }
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || \
	  { echo "massing: $(PYTHON) cannot make virtual environments; on Debian or Ubuntu run: apt-get install python3-venv"; exit 1; }
	$(PYTHON) -m venv $(VENV)
	$(VENV)/bin/pip install --quiet --disable-pip-version-check -c constraints.txt -e '.[render,desk]'
	@$(VENV)/bin/python -c 'import sys; from massing.render.driver.requirements import check_blender; sys.exit(check_blender())'
	@touch $@

$(VENV)/ready-test: $(VENV)/ready
	$(VENV)/bin/pip install --quiet --disable-pip-version-check -c constraints.txt -e '.[render,desk,test]'
	@touch $@

# which breaks of a room's lines its tests notice: make mutants ROOM=canon
mutants: $(VENV)/ready-test
	$(VENV)/bin/pip install --quiet --disable-pip-version-check -c constraints.txt -e '.[mutants]'
	$(VENV)/bin/python benchmarks/mutants.py $(ROOM) --survivors

list-libraries:
	@echo $(LIBRARIES)

constraints:
	uv pip compile pyproject.toml --universal --python-version 3.11 --extra render --extra test \
	  --no-annotate --custom-compile-command 'make constraints' --upgrade -o constraints.txt

clean:
	rm -rf $(VENV) build dist *.egg-info

.PHONY: study test extension mutants setup list-libraries constraints clean
