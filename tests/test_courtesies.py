"""What stands around answers: politeness asks nothing, and what hides in it is asked about.

The mails are made up here, from memory of how people write in each language.
"""

from __future__ import annotations

import pytest
from approvals import HIDING, PLAIN

from mailmerge.answers.courtesies import says_more

GIVER = ("Katharina Roth",)
CUPS = ("Matthew Klein", "Cello", "Zoë Lindqvist", "Viola", "Anna Roth", "Oboe", "Tom Hall")

POLITE = {
    "en": (
        "Hello Ina,|Best regards, Katharina", "Hi Ina|Many thanks and best wishes|Katharina Roth",
        "Dear Ms Holm|Yours faithfully|Katharina Roth|Harbour Lane Orchestra",
        "Good afternoon,|Kind regards|Katharina Roth (Ms)", "Hello,|Thank you so much!|Katharina",
        "Hi|Thx|K", "Hey Ina!|Best|Katharina", "Ina,|Regards|KR",
        "Dear Ina,|Thank you for your help.|Best regards|K. Roth",
        "Hello Ina,|thank you for the proofs.|Kind regards,|Katharina",
        "Dear Sir or Madam,|Yours faithfully,|K. Roth", "Hi Ina,|Here you go.|Cheers|Katharina",
        "Dear all|Warmest regards|Katharina Roth|Tel. 01632 960123",
        "Hello Ina,|Best regards|Katharina Roth|roth@orchestra.example|www.orchestra.example",
        "Good morning Ina,|Have a nice day|Katharina", "Dear Ladies and Gentlemen,|Sincerely",
        "Hi there,|Thanks a lot for the lovely proofs and your quick reply!|xx|Kathi",
        "Dear Ms Holm and Mr Lind,|With kind regards|Katharina Roth, Secretary",
        "Hello team,|Thank you very much indeed.|All the best from all of us at Harbour Lane Choir",
        "Dear Ina|I hope you are well.|Here are our answers.|Thank you for all your hard work.",
        "Good evening|Thanks again and have a lovely weekend!|Katharina",
        "|Much appreciated. Have a great week.|K. R.", "|With very best wishes|Katharina Roth",
        "To whom it may concern|Yours sincerely|Katharina Roth|12 Winter Road|SW1A 1AA",
        "Hello Ina,|We are very grateful for your patience.|Thank you and kind regards|Katharina",
        "Dear Dr Holm,|Thank you in advance.|Looking forward to seeing them.|Katharina 🎻",
        "Hi Ina|Please find attached our answers.|Thank you, and see you soon|020 7946 0018",
    ),
    "de": (
        "Hallo Ina,|Viele Grüße, Katharina",
        "Guten Tag Frau Holm,|Mit besten Grüßen|Katharina Roth",
        "Sehr geehrte Frau Holm,|Mit freundlichem Gruß|K. Roth", "Moin,|LG Katharina",
        "Liebe Frau Holm,|Herzliche Grüße|Ihre Katharina Roth", "Hallo,|Danke!|Katharina",
        "Guten Morgen,|Vielen Dank und liebe Grüße|Katharina", "Guten Tag,|MfG|Roth",
        "Servus Ina,|Schöne Grüße|Kathi", "Hallo zusammen,|Beste Grüße|K. Roth",
        "Guten Abend,|Danke und schöne Grüße|K. Roth", "Guten Tag,|Besten Dank|K. Roth",
        "Sehr geehrte Damen und Herren,|Vielen Dank für Ihre Mühe.|Mit freundlichen Grüßen",
        "Hallo Ina,|vielen Dank für die schönen Entwürfe!|Liebe Grüße|Katharina",
        "Liebes Team,|herzlichen Dank und ein schönes Wochenende|Katharina",
        "Grüß Gott Herr Lind,|hier sind unsere Antworten.|Freundliche Grüße|K. Roth",
        "Hallo Frau Dr. Holm,|Danke im Voraus.|Viele Grüße an alle|Katharina Roth",
        "Guten Tag Frau Holm,|anbei unsere Antworten.|Schönen Tag noch!|K. Roth",
        "Lieber Herr Lind,|wir danken Ihnen herzlich für Ihre Geduld.|Herzlichst|Katharina",
        "Hallo Ina|Tausend Dank!|Bis bald|KR", "Moin moin,|Alles Gute und bis bald|Katharina",
        "Guten Tag,|Mit freundlichen Grüßen|Katharina Roth|Hafengasse 7|20095 Hamburg",
        "Hallo,|Viele Grüße|Katharina Roth|Tel.: 040 123456-78", "Hi Ina,|lieber Gruß|Katharina",
        "Sehr geehrter Herr Lind,|nochmals vielen Dank.|Hochachtungsvoll|Katharina Roth",
        "Hallo Ina,|danke schön für alles|ganz liebe Grüße an das ganze Team|Katharina",
        "Einen schönen guten Tag,|Danke sehr und beste Grüße|Ihre Katharina Roth",
    ),
    "fr": (
        "Bonjour Madame,|Bien cordialement,|K. Roth", "Chère Ina,|Amicalement|Katharina",
        "Bonsoir,|Merci et bonne soirée|Katharina", "Salut Ina,|Bises|Katharina",
        "Madame, Monsieur,|Salutations distinguées|K. Roth", "Bonjour,|Merci d'avance|K. Roth",
        "Bonjour,|Bonne journée|K. Roth", "Bonjour Ina,|Merci beaucoup pour votre aide.|Katharina",
        "Chers tous,|Un grand merci pour votre beau travail !|Bien à vous|Katharina Roth",
        "Bonjour Madame Holm,|Voici nos réponses.|Cordialement|Katharina Roth",
        "Madame,|Je vous remercie par avance.|Sincères salutations|K. Roth",
        "Cher Monsieur,|Je vous prie d'agréer mes salutations distinguées.|Katharina Roth",
        "Bonjour à tous,|Merci à toute l'équipe|À bientôt|Katharina",
        "Bonjour,|Mille fois merci|K. Roth", "Coucou Ina,|Grosses bises|K",
        "Bonjour,|Merci encore et bon week-end|Katharina",
        "Bonsoir Madame,|Respectueusement|K. Roth",
        "Bonjour Ina,|Avec tous mes remerciements|Katharina Roth",
        "Chère Madame,|Nous vous remercions vivement.|K. Roth",
        "Bonjour,|Passez une bonne journée|Katharina Roth", "Bonjour,|Très cordialement|KR",
        "Mesdames, Messieurs,|Meilleures salutations|Katharina Roth|12 rue de la Paix|75002 Paris",
        "Bonjour,|Ci-joint nos réponses.|Belle journée à vous|Katharina",
        "Bonjour,|Merci infiniment pour votre patience et votre gentillesse|Katharina",
        "Bonjour Ina,|Chaleureusement|Katharina Roth|Tél. 01 42 68 53 00",
        "Bonjour,|Veuillez agréer, Madame, l'expression de mes sentiments distingués.|K. Roth",
        "Cher Monsieur Lind,|Merci pour tout et à très bientôt|Katharina Roth",
    ),
    "es": (
        "Estimada Ina:|Atentamente|K. Roth", "Hola,|Gracias|Katharina", "Hola Ina,|Saludos|K. Roth",
        "Buenas tardes,|Muchas gracias y un saludo|K. Roth", "Querida Ina:|Un abrazo|Katharina",
        "Buenos días,|Gracias de antemano|K. Roth",
        "Hola a todos,|Un cordial saludo|Katharina Roth",
        "Estimados señores:|Atentamente|Katharina Roth", "Muy buenas,|Mil gracias|Katharina",
        "Estimada señora Holm:|Muchas gracias por su ayuda.|Saludos cordiales|K. Roth",
        "Hola Ina,|Muchísimas gracias por todo el trabajo|Un fuerte abrazo|Katharina",
        "Buenos días,|Aquí están nuestras respuestas.|Gracias y saludos|Katharina",
        "Hola,|Que tenga un buen día|K. Roth", "Buenas noches,|Feliz fin de semana|Katharina",
        "Hola Ina:|Gracias por su paciencia y su amabilidad|KR", "Hola,|Hasta pronto|Katharina",
        "Estimado señor Lind:|Reciba un cordial saludo|Katharina Roth",
        "Buenas,|Te agradezco mucho tu ayuda|Besos|Katharina",
        "Buenos días, Ina:|Un saludo muy cordial|K. Roth", "Hola,|Cordialmente|Katharina",
        "Hola equipo,|Muchas gracias a todos|Un abrazo a todos|Katharina",
        "Buenos dias,|Adjunto nuestras respuestas.|Muchas gracias|K. Roth",
        "Apreciada Ina,|Gracias de corazón|Saludos de Katharina Roth",
        "Hola,|Un saludo|Katharina Roth|Calle Mayor 5|28013 Madrid",
        "Hola,|Saludos|Katharina Roth|Tel. 612 345 678",
        "Querido equipo:|Buen trabajo|Gracias|K. R.",
        "Buenas tardes,|Le deseo una feliz semana|Muy atentamente|Katharina Roth",
    ),
    "pl": (
        "Szanowna Pani Ino,|Z wyrazami szacunku|K. Roth", "Cześć Ina,|Dzięki|Katarzyna",
        "Witam,|Pozdrawiam serdecznie|K. Roth", "Dzień dobry,|Dziękuję i pozdrawiam|K. Roth",
        "Szanowni Państwo,|Z poważaniem|Katharina Roth", "Hej Ina,|Wielkie dzięki!|Katharina",
        "Dzień dobry Pani Ino,|Bardzo dziękuję za pomoc.|Serdecznie pozdrawiam|K. Roth",
        "Dobry wieczór,|Z góry dziękuję|Katharina Roth", "Droga Ino,|Uściski|Katharina",
        "Witam serdecznie,|Dziękujemy bardzo za szybką odpowiedź|Pozdrawiamy",
        "Dzień dobry,|Oto nasze odpowiedzi.|Pozdrowienia|Katharina", "Cześć,|Pzdr|K",
        "Szanowny Panie,|Łączę wyrazy szacunku|Katharina Roth", "Dzień dobry,|Miłego dnia|KR",
        "Dzień dobry,|Jeszcze raz dziękuję i życzę miłego weekendu|Katharina",
        "Drodzy,|Dziękuję za wszystko|Ciepło pozdrawiam|Katharina", "Witaj Ino|Dzięki za projekty",
        "Dzien dobry,|Dziekuje bardzo|Pozdrawiam|K. Roth", "Dzień dobry,|Do usłyszenia|Katharina",
        "Szanowna Pani,|Z serdecznymi pozdrowieniami|Katharina Roth",
        "Dzień dobry,|Przesyłam listę.|Pozdrawiam|Katharina", "Hej,|Moc pozdrowień|Katharina",
        "Szanowni Państwo,|Dziękuję za Państwa cierpliwość|Z poważaniem|Katharina Roth",
        "Dzień dobry,|Pozdrawiam|Katharina Roth|ul. Długa 5|00-238 Warszawa",
        "Dzień dobry,|Pozdrawiam|Katharina Roth|tel. 601 234 567",
        "Dzień dobry|Wszystkiego dobrego",
        "Szanowna Pani Holm,|Dziękuję pięknie oraz życzę spokojnego wieczoru|Katharina",
    ),
    "cy": (
        "Helo Ina,|Diolch|K. Roth", "Bore da,|Diolch yn fawr|K. Roth",
        "Annwyl Ina,|Yn gywir|K. Roth", "Shwmae Ina|Hwyl|Katharina",
        "Prynhawn da,|Diolch yn fawr iawn|Katharina Roth",
        "Annwyl Syr neu Fadam,|Yr eiddoch yn gywir|Katharina Roth", "Noswaith dda,|Cofion|K",
        "Helo bawb,|Diolch am eich help|Cofion gorau|Katharina",
        "S'mae Ina,|Diolch o galon|Katharina",
        "Annwyl Ms Holm,|Diolch yn fawr am y proflenni|Cofion cynnes|Katharina Roth",
        "Helo,|Dyma ein hatebion.|Diolch|Cofion|Katharina",
        "Bore da Ina,|Mwynhewch y penwythnos|Katharina", "Helo,|Penwythnos da|KR",
        "Bore da i bawb,|Diolch am bopeth|Hwyl fawr|Katharina", "Helo,|Pob hwyl|Katharina",
        "Annwyl Ina|Gyda diolch|Katharina Roth", "Helo Ina,|Diolch ymlaen llaw|Katharina",
        "Helo Ina|Diolch i chi i gyd|Cofion caredig|Katharina", "Hylo,|Hwyl am y tro|K. Roth",
        "Annwyl gyfeillion,|Dymuniadau gorau|Katharina Roth", "Helo,|Llawer o ddiolch|Katharina",
        "Noswaith dda Ina,|Nos da|Katharina", "Helo,|Diolch eto a hwyl|Katharina",
        "Cyfarchion,|Gyda chofion gorau|Katharina Roth|Heol Fawr 5|CF10 1AA",
        "Bore da,|Gyda phob dymuniad da|Katharina", "Helo,|Tan toc|K",
        "Annwyl Mr Lind,|Diolch am dy waith hyfryd|Yn ddiffuant|Katharina Roth|Ffôn 029 2018 0123",
    ),
    "ar": (
        "السلام عليكم،|شكرا", "مرحبا،|شكراً جزيلاً", "صباح الخير،|مع التحية", "مساء الخير،|تحياتي",
        "السلام عليكم ورحمة الله وبركاته،|مع خالص التحية", "أهلاً وسهلاً،|أطيب التحيات",
        "مرحباً،|مع أطيب التحيات|سارة الخطيب", "السادة الكرام،|وتفضلوا بقبول فائق الاحترام",
        "عزيزتي سارة،|شكرا لكم|سارة", "تحية طيبة وبعد،|شكرا على مساعدتكم", "مرحبا،|ألف شكر",
        "السيدة الفاضلة،|مع فائق الاحترام والتقدير|سارة الخطيب", "صباح النور،|شكرا لك|سارة",
        "مرحبا بكم،|هذه إجاباتنا|شكرا جزيلا لكم", "السلام عليكم|إليكم إجاباتي|مع الشكر",
        "مرحبا،|نشكركم على صبركم|تحياتنا", "مساء النور،|مع جزيل الشكر|سارة الخطيب",
        "السلام عليكم،|يوم سعيد", "مرحبا،|أتمنى لكم يوما سعيدا|سارة", "أهلا،|دمتم بخير",
        "السيد المحترم،|مع خالص الشكر والتقدير", "مرحبا،|شكرا على كل شيء|إلى اللقاء",
        "صباح الخير جميعا،|شكرا على ردكم السريع|مع التحية|سارة الخطيب", "مرحبا،|مع السلامة",
        "السلام عليكم،|بارك الله فيكم|سارة", "مرحبا،|عمل رائع، شكرا|هاتف 0123456789",
        "السلام عليكم،|مع تحياتي|سارة الخطيب|sara@orchestra.example",
    ),
}  # fmt: skip

ASKING = {
    "en": (
        "Hi Ina, Anne|Best, K", "Hello Anne not Anna|Regards", "|Best regards to all but number 3",
        "Hello Ina,|Thanks, not 3", "|Kind regards|Katharina Roth|3 = Anne", "Hi|3?",
        "|Thanks. Stop.", "|Best wait|K", "Dear Ina (3 no)", "|Sent from my iPhone 3 Anne",
        "|Thanks for adding Ida Berg", "|Thank you for changing Anna to Anne!", "|Thank you, but|K",
        "Hi Ina, nice proofs, wrong oboe|Best", "|Kind regards, Katharina Roth, who is not Anna",
        "|Best|Katharina|PS Anne", "|Regards|3 4 5 6 7 8", "|Thanks for the proofs except one",
        "|Many thanks, Anne Roth", "|Thanks|Gold", "|Regards|Gold 3", "|Regards|Left Handle",
        "|Thank you for your patience with number 3", "|Regards|100 101 102", "Hello no|",
        "|Have a nice day! Cancel 3.", "|Thanks|לא", "|Regards|待って", "|Thanks|谢谢 等一下",
        "|Thanks|ждите", "|Thanks again for your help, again", "|Best wishes and one correction",
        "Anne,|Thanks", "|Kind regards from Anne", "|Thank you for the other proofs",
        "Hello Bigger|Thanks", "|Thanks|Cancelled", "|Thanks|Нет", "|Thanks|Three", "|Thanks|Nope",
        "|Regards|stop@engraving.example", "Hello Thom|Thanks", "|Regards|0 1 2 3 4 5 6",
        "|Thanks|Typo There", "|Thanks|Tuba", "|Thanks|VII",
    ),
    "de": (
        "Hallo Ina, Anne|Viele Grüße", "|Viele Grüße, bitte noch warten", "|Danke, aber nicht 3",
        "|Mit freundlichen Grüßen|Anne ohne a", "|LG, Anna = Anne", "Guten Tag, halt|Danke",
        "|Danke und Stopp", "|Vielen Dank, außer 3", "|Danke für die Änderung von Anna",
        "|Viele Grüße, die dritte ist falsch", "|Danke|Gold", "|Besten Dank und noch eine Bitte",
        "|Danke, nur nicht die Oboe", "|Vielen Dank für die Mühe mit 3", "|Danke|Dritte",
        "Anne,|Danke",
    ),
    "fr": (
        "Bonjour, Anne|Merci", "|Merci, sauf 3", "|Cordialement, Anna s'écrit Anne",
        "|Merci d'attendre", "|Merci pour votre aide mais pas 3", "|Merci|Or", "Bonjour Or|Merci",
        "|Merci de ne pas graver", "|Bonne journée, changez Anna", "|Merci de corriger",
        "|Bien cordialement, la troisième est fausse", "|Merci beaucoup sans l'accent",
        "|Merci|Troisième",
    ),
    "es": (
        "Hola, Anne|Gracias", "|Gracias, menos el 3", "|Un saludo, esperen", "|Gracias, pero no",
        "|Muchas gracias por cambiar Anna", "|Gracias, excepto la tercera", "|Saludos|No",
        "|Gracias por su ayuda sin el 3", "|Gracias|Oro", "|Un abrazo y una corrección",
        "|Gracias por esperar", "Hola, falta uno|Gracias",
    ),
    "pl": (
        "Dzień dobry, Anne|Pozdrawiam", "|Pozdrawiam, oprócz 3", "|Dziękuję, ale nie 3",
        "|Dziękuję za zmianę", "|Pozdrawiam, proszę czekać", "|Dzięki|Złoto", "|Dziękuję bez 3",
        "|Dziękuję i proszę o poprawkę", "|Z poważaniem, trzeci źle", "|Dziękuję, tylko Anna nie",
        "|Pozdrawiam|Nie", "Cześć stop|Dzięki",
    ),
    "cy": (
        "Helo, Anne|Diolch", "|Diolch, ond nid 3", "|Diolch am newid Anna", "|Cofion, heb 3",
        "|Diolch, arhoswch", "|Hwyl, mae un yn anghywir", "|Diolch|Nid Anna", "|Diolch|Aur",
        "|Diolch am bopeth ond un", "|Yn gywir, peidiwch", "Helo dim|Diolch", "|Diolch, y trydydd",
    ),
    "ar": (
        "مرحبا، آن|شكرا", "|شكرا، ما عدا 3", "|شكرا، ليس 3", "|شكرا|انتظروا", "|شكرا، توقفوا",
        "|تحياتي|ليس آنا", "|شكرا|آن", "|شكرا|لا", "|مع أطيب التحيات|ما عدا الثالث", "|شكرا|3",
        "|شكرا|الثالث خطأ", "مرحبا انتظروا|شكرا", "مرحبا لا|شكرا", "|شكرا على تغيير آنا",
        "عزيزتي لا|شكرا", "|شكرا|٣",
    ),
}  # fmt: skip


def rows(mail: str) -> list[str]:
    return [row for row in mail.split("|") if row]


@pytest.mark.parametrize("language", POLITE)
def test_a_mail_that_is_polite_and_no_more_asks_nothing(language: str) -> None:
    known = ("سارة الخطيب",) if language == "ar" else GIVER
    assert [mail for mail in POLITE[language] if says_more(rows(mail), known, CUPS)] == []
    assert len(set(POLITE[language])) >= 25


@pytest.mark.parametrize("language", ASKING)
def test_what_hides_in_a_polite_mail_is_asked_about(language: str) -> None:
    known = ("سارة الخطيب",) if language == "ar" else GIVER
    assert [mail for mail in ASKING[language] if not says_more(rows(mail), known, CUPS)] == []
    assert len(set(ASKING[language])) >= 10


@pytest.mark.parametrize(
    ("signed", "known", "asks"),
    [
        ("كاترينا روت", ("كاترينا روت",), False),
        ("كاترينا روت", (), True),
        ("כתרינה", ("כתרינה",), False),
        ("不要", (), True),
        ("Nell Lind", (), False),
        ("katharina", (), True),
        ("katharina", GIVER, False),
        ("kr", GIVER, False),
        ("kr", (), True),
        ("KR", ("Ms Roth",), False),
        ("VII", ("Ms Roth",), True),
        ("X", ("Ms Roth",), True),
        ("Katarzyna", (), False),
    ],
)
def test_in_a_script_without_capitals_only_who_is_known_signs(
    signed: str, known: tuple[str, ...], asks: bool
) -> None:
    assert says_more(["Thanks", signed], known, CUPS) is asks


@pytest.mark.parametrize(
    ("signed", "asks"),
    [
        ("+44 20 7946 0018", False), ("020 7946 0018", False), ("Tel. 612 345 678", False),
        ("612345678", False), ("(0171) 555 0100", False), ("3 4 5 6 7 8", True),
        ("1 - 3 - 5", True), ("101 102 103", True), ("7 Winter Road", False),
        ("Winter Road 7, 9", True),
        ("10115 Berlin", False), ("10115", True), ("Holm 3", True), ("Joan White", False),
        ("White", True), ("Third White", True),
    ],
)  # fmt: skip
def test_numbers_below_a_name_are_a_telephone_or_an_address_or_are_asked_about(
    signed: str, asks: bool
) -> None:
    assert says_more(["Regards", "Katharina", signed], GIVER, CUPS) is asks


def test_a_polite_line_without_end_is_soon_read() -> None:
    assert says_more(["with many thanks " * 2000 + "but not 3"], GIVER)


@pytest.mark.parametrize("language", PLAIN)
def test_approval_in_other_words_than_yes_asks_nothing_beside_a_yes_to_all(language: str) -> None:
    known = ("سارة الخطيب",) if language == "ar" else GIVER
    asked = [m for m in PLAIN[language] if says_more(rows(m), known, CUPS, is_all_right=True)]
    assert asked == []
    assert any(says_more(rows(mail), known, CUPS) for mail in PLAIN[language])


@pytest.mark.parametrize("language", HIDING)
def test_what_hides_behind_an_approval_is_asked_about(language: str) -> None:
    known = ("سارة الخطيب",) if language == "ar" else GIVER
    missed = [m for m in HIDING[language] if not says_more(rows(m), known, CUPS, is_all_right=True)]
    assert missed == []
