"""The page's server lets in nobody but its own page; held from outside with an HTTP client."""

import json
import struct
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from underbag.app.page.desk import Desk
from underbag.app.page.guard import LARGEST_BODY
from underbag.app.page.papers import Papers
from underbag.app.page.serve import guarded

PORT, TOKEN = 8123, "a-token-of-the-test"
HOST = f"127.0.0.1:{PORT}"
OWN = {"host": HOST, "origin": f"http://{HOST}", "x-underbag-token": TOKEN, "sec-fetch-site": "same-origin"}
TEXT = 'title = "Shelf"\n[panel]\nlength = 600  # as measured\nwidth = 300\n'
HOSTILE = "</title><script>alert(1)</script><img src=x onerror=alert(2)> =HYPERLINK('http://a.b')"


@pytest.fixture
def desk() -> Desk:
    return Desk(TEXT, None)


@pytest.fixture
def client(desk: Desk) -> Iterator[Any]:
    testing = pytest.importorskip("starlette.testclient")
    papers = Papers()
    yield testing.TestClient(
        guarded(desk, papers, PORT, TOKEN), base_url=f"http://{HOST}", raise_server_exceptions=False
    )
    papers.close()


def without(*names: str) -> dict[str, str]:
    return {name: value for name, value in OWN.items() if name not in names}


def state_of(answer: Any) -> dict[str, Any]:
    (length,) = struct.unpack_from("<I", answer.content)
    found: dict[str, Any] = json.loads(answer.content[4 : 4 + length])
    return found


def change(client: Any, changes: Any, revision: int = 1, **headers: str) -> Any:
    return client.post("/desk/change", json={"revision": revision, "changes": changes}, headers=OWN | headers)


READS = (
    "/",
    "/page/bench.js",
    "/picture/viewer.js",
    "/desk/state",
    "/desk/copy",
    "/desk/form",
    "/desk/papers",
)


@pytest.mark.parametrize("address", READS)
def test_the_own_page_is_answered(client: Any, address: str) -> None:
    assert client.get(address, headers=OWN).status_code == 200


@pytest.mark.parametrize("address", READS)
@pytest.mark.parametrize("host", ["evil.example", f"evil.example:{PORT}", "127.0.0.1", "127.0.0.1:1", ""])
def test_another_name_is_refused_everywhere(client: Any, address: str, host: str) -> None:
    assert client.get(address, headers=OWN | {"host": host}).status_code == 400


@pytest.mark.parametrize("address", READS)
@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_what_another_site_asks_for_is_refused_downloads_included(
    client: Any, address: str, site: str
) -> None:
    assert client.get(address, headers=OWN | {"sec-fetch-site": site}).status_code == 403


@pytest.mark.parametrize(
    "origin",
    ["http://evil.example", "null", "", f"https://{HOST}", "http://127.0.0.1", f"http://localhost:{PORT}"],
)
def test_another_origin_changes_nothing(client: Any, desk: Desk, origin: str) -> None:
    assert change(client, {"panel.width": "400"}, origin=origin).status_code == 403
    assert desk.now.version.text == TEXT


def test_a_missing_origin_changes_nothing(client: Any, desk: Desk) -> None:
    body = {"revision": 1, "changes": {"panel.width": "400"}}
    assert client.post("/desk/change", json=body, headers=without("origin")).status_code == 403
    assert desk.now.version.text == TEXT


@pytest.mark.parametrize("token", ["", "wrong", TOKEN[:-1], TOKEN + "x", "Ä"])
def test_without_the_token_nothing_is_told_or_changed(client: Any, desk: Desk, token: str) -> None:
    headers = {**without("x-underbag-token"), "x-underbag-token": token.encode()}
    assert client.get("/desk/state", headers=headers).status_code == 403
    assert client.get("/desk/copy", headers=headers).status_code == 403
    body = {"revision": 1, "changes": {"panel.width": "400"}}
    assert client.post("/desk/change", json=body, headers=headers).status_code == 403
    assert desk.now.version.text == TEXT


def test_a_foreign_read_is_told_apart_even_without_marks(client: Any) -> None:
    assert client.get("/desk/state", headers={"host": HOST}).status_code == 403


PATHS = (
    "/page/../serve.py",
    "/page/%2e%2e/serve.py",
    "/page/..%2fserve.py",
    "/page/serve.py",
    "/picture/bundle.py",
    "/page//etc/passwd",
    "/../../../../etc/passwd",
    "/etc/passwd",
    "/desk/papers/..%2f..%2fetc%2fpasswd",
    "/page/bench.js%00.css",
)


@pytest.mark.parametrize("path", PATHS)
def test_no_path_leads_out_of_the_pages_own_files(client: Any, path: str) -> None:
    assert client.get(path, headers=OWN).status_code in (404, 405)


@pytest.mark.parametrize("name", ["../../etc/passwd", "/etc/passwd", "shelf.toml", "..", ""])
def test_a_demo_is_no_path(client: Any, desk: Desk, name: str) -> None:
    answer = client.post("/desk/demo", json={"revision": 1, "name": name}, headers=OWN)
    assert answer.status_code == 404
    assert desk.now.version.text == TEXT


def test_200_mb_are_refused_before_they_are_read(client: Any) -> None:
    headers = {**OWN, "content-length": str(200_000_000), "content-type": "application/json"}
    read = []

    def parts() -> Iterator[bytes]:
        read.append(1)
        yield b"x"

    assert client.post("/desk/open", content=parts(), headers=headers).status_code == 413


def test_a_body_without_a_length_is_cut_off_at_the_limit(client: Any, desk: Desk) -> None:
    taken = []

    def parts() -> Iterator[bytes]:
        for _ in range(200):
            taken.append(1)
            yield b'"' + b"x" * 1_000_000

    answer = client.post("/desk/open", content=parts(), headers={**OWN, "content-type": "application/json"})
    assert answer.status_code == 413
    assert desk.now.version.text == TEXT


@pytest.mark.parametrize("length", ["-1", "1e3", "9" * 40, "٣", "x"])
def test_a_length_that_is_none_is_refused(client: Any, length: str) -> None:
    headers = [*OWN.items(), ("content-length", length.encode())]
    assert client.request("POST", "/desk/undo", headers=headers).status_code == 413


BODIES = (
    "",
    "[]",
    "null",
    "{",
    '{"revision": NaN}',
    '{"revision": true, "changes": {"title": "a"}}',
    '{"revision": 1, "changes": []}',
    '{"revision": 1, "changes": {}}',
    '{"revision": 1, "changes": {"panel.length": 7}}',
    '{"revision": 1, "changes": {"panel.length": "' + "9" * 3000 + '"}}',
    "[" * 100_000,
)


@pytest.mark.parametrize("body", BODIES, ids=range(len(BODIES)))
def test_what_is_no_request_of_the_page_changes_nothing(client: Any, desk: Desk, body: str) -> None:
    answer = client.post("/desk/change", content=body, headers={**OWN, "content-type": "application/json"})
    assert answer.status_code == 400
    assert desk.now.version.text == TEXT


def test_a_form_of_another_page_is_no_json(client: Any, desk: Desk) -> None:
    body = json.dumps({"revision": 1, "changes": {"panel.width": "400"}})
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data"):
        answer = client.post("/desk/change", content=body, headers={**OWN, "content-type": kind})
        assert answer.status_code == 400
    assert desk.now.version.text == TEXT


@pytest.mark.parametrize(
    "key", ["", ".", "panel", "panel.nothing", "__proto__.x", "values.a", "a.b.c.d", "panel.length.x"]
)
def test_a_key_that_a_layup_does_not_have_changes_nothing(client: Any, desk: Desk, key: str) -> None:
    answer = change(client, {key: "7"})
    assert answer.status_code in (200, 422)
    assert desk.now.version.text == TEXT


def test_markup_in_a_title_stays_text(client: Any, desk: Desk) -> None:
    told = state_of(change(client, {"title": HOSTILE}))
    assert told["title"] == HOSTILE
    views = client.get("/desk/views", headers=OWN).json()["html"]
    blanks = client.get("/desk/blanks", headers=OWN).json()["html"]
    for html in (*told["html"].values(), views, blanks):
        assert "<script" not in html
        assert "<img" not in html
    assert HOSTILE not in client.get("/", headers=OWN).text


@pytest.mark.parametrize("address", ["/", "/page/bench.js", "/desk/state", "/desk/copy", "/nothing"])
def test_every_answer_carries_its_headers(client: Any, address: str) -> None:
    headers = client.get(address, headers=OWN).headers
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["cross-origin-resource-policy"] == headers["cross-origin-opener-policy"] == "same-origin"
    assert headers["cache-control"] == "no-store"
    assert "access-control-allow-origin" not in headers


def test_a_refusal_carries_them_too(client: Any) -> None:
    headers = client.get("/", headers={"host": "evil.example"}).headers
    assert headers["x-content-type-options"] == "nosniff"


def test_a_copy_is_the_text_as_it_stands(client: Any) -> None:
    assert client.get("/desk/copy", headers=OWN).text == TEXT


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("Writing desk, lid No. 2", "writing-desk-lid-no-2"),
        ('../../etc/"; x=y', "etc-x-y"),
        ("引き出し", "layup"),
        ("a" * 90, "a" * 60),
    ],
)
def test_a_copy_is_named_after_the_job_and_never_leads_elsewhere(client: Any, title: str, name: str) -> None:
    change(client, {"title": title})
    said = client.get("/desk/copy", headers=OWN).headers["content-disposition"]
    assert said == f'attachment; filename="{name}.toml"'


def test_a_step_on_an_old_revision_is_answered_with_the_new_state(client: Any, desk: Desk) -> None:
    assert change(client, {"panel.width": "310"}).status_code == 200
    late = change(client, {"panel.width": "999"}, revision=1)
    assert late.status_code == 409
    assert state_of(late)["values"]["panel.width"]["typed"] == "310"
    assert desk.now.file.layup.panel.width == 310.0


def test_a_file_that_is_no_layup_leaves_the_document(client: Any, desk: Desk) -> None:
    for text in (
        "\x00\x01",
        "panel = 3",
        "length = \n",
        "a" * LARGEST_BODY,
        "[panel]\nlength = 1e999\nwidth = 3",
    ):
        answer = client.post("/desk/open", json={"revision": 1, "text": text}, headers=OWN)
        assert answer.status_code in (400, 413, 422)
    assert desk.now.version.text == TEXT


def test_the_heaviest_plan_that_can_be_written_is_answered(client: Any) -> None:
    """Limits on every number keep the picture within bounds: sixty laminations, twenty metres, a full turn."""
    text = (
        "[panel]\nwidth = 10000\n[bend]\nangle = 340\nradius = 3300\n"
        "[substrate]\nlaminations = 60\nthickness = 1\n"
    )
    answer = client.post("/desk/open", json={"revision": 1, "text": text}, headers=OWN)
    assert answer.status_code == 200
    assert len(answer.content) < 30_000_000


def test_the_demos_come_with_the_program(client: Any, desk: Desk) -> None:
    there = {path.stem for path in (Path(__file__).parents[2] / "demos").glob("*.toml")}
    assert set(client.get("/desk/form", headers=OWN).json()["demos"]) == there


@pytest.mark.parametrize("name", ["shelf", "desk-top"])
def test_a_demo_opens_with_the_drawing_that_it_names(client: Any, desk: Desk, name: str) -> None:
    answer = client.post("/desk/demo", json={"revision": 1, "name": name}, headers=OWN)
    assert answer.status_code == 200
    assert not desk.now.version.at_home
    assert set(desk.beside()) == ({"desk-top.svg"} if name == "desk-top" else set())


def test_every_demo_opens_also_one_that_names_a_drawing(client: Any, desk: Desk) -> None:
    for path in sorted((Path(__file__).parents[2] / "demos").glob("*.toml")):
        answer = client.post("/desk/demo", json={"revision": desk.revision, "name": path.stem}, headers=OWN)
        assert answer.status_code == 200, path.stem
        assert desk.now.version.text == path.read_text("utf-8")
    client.post("/desk/demo", json={"revision": desk.revision, "name": "drawn-front"}, headers=OWN)
    # what follows is still read beside the demo, and its papers take the drawing along
    desk.change({"panel.width": "190"})
    assert desk.pending == {}
    assert desk.now.file.layup.panel.width == 190.0
    assert set(desk.beside()) == {"drawn-front.svg"}


def test_a_text_out_of_the_browser_tells_no_folder(client: Any, desk: Desk) -> None:
    text = '[panel]\nwidth = 180\n[bend]\nfile = "drawn-front.svg"\n'
    answer = client.post("/desk/open", json={"revision": desk.revision, "text": text}, headers=OWN)
    assert answer.status_code != 200
    assert "into one folder" in answer.text
    assert "underbag open FILE" in answer.text
