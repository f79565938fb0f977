"""Mails that come back as files: their words, what is attached to them, and what they quote."""

from __future__ import annotations

import json
from collections.abc import Callable
from email.message import EmailMessage
from email.policy import SMTP
from pathlib import Path

import pytest
from shop import Shop
from test_answers import pack_of
from test_incoming import (
    ALL,
    asked,
    filled_in,
    message,
    nothing,
    put,
    taken,
    yes_to,
)
from test_said import no, saved, yes

from mailmerge.answers.courtesies import is_usual_subject
from mailmerge.answers.mails import is_mail, mail_in, without_own_words
from mailmerge.deeds.client import Message
from mailmerge.findings import InputError

OWN = "ina@cups.example"


def mail(
    text: str, encoding: str = "quoted-printable", subject: str = "Re: Proofs"
) -> EmailMessage:
    made = EmailMessage()
    made["From"] = "Anna Reed <anna@reeds.example>"
    made["To"] = f"Ina Holm <{OWN}>"
    made["Subject"] = subject
    made.set_content(text, cte=encoding)
    return made


def kept(shop: Shop, made: EmailMessage, name: str = "answer.eml") -> Path:
    path = shop.folder / name
    path.write_bytes(made.as_bytes(policy=SMTP))
    return path


def attached(made: EmailMessage, path: Path) -> EmailMessage:
    made.add_attachment(
        path.read_bytes(), maintype="application", subtype="octet-stream", filename=path.name
    )
    return made


@pytest.mark.parametrize("encoding", ["7bit", "quoted-printable", "base64"])
@pytest.mark.parametrize("is_pasted", [False, True])
def test_the_text_in_a_mail_is_read_however_it_is_encoded(
    packed: Shop, encoding: str, is_pasted: bool
) -> None:
    text = f"Hi Ina,\n\n{message(packed, *yes_to(packed, 1, 2))}\n\nThanks!\n"
    path = kept(packed, mail(text, encoding))
    taken(packed, Message(path.read_text(), "pasted") if is_pasted else path)
    assert asked(packed) == []
    assert {n for n, standing in packed.standing().items() if standing == "confirmed"} == {1, 2}


def test_a_mail_of_html_alone_is_read(packed: Shop) -> None:
    lines = message(packed, *yes_to(packed, 1)).replace("\n", "<br>")
    made = mail("")
    made.set_content(
        f"<html><head><style>p {{ color: red }}</style></head><p>{lines}</p></html>", subtype="html"
    )
    taken(packed, kept(packed, made))
    assert (asked(packed), packed.standing()[1]) == ([], "confirmed")


def test_answers_that_are_attached_are_taken_with_what_the_mail_says(packed: Shop) -> None:
    file = saved(packed, "Anna Reed", "2026-11-24T09:00:00+01:00", yes(packed, *ALL))
    taken(packed, kept(packed, attached(mail("Hi Ina\n\nThanks"), file)))
    assert (asked(packed), {*packed.standing().values()}) == ([], {"confirmed"})
    taken(packed, kept(packed, attached(mail("Please wait with cup 3."), file), "second.eml"))
    assert [(items, said) for items, _, said in asked(packed)] == [(ALL, "Please wait with cup 3.")]


@pytest.mark.parametrize(
    ("card", "said"),
    [
        ("BEGIN:VCARD\r\nFN:Anna Reed\r\nTEL:12\r\nEND:VCARD\r\n", []),
        ("BEGIN:VCARD\r\nNOTE;CHARSET=UTF-8:wait wi\r\n th Bo\r\nEND:VCARD\r\n", ["wait with Bo"]),
    ],
)
def test_what_is_noted_on_a_card_about_oneself_is_said(
    packed: Shop, card: str, said: list[str]
) -> None:
    """RFC 6350, 6.7.2 (NOTE) and 3.2 (a line that begins with a blank goes on)."""
    made = mail(message(packed, *yes_to(packed, 1)))
    made.add_attachment(card, subtype="vcard", filename="anna.vcf")
    taken(packed, kept(packed, made))
    assert [words for _, _, words in asked(packed)] == said


def test_a_list_that_is_attached_is_compared_as_any(packed: Shop) -> None:
    path = filled_in(packed, put(7, 8, "Boh, with h"))
    taken(packed, kept(packed, attached(mail("Here is the list. Please wait with Bo."), path)))
    assert [(items, said) for items, _, said in asked(packed)] == [
        ((2,), "Boh, with h"), (ALL, "Here is the list. Please wait with Bo."),
    ]  # fmt: skip


def test_the_same_answers_as_text_and_as_a_file_are_one_and_others_are_refused(
    packed: Shop,
) -> None:
    at = "2026-11-24T09:00:00+01:00"
    file = saved(packed, "Anna Reed", at, yes(packed, 1, 2))
    list_ = filled_in(packed, nothing)
    with pytest.raises(InputError, match="2 answers that differ"):
        taken(packed, kept(packed, attached(attached(mail("Hi"), file), list_)))
    assert {*packed.standing().values()} == {"waiting"}
    again = saved(packed, "Anna Reed", at, yes(packed, 1, 2)).rename(packed.folder / "copy.json")
    taken(packed, kept(packed, attached(attached(mail("Hi"), file.parent / "copy.json"), again)))
    assert packed.standing()[2] == "confirmed"


@pytest.mark.parametrize(
    ("made", "told"),
    [
        (lambda shop: attached(mail("Thanks"), _file(shop, "cup.jpg", b"\xff\xd8")), "cup.jpg"),
        (lambda shop: attached(mail("Thanks"), _file(shop, "answers.json", b"{}")), "answers.json"),
        (lambda shop: attached(mail("Thanks"), _file(shop, "note.txt", b"Anna is\nAnne")),
         "attached, note.txt: Anna is Anne"),
        (lambda _: mail("number 1 is wrong after all"), "number 1 is wrong after all"),
        (lambda _: mail("Thanks", subject="cup 3 is wrong"), "cup 3 is wrong"),
        (lambda _: mail("Thanks", subject="Re: stop cup 3"), "stop cup 3"),
    ],
)  # fmt: skip
def test_what_a_mail_brings_and_is_no_answer_is_a_question_about_all_that_is_to_be_made(
    packed: Shop, made: Callable[[Shop], EmailMessage], told: str
) -> None:
    packed.confirm(1)
    taken(packed, kept(packed, made(packed)))
    ((items, _, said),) = asked(packed)
    assert items == ALL
    assert told in said


def _file(shop: Shop, name: str, data: bytes) -> Path:
    path = shop.folder / name
    path.write_bytes(data)
    return path


QUOTED = f"""\
Right, thanks!

On Fri, 27 Nov 2026 at 10:00, Ina Holm <{OWN}>
wrote:
> Dear Anna, here are the cups. Please look at every letter, and stop me
> if cup 3 is wrong.
>
> > an earlier word
No accents on cup 3.
> Ina
"""


def test_what_a_mail_quotes_of_ours_is_left_out_and_what_is_written_between_stays() -> None:
    left = without_own_words(QUOTED, (OWN,))
    assert [line for line in left.splitlines() if line.strip()] == [
        "Right, thanks!",
        f"On Fri, 27 Nov 2026 at 10:00, Ina Holm <{OWN}> wrote:",
        "No accents on cup 3.",
        "> Ina",
    ]
    assert without_own_words(QUOTED, ("bo@cups.example",)).count(">") == QUOTED.count(">")


def test_a_mail_that_quotes_ours_whole_asks_nothing(packed: Shop, shop_folder: Path) -> None:
    (shop_folder / "shop.toml").write_text(f'[shop]\nname = "Holm"\naddress = ["Kai 4", "{OWN}"]\n')
    quoted = "\n".join(line for line in QUOTED.splitlines()[2:] if "accents" not in line)
    text = f"Hi Ina,\n{message(packed, *yes_to(packed, *ALL))}\nThanks\n\n"
    taken(packed, kept(packed, mail(text + quoted)))
    assert (asked(packed), {*packed.standing().values()}) == ([], {"confirmed"})
    somebody = quoted.replace(OWN, "henk@maas.example")
    taken(packed, kept(packed, mail(text + somebody), "second.eml"))
    assert len(asked(packed)) == 1


def test_a_file_is_a_mail_by_its_head() -> None:
    assert is_mail("saved", mail("x").as_bytes())
    assert not is_mail("saved.txt", b"From: Anna\nTo: Ina\n\nAnswers")
    assert not is_mail("saved.txt", b"Right: all\n")


def test_a_mail_that_is_attached_to_a_mail_is_read_with_it() -> None:
    outer = mail("see below")
    outer.add_attachment(mail("stop cup 3"))
    assert mail_in("m", outer.as_bytes()).text.split("\n")[0::2] == ["see below", "stop cup 3"]


def test_a_wish_in_a_mail_that_was_taken_twice_is_on_record_once(packed: Shop) -> None:
    file = saved(packed, "Anna Reed", "2026-11-24T09:00:00+01:00", no(packed, 2))
    path = kept(packed, attached(mail("Thanks"), file))
    taken(packed, path)
    again = taken(packed, path).taken
    assert again is not None
    assert len(again.again) == 1


SAID = "Hi Ina,\nhere is the list. See <https://reeds.example>\n\nThanks & best,\nAnna Reed\n"
AS_HTML = (
    "<p>Hi&nbsp;Ina,<br>here is <b>the list</b>. <a href='https://reeds.example'>See</a></p>"
    "<div>Thanks &amp; best,</div><div>Anna Reed</div>"
)


@pytest.mark.parametrize("more", ["", "<p>Anna is Anne</p>", "<p>👎</p>", "<p>no</p>"])
def test_what_the_html_of_a_mail_says_beyond_its_plain_words_is_read(more: str) -> None:
    made = mail(SAID)
    made.add_alternative(AS_HTML + more, subtype="html")
    told = mail_in("m", made.as_bytes()).text.split(SAID)[1].strip()
    assert told == more.removeprefix("<p>").removesuffix("</p>")


def test_words_in_a_part_of_html_before_the_list_are_a_question(packed: Shop) -> None:
    made = mail("Hello")
    made.add_attachment(b"<p>Anne, not Anna</p>", "text", "html", filename="x.html",
                        disposition="inline")  # fmt: skip
    taken(packed, kept(packed, attached(made, filled_in(packed, nothing))))
    ((items, _, said),) = asked(packed)
    assert items == ALL
    assert "Anne, not Anna" in said


def test_a_list_within_an_alternative_is_read(packed: Shop) -> None:
    """As programs write that show attachments among the words."""
    inner = EmailMessage()
    inner.set_content("<p>Hello</p>", subtype="html")
    attached(inner, filled_in(packed, nothing))
    made = mail("Hello")
    made.make_alternative()
    made.attach(inner)
    taken(packed, kept(packed, made))
    assert (asked(packed), {*packed.standing().values()}) == ([], {"confirmed"})


@pytest.mark.parametrize(
    ("name", "says_more"),
    [("list - Bo should be Boh.xlsx", True), ("stop 2.xlsx", True), ("Bo Dahl.xlsx", True),
     ("spring-concert-list (1).xlsx", False), ("Spring concert list, filled in.xlsx", False),
     ("Kopie von spring-concert-list_2026-11-27.xlsx", False), ("list Anna Reed.xlsx", False)],
)  # fmt: skip
def test_words_in_an_attachments_name_are_a_question(
    packed: Shop, name: str, says_more: bool
) -> None:
    with packed.changing() as change:
        change.set_fact("title", "Spring concert")
    path = filled_in(packed, nothing).rename(packed.folder / name)
    taken(packed, kept(packed, attached(mail("Hello"), path)))
    wanted = [(ALL, "in the mail, the name of a file", name)] if says_more else []
    assert asked(packed) == wanted


def test_the_name_that_a_page_gives_its_file_says_nothing(packed: Shop) -> None:
    file = saved(packed, "Anna Reed", "2026-11-24T09:00:00+01:00", yes(packed, *ALL))
    page = json.loads(file.read_text())
    file = file.rename(packed.folder / f"answers-{page['pack']}-{page['saving']}.json")
    taken(packed, kept(packed, attached(mail("Hello"), file)))
    assert asked(packed) == []


def test_comments_in_a_mails_head_are_read(packed: Shop) -> None:
    made = mail("Hello")
    made["Comments"] = "Bo is Boh"
    taken(packed, kept(packed, attached(made, filled_in(packed, nothing))))
    assert [(items, said) for items, _, said in asked(packed)] == [(ALL, "Hello / Bo is Boh")]


@pytest.mark.parametrize("said", ["All good!", "Everything is right."])
def test_everything_is_right_in_a_mail_with_an_empty_list_is_a_question(
    packed: Shop, said: str
) -> None:
    made = attached(mail(said), filled_in(packed, nothing, ticks=False))
    taken(packed, kept(packed, made))
    assert [(items, told) for items, _, told in asked(packed)] == [(ALL, said)]
    made = attached(mail(said), filled_in(packed, nothing))
    before = len(asked(packed))
    taken(packed, kept(packed, made, "second.eml"))
    assert len(asked(packed)) == before


def test_a_subject_of_an_answer_that_was_passed_on_is_usual() -> None:
    assert is_usual_subject("Fwd: WG: AW: Proofs Spring concert", "Spring concert")
    assert is_usual_subject("Re: Not only jazz", "Not only jazz")
    assert not is_usual_subject("Fwd: WG: stop cup 3", "Spring concert")


@pytest.mark.parametrize(
    ("subject", "is_usual"),
    [
        ("Spring concert: NUHD-2JJB", True),
        ("Re: Spring  concert: NUHD-2JJB", True),
        ("Re: Spring concert: NUHD-2JJB please Bo with h", False),
        ("Spring concert: NUHD-2JJB, Bo with h", False),
        ("Bo with h Spring concert: NUHD-2JJB", False),
        ("Re: Bo with h, Spring concert: NUHD-2JJB", False),
    ],
)
def test_words_beside_the_subject_that_the_page_writes_are_not_usual(
    subject: str, is_usual: bool
) -> None:
    assert is_usual_subject(subject, "Spring concert") is is_usual


def test_words_behind_the_usual_subject_are_a_question(packed: Shop) -> None:
    subject = f"Re: Spring concert: {pack_of(packed)} Bo with h"
    taken(packed, kept(packed, mail(message(packed, *yes_to(packed, *ALL)), subject=subject)))
    assert [(items, said) for items, _, said in asked(packed)] == [(ALL, subject)]


STRIKING = {
    "s": "<s>{}</s>",
    "strike": "<div><STRIKE>{}</STRIKE></div>",
    "del": "<del>{}",
    "style": '<p><span style="color: red; text-decoration: underline line-through">{}</span>',
    "line": "<div style='TEXT-DECORATION-LINE:line-through'><p>{}<p></div>",
    "class": "<style>p, span.x1 {{color: red; text-decoration: line-through}}</style>"
    '<span class="a x1">{}</span>',
}


@pytest.mark.parametrize("has_plain", [False, True])
@pytest.mark.parametrize("struck", STRIKING.values(), ids=STRIKING)
def test_what_is_struck_out_in_html_is_no_word_of_the_mail(struck: str, has_plain: bool) -> None:
    made = mail("Hello\nRight: 1-5\nEnd\n" if has_plain else "")
    shown = f"<p>Hello</p>{struck.format('Right: 1-5<br>End')}"
    (made.add_alternative if has_plain else made.set_content)(shown, subtype="html")
    read = mail_in("m", made.as_bytes())
    assert (read.text.split(), read.struck.split()) == (["Hello"], ["Right:", "1-5", "End"])


@pytest.mark.parametrize("has_plain", [False, True])
def test_answers_that_are_struck_out_are_a_question_and_no_yes(
    packed: Shop, has_plain: bool
) -> None:
    text = message(packed, *yes_to(packed, 1, 2))
    made = mail(text if has_plain else "")
    shown = f"<s>{text.replace(chr(10), '<br>')}</s>"
    (made.add_alternative if has_plain else made.set_content)(shown, subtype="html")
    taken(packed, kept(packed, made))
    ((items, _, said),) = asked(packed)
    assert items == ALL
    assert said.startswith("struck out, or not to be seen: Answers to proof pack")
    assert packed.records()[1].answers == ()


def test_a_struck_word_beside_answers_holds_every_cup(packed: Shop) -> None:
    lines = message(packed, *yes_to(packed, *ALL)).replace("\n", "<br>")
    made = mail("")
    made.set_content(f"<p>{lines}</p><p><s>All is right with Bo</s></p>", subtype="html")
    taken(packed, kept(packed, made))
    assert {*packed.standing().values()} == {"in question"}
    assert packed.release(reason="in a hurry").released == ()


def test_tildes_around_answers_strike_them_out(packed: Shop) -> None:
    taken(packed, Message(f"~~\n{message(packed, *yes_to(packed, 1))}\n~~", "a text"))
    assert packed.standing()[1] == "in question"


@pytest.mark.parametrize("has_plain", [False, True])
def test_words_in_the_place_of_a_picture_are_a_question(packed: Shop, has_plain: bool) -> None:
    (ours,) = (packed.folder / "proof-pack" / "pictures").glob("*2*.jpg")
    text = message(packed, *yes_to(packed, *ALL))
    made = mail(text if has_plain else "")
    shown = text.replace("\n", "<br>") + '<p>Thanks <img src="cid:1" alt="😊"></p>'
    shown += f'<img alt="{ours.name}"><img src="cid:2" alt="please wait with Bo">'
    (made.add_alternative if has_plain else made.set_content)(shown, subtype="html")
    taken(packed, kept(packed, made))
    ((items, _, said),) = asked(packed)
    assert items == ALL
    assert said.endswith("please wait with Bo")
    assert ours.name not in said


ARMOUR = "-----BEGIN PGP SIGNATURE-----\n\n{}\n-----END PGP SIGNATURE-----\n"
PGP = ARMOUR.format("wsB5BAABCAAjFiEEwq7v\n=r9Qk")
WORDS = ARMOUR.format("please wait with Bo and with Ben")


@pytest.mark.parametrize(
    ("kind", "name", "data", "is_signature"),
    [
        ("pgp-signature", "OpenPGP_signature.asc", PGP, True),
        ("pgp-signature", "OpenPGP_signature.asc", "please wait with Bo", False),
        ("pgp-signature", "OpenPGP_signature.asc", WORDS, False),
        ("pgp-signature", "please wait.asc", PGP, False),
        ("pkcs7-signature", "smime.p7s", "0\x82\x01\x00", True),
        ("pkcs7-signature", "please wait.p7s", "0\x82\x01\x00", False),
        ("pkcs7-signature", "smime.p7s", "please wait", False),
    ],
)
def test_a_signature_says_nothing_if_it_is_one(
    kind: str, name: str, data: str, is_signature: bool
) -> None:
    """RFC 8551, 3.5 (S/MIME); RFC 9580, 6.2 (OpenPGP in letters)."""
    made = mail("Hello")
    made.add_attachment(data.encode("latin-1"), "application", kind, filename=name)
    told = [each.name for each in mail_in("m", made.as_bytes(policy=SMTP)).attached]
    assert told == ([] if is_signature else [name])


@pytest.mark.parametrize(
    ("file", "name", "told"),
    [
        ("anna-reed.vcf", "Anna Reed", ""),
        ("contact.vcf", "Anna Reed", ""),
        ("bo with h.vcf", "Anna Reed", "bo with h"),
        ("anna.vcf", "please wait with Bo", "please wait with Bo"),
    ],
)
def test_words_in_the_place_of_a_cards_name_are_read(file: str, name: str, told: str) -> None:
    made = mail("Hello")
    made.add_attachment(
        f"BEGIN:VCARD\r\nFN:{name}\r\nEND:VCARD\r\n", subtype="vcard", filename=file
    )
    read = mail_in("m", made.as_bytes(policy=SMTP))
    assert (read.text.removeprefix("Hello").strip(), read.attached) == (told, ())


def test_words_that_are_attached_beside_good_answers_are_shown_whole(packed: Shop) -> None:
    note = _file(packed, "note.txt", "Anna ist Änne".encode("cp1252"))
    text = message(packed, *yes_to(packed, *ALL))
    taken(packed, kept(packed, attached(mail(text), note)))
    ((items, _, said),) = asked(packed)
    assert (items, said) == (ALL, "attached, note.txt: Anna ist Änne")


def test_who_a_mail_is_from_and_to_may_sign_it_and_be_greeted(packed: Shop) -> None:
    text = f"Hallo إينا,\n{message(packed, *yes_to(packed, 1))}\nشكرا\nكاترينا"
    for sender, wanted in ("كاترينا روت", 0), ("Bo Dahl", 1):
        made = mail(text)
        del made["From"], made["To"]
        made["From"], made["To"] = f"{sender} <k@x.example>", f"إينا <{OWN}>"
        taken(packed, kept(packed, made))
        assert len(asked(packed)) == wanted


@pytest.mark.parametrize("place", ["Answers to", "Page", "Written"])
@pytest.mark.parametrize("joint", ["\n", " "])
def test_words_between_the_lines_of_the_answers_are_a_question(
    packed: Shop, place: str, joint: str
) -> None:
    rows = message(packed, *yes_to(packed, *ALL)).splitlines()
    (at,) = (number for number, row in enumerate(rows) if row.startswith(place))
    rows[at] += f"{joint}Anna is Anne!"
    taken(packed, Message("\n".join(rows), "a text"))
    ((items, _, said),) = asked(packed)
    assert (items, said) == (ALL, "Anna is Anne!")
    assert packed.release(reason="in a hurry").released == ()
