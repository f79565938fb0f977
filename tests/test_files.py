"""The one gate to the disk: what it never touches, and that there is no other."""

from __future__ import annotations

import ast
import json
import re
import shutil
from pathlib import Path

import pytest
from conftest import ROOT
from outside import refused, run
from shop import Shop

from mailmerge.files import Root, Stage, disk, lent, write_file
from mailmerge.findings import InputError

SURE = {
    "write_bytes", "write_text", "unlink", "rmtree", "rmdir", "mkdir", "makedirs", "touch",
    "symlink_to", "hardlink_to", "removedirs", "copyfile", "copytree", "fdopen", "mkstemp",
    "mkdtemp", "TemporaryFile", "TemporaryDirectory", "NamedTemporaryFile",
}  # fmt: skip
"""Calls that change a disk, whatever they are called on."""

OF_MODULES = {"os", "shutil"}, {
    "remove", "rename", "replace", "renames", "open", "link", "symlink", "truncate", "move", "copy",
    "copy2", "chmod",
}  # fmt: skip


def changes_disk(call: ast.Call) -> bool:
    """Whether a call may write or delete something by itself."""
    name = call.func.attr if isinstance(call.func, ast.Attribute) else ""
    on = ast.unparse(call.func.value) if isinstance(call.func, ast.Attribute) else ""
    if name in SURE or (on in OF_MODULES[0] and name in OF_MODULES[1]):
        return True
    if name in ("replace", "rename"):
        # Of a text there are two arguments; of a time they have names; of a path there is one.
        return len(call.args) == 1 and not call.keywords
    if "open" in (name, ast.unparse(call.func)):
        given = [*call.args, *(each.value for each in call.keywords)]
        modes = [str(each.value) for each in given if isinstance(each, ast.Constant)]
        return any(re.fullmatch("[rwaxbt+]{1,3}", m) and set(m) & set("wax+") for m in modes)
    return (on, name) == ("sqlite3", "connect")


@pytest.mark.parametrize(
    ("code", "is_found"),
    [
        ("path.write_bytes(b'')", True),
        ("path.replace(other)", True),
        ("'text'.replace('a', 'b')", False),
        ("now.replace(hour=0)", False),
        ("dataclasses.replace(order, guests=1)", False),
        ("os.remove(path)", True),
        ("shutil.copy(a, b)", True),
        ("open(path, 'w')", True),
        ("path.open('ab')", True),
        ("path.open('rb')", False),
        ("path.open(encoding='utf-8')", False),
        ("archive.open('xl/workbook.xml')", False),
        ("sqlite3.connect(path)", True),
    ],
)
def test_what_changes_a_disk_is_known_by_its_call(code: str, is_found: bool) -> None:
    (call,) = [node for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Call)]
    assert changes_disk(call) == is_found


def imports_what_changes_disks(node: ast.AST) -> bool:
    """Whether a call could hide behind a name of its own, or comes of a module for copying."""
    if isinstance(node, ast.ImportFrom):
        return node.module in ("os", "shutil", "tempfile")
    names = [each.name for each in node.names] if isinstance(node, ast.Import) else []
    return bool({"shutil", "tempfile"} & set(names))


def test_nothing_writes_or_deletes_but_the_gate() -> None:
    found = set()
    for path in (ROOT / "mailmerge").rglob("*.py"):
        place = path.relative_to(ROOT / "mailmerge").as_posix()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if imports_what_changes_disks(node):
                found.add(f"{place}: {ast.unparse(node)}")
            if isinstance(node, ast.Call) and changes_disk(node):
                found.add(f"{place}: {ast.unparse(node.func)}")
    assert found == {
        "files/disk.py: os.fdopen", "files/disk.py: os.link",
        "files/disk.py: os.open", "files/disk.py: old.replace",
        "files/disk.py: path.unlink", "files/disk.py: path.mkdir", "files/disk.py: path.rmdir",
        "files/disk.py: import tempfile", "files/disk.py: tempfile.TemporaryDirectory",
        "ledger/ledger.py: sqlite3.connect",
        # No file on a disk: a pipe to the process that asks, and nowhere at all.
        "reading/inside.py: os.fdopen", "reading/room.py: os.open",
        "voice.py: os.fdopen", "voice.py: os.open",
    }  # fmt: skip


@pytest.mark.parametrize("name", ["../precious.txt", "/etc/precious", "a/../../precious.txt", ""])
def test_no_name_leads_out_of_the_root(tmp_path: Path, name: str) -> None:
    precious = tmp_path / "precious.txt"
    precious.write_text("mine")
    (tmp_path / "root").mkdir()
    root = Root(tmp_path / "root")
    for call in (
        lambda: root.write(name, b""),
        lambda: root.remove(name),
        lambda: root.clear(name),
        lambda: root.move("x", name),
        lambda: root.move(name, "x"),
        lambda: Stage(root).settle([name]),
    ):
        with pytest.raises(InputError, match="is no name of a file in this folder"):
            call()
    assert precious.read_text() == "mine"


def test_a_link_is_not_followed_wherever_it_lies(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "a.txt").write_text("mine")
    (tmp_path / "root").mkdir()
    (tmp_path / "root" / "on the way").symlink_to(elsewhere)
    (tmp_path / "root" / "a.txt").symlink_to(elsewhere / "a.txt")
    root = Root(tmp_path / "root")
    stage = Stage(root)
    stage.open_up()
    for name in ("on the way/a.txt", "a.txt"):
        for call in (
            lambda name=name: root.write(name, b""),
            lambda name=name: root.remove(name),
            lambda name=name: stage.write(name, b""),
            lambda name=name: stage.settle([name]),
        ):
            with pytest.raises(InputError, match="This is a link to another place"):
                call()
    with pytest.raises(InputError, match="This is a link to another place"):
        root.clear("on the way/a.txt")
    assert root.clear("a.txt") == [tmp_path / "root" / "a.txt"]
    with pytest.raises(InputError, match="This is a link to another place"):
        write_file(tmp_path / "root" / "a.txt", b"")
    assert (elsewhere / "a.txt").read_text() == "mine"
    write_file(tmp_path / "root" / "on the way" / "b.txt", b"where somebody has named it")
    assert (elsewhere / "b.txt").exists()


def test_two_who_write_one_file_at_once_do_not_meet(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither finds the other's half, whoever is done first."""
    create, inner = disk.create, []

    def with_another_meanwhile(path: Path, data: bytes, mode: int = 0o666) -> None:
        create(path, data[:1], mode)  # half of it is there, and now the other one writes
        if not inner:
            inner.append(path)
            write_file(tmp_path / "file", b"other")
            assert (tmp_path / "file").read_bytes() == b"o"
        assert path.read_bytes() == data[:1]

    monkeypatch.setattr(disk, "create", with_another_meanwhile)
    write_file(tmp_path / "file", b"mine")
    assert [path.name for path in tmp_path.iterdir()] == ["file"]
    assert (tmp_path / "file").read_bytes() == b"m"


@pytest.mark.parametrize("there", ["folder", "folder/inner"])
def test_a_file_in_a_folders_place_is_told_by_its_name(tmp_path: Path, there: str) -> None:
    (tmp_path / there).parent.mkdir(exist_ok=True)
    (tmp_path / there).write_bytes(b"")
    with pytest.raises(InputError, match=rf"{tmp_path / there}: This is a file, and a folder"):
        Root(tmp_path).write("folder/inner/deep/name", b"x")


def test_a_file_in_the_place_of_copies_leaves_an_order_as_it_was(shop: Shop) -> None:
    copies = shop.folder / "record-copies"
    shutil.rmtree(copies)
    copies.write_bytes(b"mine")
    before = {path: path.stat().st_mtime_ns for path in shop.folder.rglob("*") if path.is_file()}
    done = run("confirm", shop.folder, "1", "--by", "Ina")
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert f"{copies}: This is a file" in done.stderr
    after = {path: path.stat().st_mtime_ns for path in shop.folder.rglob("*") if path.is_file()}
    assert after == before
    copies.unlink()
    assert run("confirm", shop.folder, "1", "--by", "Ina").returncode == 0


def test_a_file_that_is_lent_goes_again() -> None:
    with lent("list.xlsx", b"read me") as path:
        assert (path.name, path.read_bytes()) == ("list.xlsx", b"read me")
    assert not path.parent.exists()


def strange_stage(out: Path, plan: object) -> Path:
    stage = out / f".staged-{'0123456789abcdef'}"
    stage.mkdir(parents=True)
    (stage / "plan.json").write_text(plan if isinstance(plan, str) else json.dumps(plan))
    return stage


@pytest.mark.parametrize("form", ["../../precious.txt", "{precious}"])
def test_a_plan_that_leads_out_of_its_folder_is_told_and_deletes_nothing(
    shop: Shop, tmp_path: Path, form: str
) -> None:
    precious = tmp_path / "precious.txt"
    precious.write_text("mine")
    out = tmp_path / "one" / "two"
    strange_stage(out, {"outdated": ["artwork/001-anna-berg.svg", form.format(precious=precious)]})
    said = refused("merge", shop.folder, "--out", out)
    assert "plan.json: This plan of an earlier call is not one that this program writes" in said
    assert "leads out of the folder" in said
    assert precious.read_text() == "mine"


def test_a_plan_of_another_shape_is_told_and_one_cut_off_is_cleared(tmp_path: Path) -> None:
    for plan in ({"outdated": "a.txt"}, {"outdated": [], "more": 1}, [], {}):
        stage = strange_stage(tmp_path / "out", plan)
        with pytest.raises(InputError, match="is not one that this program writes"):
            Stage.resume(Root(tmp_path / "out"), None)
        (stage / "plan.json").unlink()
        stage.rmdir()
    stage = strange_stage(tmp_path / "out", '{"outdated": ["a.t')
    Stage.resume(Root(tmp_path / "out"), None)
    assert not stage.exists()


def test_a_folder_that_only_looks_like_a_stage_is_left_alone(tmp_path: Path) -> None:
    own = tmp_path / ".staged-photos"
    own.mkdir()
    (own / "mine.jpg").write_bytes(b"mine")
    linked = tmp_path / f".staged-{'ab' * 8}"
    linked.symlink_to(own)
    Stage.resume(Root(tmp_path), None)
    assert (own / "mine.jpg").read_bytes() == b"mine"
    assert linked.is_symlink()


def test_files_that_a_ledger_names_are_judged_as_names(shop: Shop) -> None:
    """A record that was tampered with must not delete what lies beside the order."""
    precious = shop.folder.parent / "precious.txt"
    precious.write_text("mine")
    with shop.changing() as change:
        change._db.execute(
            "UPDATE item SET digests = json_set(digests, '$.\"../../precious.txt\"', 'x')"
        )
    with pytest.raises(InputError, match=r"precious\.txt\" is no name of a file in this folder"):
        shop.merge()
    assert precious.read_text() == "mine"
