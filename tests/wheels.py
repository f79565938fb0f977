"""Whether every dependency has a wheel where makers work: ``python tests/wheels.py``.

Not part of the test command: it asks the package index, and prints the table of DEVELOPERS.md.
What a package needs differs by system, and pip judges that by the system that it runs on. So
every package is asked for alone, and what it needs is read from its own words.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterable
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).parent.parent
PYTHON = "3.12"
SYSTEMS = {
    "Windows x64": ("win_amd64", "win32", "Windows", "AMD64"),
    "Windows ARM": ("win_arm64", "win32", "Windows", "ARM64"),
    "macOS ARM": ("macosx_14_0_arm64", "darwin", "Darwin", "arm64"),
    "macOS Intel": ("macosx_14_0_x86_64", "darwin", "Darwin", "x86_64"),
}
"""By name: the tag of its wheels, then what markers call it (PyPA, "Platform compatibility
tags" and "Dependency specifiers")."""


def joined(asked: Iterable[Requirement]) -> dict[str, Requirement]:
    """Return one requirement for each package, with all that is asked of its version."""
    found: dict[str, Requirement] = {}
    for each in asked:
        name = canonicalize_name(each.name)
        if name in found:
            each.specifier &= found[name].specifier
            each.extras |= found[name].extras
        found[name] = each
    return found


def found_by_pip(asked: list[str], tag: str) -> tuple[list[dict], list[str]]:
    """Return pip's report on each wheel that it finds for a system, and what has none."""
    missing: list[str] = []
    while asked:
        with tempfile.TemporaryDirectory() as folder:
            report = Path(folder) / "report.json"
            command = [
                sys.executable, "-m", "pip", "install", "--quiet", "--dry-run", "--no-deps",
                "--ignore-installed", "--only-binary=:all:", "--python-version", PYTHON,
                "--platform", tag, "--target", folder, "--report", str(report), *asked,
            ]  # fmt: skip
            ran = subprocess.run(command, capture_output=True, text=True, check=False)
            if ran.returncode == 0:
                return json.loads(report.read_text())["install"], missing
        none = re.search(r"No matching distribution found for ([\w.-]+)", ran.stderr)
        if none is None:
            sys.exit(ran.stderr)
        name = canonicalize_name(none[1])
        missing.append(name)
        asked = [each for each in asked if canonicalize_name(Requirement(each).name) != name]
    return [], missing


def needed(report: dict, extras: set[str], system: str, platform: str, machine: str) -> list:
    """Return what a package needs there, by its own words."""
    where = {
        "sys_platform": system, "platform_system": platform, "platform_machine": machine,
        "os_name": "nt" if system == "win32" else "posix",
        "python_version": PYTHON, "python_full_version": f"{PYTHON}.0",
    }  # fmt: skip
    told = [Requirement(each) for each in report["metadata"].get("requires_dist", [])]
    return [
        each
        for each in told
        if each.marker is None
        or any(each.marker.evaluate({**where, "extra": extra}) for extra in ("", *extras))
    ]


def wheels(project: list[str], name: str) -> tuple[dict[str, str], list[str]]:
    """Return the kind of wheel of each package that a system needs, and those without one."""
    tag, *words = SYSTEMS[name]
    asked = joined(map(Requirement, project))
    kinds: dict[str, str] = {}
    missing: list[str] = []
    while new := [each for each in asked if each not in kinds and each not in missing]:
        reports, none = found_by_pip([str(asked[each]).split(";")[0] for each in new], tag)
        missing += none
        for report in reports:
            package = canonicalize_name(report["metadata"]["name"])
            kinds[package] = report["download_info"]["url"].rpartition("-")[2]
            more = needed(report, asked[package].extras, *words)
            asked = joined([*asked.values(), *more])
    return kinds, missing


def main() -> None:
    """Print what is found for each system."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["dependencies"]
    print(f"| System (Python {PYTHON}) | packages | of them with a wheel of its own | without |")
    print("|---|---|---|---|")
    for name in SYSTEMS:
        kinds, missing = wheels(project, name)
        own = sorted(each for each, kind in kinds.items() if not kind.startswith("any"))
        print(
            f"| {name} | {len(kinds) + len(missing)} | {len(own)} | {', '.join(missing) or '–'} |"
        )


if __name__ == "__main__":
    main()
