"""The project's promises to a stranger: two commands, locks that install anywhere, pages that exist."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
LOCKS = sorted((ROOT / "requirements").glob("*.txt"))
PINNED = re.compile(r"^(?P<name>[a-z0-9][a-z0-9.-]*)==(?P<version>[^ ;]+)( ; .+)? \\$")
HASHED = re.compile(r"^    --hash=sha256:[0-9a-f]{64}( \\)?$")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def pins(lock: str) -> dict[str, set[str]]:
    """Every package of a lock with its versions (there may be one for each Python)."""
    found: dict[str, set[str]] = {}
    for line in (ROOT / "requirements" / lock).read_text(encoding="utf-8").splitlines():
        if match := PINNED.match(line):
            found.setdefault(match["name"], set()).add(match["version"])
    return found


def test_there_are_three_locks() -> None:
    assert [lock.name for lock in LOCKS] == ["bench.txt", "run.txt", "test.txt"]


@pytest.mark.parametrize("lock", LOCKS, ids=lambda lock: lock.name)
def test_a_lock_holds_pins_and_hashes_and_nothing_else(lock: Path) -> None:
    """So it can name no registry, no host, no path and no machine."""
    lines = lock.read_text(encoding="utf-8").splitlines()
    assert lines
    strange = [line for line in lines if not (PINNED.match(line) or HASHED.match(line))]
    assert strange == []


@pytest.mark.parametrize("line", ["--index-url x", "a @ file:///b", "/c/d.whl", "a==1 \\ # via b", "a>=1 \\", "a==1"])
def test_the_lock_check_sees_hosts_paths_and_loose_pins(line: str) -> None:
    assert not PINNED.match(line)
    assert not HASHED.match(line)


def test_the_run_lock_builds_the_project_without_isolation() -> None:
    assert {"hatchling", "editables"} <= set(pins("run.txt"))


def test_the_run_lock_brings_the_real_melodies_and_every_declared_dependency() -> None:
    names = {re.split(r"[^a-z0-9-]", line)[0] for line in PROJECT["project"]["dependencies"]}
    assert names | {"music21"} <= set(pins("run.txt"))


def test_the_test_lock_agrees_with_the_run_lock() -> None:
    """``make test`` adds to what ``make start`` installed and changes none of it."""
    run, test = pins("run.txt"), pins("test.txt")
    assert {name: test.get(name) for name in run} == run


def test_no_lock_pulls_in_a_graphics_card() -> None:
    assert not [name for lock in LOCKS for name in pins(lock.name) if re.match("torch|nvidia|cuda|triton", name)]


def test_the_readme_opens_with_the_job() -> None:
    """The first paragraph says who it is for and what gets done; then come the two commands."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    title, first, *rest = text.split("\n\n")
    assert title == "# stavewright"
    opening = " ".join(first.split())
    for said in ["independent", "teacher", "exams", "practice papers", "marks", "terms", "times the exam", "ready"]:
        assert said in opening
    assert text.index("make start") < text.index("make test")
    assert any("make start" in paragraph for paragraph in rest[:2])


@pytest.mark.parametrize("target", ["start", "test", "verify", "bench", "lock", "help"])
def test_make_knows_the_target(target: str) -> None:
    assert re.search(rf"^{target}:.* ## .+$", (ROOT / "Makefile").read_text(encoding="utf-8"), flags=re.MULTILINE)


def test_ci_runs_the_readmes_test_command() -> None:
    script = ROOT / ".ci" / "run"
    lines = script.read_text(encoding="utf-8").splitlines()
    assert "set -euo pipefail" in lines
    assert "make test" in lines
    assert os.access(script, os.X_OK)


PAGES = [*sorted(ROOT.glob("*.md")), *sorted(ROOT.glob("docs/**/*.md"))]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_link_of_a_page_leads_somewhere(page: Path) -> None:
    text = re.sub(r"```.*?```|`[^`]*`", "", page.read_text(encoding="utf-8"), flags=re.DOTALL)
    for target in re.findall(r"\]\(([^)#\s]+)[^)]*\)", text):
        if "://" not in target:
            assert (page.parent / target).exists(), f"{page.name} links to {target}"


def test_every_layer_has_its_page() -> None:
    layers = {folder.parent.name for folder in (ROOT / "src" / "stavewright").glob("*/__init__.py")}
    assert layers
    assert layers <= {page.stem for page in (ROOT / "docs" / "layers").glob("*.md")}


def package_script(tmp_path: Path, wanted: str, *, installed: str, uid: int) -> subprocess.CompletedProcess[str]:
    """Run the system-package script on a pretend Debian: its dpkg, its apt, its sudo and its user are ours."""
    tools = tmp_path / "tools"
    tools.mkdir()
    fakes = {
        "dpkg-query": f'for last; do :; done\n[ "$last" = "{installed}" ] && printf installed',
        "apt-get": f'echo "apt-get $*" >> "{tmp_path}/log"',
        "id": f"echo {uid}",
        "sudo": "exit 1",
    }
    for name, body in fakes.items():
        (tools / name).write_text(f"#!/bin/sh\n{body}\n", encoding="utf-8")
        (tools / name).chmod(0o755)
    (tmp_path / "scripts").mkdir()
    shutil.copy(ROOT / "scripts" / "system_packages.sh", tmp_path / "scripts")
    (tmp_path / "scripts" / "system_packages.txt").write_text(wanted, encoding="utf-8")
    return subprocess.run(
        ["sh", "scripts/system_packages.sh"], cwd=tmp_path, capture_output=True, text=True, timeout=60, check=False,
        env={"PATH": f"{tools}:{os.environ['PATH']}"},
    )  # fmt: skip


def test_no_system_package_wanted_is_no_work(tmp_path: Path) -> None:
    assert package_script(tmp_path, "# none\n\n", installed="", uid=1000).returncode == 0


def test_root_installs_only_the_missing_system_package(tmp_path: Path) -> None:
    done = package_script(tmp_path, "# two\nharp\nlute # plucked\n", installed="harp", uid=0)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "log").read_text().splitlines()[-1] == "apt-get install -y --no-install-recommends lute"


def test_without_root_or_sudo_the_exact_command_is_said(tmp_path: Path) -> None:
    done = package_script(tmp_path, "lute\n", installed="harp", uid=1000)
    assert done.returncode == 1
    assert "apt-get update && apt-get install -y --no-install-recommends lute" in done.stderr
    assert not (tmp_path / "log").exists()
