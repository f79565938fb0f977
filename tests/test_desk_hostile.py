"""What other people send, at the desk: each request refused, and one that passes beside it."""

from __future__ import annotations

import html
from collections.abc import Iterator
from itertools import product
from pathlib import Path
from urllib.parse import quote

import pytest
from desks import OWN, Visitor
from shop import Shop

from mailmerge.deeds.beginning import laid_lists
from mailmerge.deeds.known import known_orders


@pytest.fixture(scope="module")
def order(merged_once: Path, tmp_path_factory: pytest.TempPathFactory) -> Shop:
    """Return an order that these tests only ask for: nothing that they send may change it."""
    return Shop.copied(merged_once, tmp_path_factory.mktemp("hostile") / "order")


@pytest.fixture
def visitor(order: Shop) -> Iterator[Visitor]:
    before = kept(order.folder)
    yield Visitor(order.folder)
    assert kept(order.folder) == before


def kept(folder: Path) -> dict[Path, bytes]:
    """Return what an order's folder holds, without what SQLite keeps while somebody reads."""
    files = [path for path in folder.rglob("*") if path.is_file()]
    return {path: path.read_bytes() for path in files if path.suffix not in SQLITES}


SQLITES = (".sqlite-shm", ".sqlite-wal")


MARKUP = '"><script>alert(1)</script><img src=x onerror=alert(2)>'


@pytest.mark.parametrize(
    "path",
    [
        "/static/../../../pyproject.toml",
        "/static/%2e%2e/%2e%2e/app.py",
        "/static/..%2f..%2fapp.py",
        "/static//etc/passwd",
        "/begin/..%2f..%2forders.json",
        "/begin/....",
        "/shop/blanks/..%2f..%2fshop.png",
        "/orders/..%2f..%2fetc/cups",
        "/orders/%00/cups",
        "{order}/cups/1/cup-..%2f..%2forder.png",
        "{order}/cups/../../../etc/passwd",
        "{order}/cups/" + "9" * 5000,
        "{order}/bench/" + "9" * 5000 + "/file",
        "{order}/client/" + "9" * 30,
        "{order}/client/tried/..%2f..%2forder.png",
        "{order}/list/newer/..%2f..%2forders.json",
    ],
)
def test_no_address_leads_anywhere_else_on_the_disk(visitor: Visitor, path: str) -> None:
    answer = visitor.client.get(path.format(order=visitor.at().rstrip("/")))
    assert answer.status_code in (404, 422), answer.status_code
    assert "Traceback" not in answer.text
    assert "root:" not in answer.text
    assert visitor.asks("cups", 1).status_code == 200


@pytest.mark.parametrize(
    "path",
    ["\0", "~nobody-of-that-name/x", "x" * 5000, "/dev/null", "order\n.toml", "https://evil"],
)
def test_a_folder_that_is_none_is_refused_in_one_line(
    visitor: Visitor, order: Shop, path: str
) -> None:
    known = known_orders()
    refused = visitor.client.post("/orders/open", data={"path": path})
    assert refused.status_code == 422
    assert known_orders() == known
    opened = visitor.client.post("/orders/open", data={"path": str(order.folder)})
    assert opened.status_code == 200


@pytest.mark.parametrize(
    ("place", "fields"),
    [
        (("client", "confirm"), {"item": "1:x", "by": "Ann"}),
        (("client", "confirm"), {"item": "9" * 5000 + ":x", "by": "Ann"}),
        (("client", "confirm"), {"item": "1:x", "by": "Ann", "on": "0000-99-99"}),
        (("client", "settle"), {"question": "9" * 30, "by": "Ann", "because": "x"}),
        (("client", "records", "back"), {"name": "../../ledger.sqlite"}),
        (("list", "correct"), {"item": "9" * 5000, "text-1-name": "x"}),
        (("list", "correct"), {"item": "1", "text-1-name": "x", "saw-1-name": "not so"}),
        (("list", "take-back"), {"item": "9" * 5000, "field": "name"}),
        (("list", "former"), {"name": "../../order.toml"}),
        (("bench", "release"), {"item": "9" * 5000, "reason": "x"}),
        (("bench", "1", "engraved"), {}),
        (("progress", "answer"), {"option": MARKUP}),
    ],
)
def test_a_form_that_no_page_has_made_changes_nothing(
    visitor: Visitor, place: tuple[str, ...], fields: dict[str, str]
) -> None:
    refused = visitor.sends(*place, **fields)
    assert refused.status_code == 422, refused.text[-600:]
    assert "<script>alert" not in refused.text


@pytest.mark.parametrize(
    ("name", "data", "status"),
    [
        ("list.csv", b"Name\nAnn Berg\n", 200),
        ("../../../evil.csv", b"Name\nAnn Berg\n", 200),
        (MARKUP + ".csv", b"Name\nAnn Berg\n", 200),
        ("list.xlsx", b"PK\x03\x04 no book at all", 422),
        ("list.xlsx", b"<html>a page, called a list</html>", 422),
        ("list.csv", b"", 422),
        ("list.exe", b"MZ\x90\x00", 422),
    ],
)
def test_a_list_is_judged_by_what_it_holds(
    visitor: Visitor, shop_folder: Path, name: str, data: bytes, status: int
) -> None:
    page = visitor.client.post("/orders/begin", files={"list": (name, data)})
    assert page.status_code == status, page.text[-400:]
    assert "<script>alert" not in page.text
    below = [path for path in shop_folder.rglob("*") if path.is_file()]
    assert len([path for path in below if path.suffix == ".csv"]) == (status == 200)
    assert not list(shop_folder.parent.glob("evil*"))


def test_cells_and_titles_are_only_text(visitor: Visitor) -> None:
    rows = f'Name,Role\n"{MARKUP.replace(chr(34), chr(34) * 2)}",=cmd|calc!A1\n'
    page = visitor.client.post("/orders/begin", files={"list": ("list.csv", rows.encode())})
    assert page.status_code == 200
    assert html.escape(MARKUP, quote=True).replace("&quot;", "&#34;") in page.text
    titled = visitor.client.get(f"{page.url.path}?title={quote(MARKUP)}&coat-plain={quote(MARKUP)}")
    for text in (page.text, titled.text):
        assert "<script>alert" not in text
        assert "<img src=x" not in text


def test_too_large_a_list_is_refused_and_a_large_one_read(visitor: Visitor) -> None:
    """20 MB a list, 2 MB an answer: more is refused before it is read."""
    large = b"Name\n" + b"Ann Berg\n" * 9_000
    assert visitor.client.post("/orders/begin", files={"list": ("a.csv", large)}).is_success
    longer = b"Name\n" + b"Ada Lovett\n" * 1_700_000
    answer = visitor.client.post("/orders/begin", files={"list": ("a.csv", longer)})
    assert answer.status_code == 422
    assert "more than 10,000 rows" in answer.text
    assert [each.name for each in laid_lists()] == ["a.csv"]  # the first one alone lies here
    too_much = ("20000001", "9" * 5000)
    places = ("/orders/begin", visitor.at("list", "newer"), visitor.at("client", "came"))
    for place, length in product(places, too_much):
        answer = visitor.client.post(place, content=b"x", headers={"Content-Length": length})
        assert answer.status_code == 413


def test_an_answer_that_is_too_large_is_refused_for_its_size(visitor: Visitor) -> None:
    came, text = visitor.at("client", "came"), "fine! " * 333_400
    for name in ("a.txt", None):  # a file, and what was pasted
        part = "file" if name else "text"
        for more in ("", text):
            answer = visitor.client.post(came, files={part: (name, text + more)})
            assert answer.status_code == (413 if more else 422)
            assert "larger than the 2 MB" in answer.text
            assert visitor.asks("client").is_success


def test_what_is_no_form_is_called_so(visitor: Visitor) -> None:
    kind = {"Content-Type": "multipart/form-data; boundary=x"}
    answer = visitor.client.post("/orders/begin", content=b"--y\r\nno form", headers=kind)
    assert answer.status_code == 400
    assert "cannot be read as a form" in answer.text


def test_an_answers_file_is_refused_in_plain_words(visitor: Visitor) -> None:
    for sent, said in ((b'{"pack": 1}', "is missing in it"), (b'{"kind": 7}', "cannot be")):
        answer = visitor.sends("client", "came", files={"file": ("a.json", sent)})
        assert answer.status_code == 422
        assert said in html.unescape(answer.text)
        assert "Field required" not in answer.text


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_only_asking_and_sending_are_answered(visitor: Visitor, method: str) -> None:
    assert visitor.client.request(method, "/").status_code == 405
    assert visitor.client.request("HEAD", "/").status_code == 200


def test_another_site_cannot_send_a_form_even_with_the_cookie(visitor: Visitor) -> None:
    """A browser sends no strict cookie along from elsewhere; the guard does not rely on it."""
    changes: tuple[dict[str, str], ...] = (
        {"Origin": "http://127.0.0.1:9"},
        {"Origin": OWN.replace("http", "https")},
        {"Sec-Fetch-Site": "cross-site"},
    )
    for change in changes:
        answer = visitor.client.post(visitor.at("bench", 1, "engraved"), headers=change)
        assert answer.status_code == 403
    assert visitor.sends("bench", 1, "engraved").status_code == 422  # let in, and refused by rule
