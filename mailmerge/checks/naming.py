"""Findings about a name as a name: what no person is called, and what a slip made of one."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator

from mailmerge.checks import words
from mailmerge.checks.offices import OFFICES
from mailmerge.checks.phrases import ANSWERS, closes, greets, is_surely_greeting, is_to_be_filled
from mailmerge.findings import Finding, Severity
from mailmerge.guests.codepages import decoded, misread
from mailmerge.guests.exchanged import is_borne, is_rather_first, is_usual_first, is_usual_last
from mailmerge.guests.kinds import kind_of
from mailmerge.guests.names import (
    OF_NOBLES,
    SUFFIXES,
    is_particle,
    is_title,
    plain,
    read_as_icelandic,
    titled,
)
from mailmerge.guests.roles import DONE, KNOWN, SECTIONS, is_played
from mailmerge.guests.tables import Kind

_NOBODY = frozenset(
    plain(word)
    for line in (
        "tba|tbc|tbd|tbn|to be announced|to be confirmed|to be decided|to follow|n/a|n.a.|none|"
        "nobody|no one|nil|unknown|not known|anonymous|total|totals|subtotal|sub-total|"
        "grand total|see above|see below|as above|same as above|same|ditto|idem|dto|blank|empty|"
        "x|xx|xxx|-|--|?|??|???|...|placeholder|asdf|test|tester|test test|name|your name|"
        "first last|name surname|first name last name|vorname nachname|prénom nom|nombre apellido|"
        "viele grüße|liebe grüße|kind regards|best wishes|"
        "name here|first name|last name|surname|thank you|thanks|thank you so much|many thanks|"
        "end|end of list|pending|vacant|unassigned|unconfirmed|undecided|undefined|cancelled|"
        "canceled|"
        "withdrawn|declined|no show|no-show|absent|missing|illegible|dummy|lorem ipsum|no name|"
        "name pending|name to come|awaiting name|to come|left blank|open seat|seat free|free|null|"
        "nil|nan|sum|count|average|notes|note|remarks|continued|page|contact|admin|nothing|"
        "someone|somebody|anyone|anybody|whoever|who|not applicable|do not engrave|void|tbs",
        "platzhalter|abgesagt|entfällt|unklar|noch unklar|ausstehend|steht noch aus|kein name|"
        "ohne name|ohne namen|namenlos|leer|frei|irgendwer|jemand|fehlt|nicht bekannt|bemerkung",
        "en attente|annulé|annulée|absent|absente|à préciser|sans nom|quelqu'un|vide|libre|"
        "manquant|"
        "pendiente|vacante|cancelado|cancelada|ausente|sin nombre|alguien|por asignar|libre|nada|"
        "in attesa|annullato|annullata|assente|senza nome|qualcuno|da assegnare|libero|mancante|"
        "afgemeld|vervalt|afwezig|zonder naam|iemand|vrij|ontbreekt|nog onbekend|naamloos|"
        "pendente|a determinar|cancelado|sem nome|alguém|vago|falta|a designar",
        "saknas|avbokad|inställt|utan namn|någon|namnlös|mangler|avlyst|aflyst|uten navn|uden navn|"
        "noen|nogen|ledig|ikke klar|puuttuu|peruttu|ei nimeä|joku|tyhjä|ei tiedossa|avoin",
        "do ustalenia|nieobecny|nieobecna|odwołane|puste|ktoś|bez nazwiska|bez imienia|nieznane|"
        "bude upřesněno|chybí|zrušeno|nikdo|někdo|prázdné|bez jména|hiányzik|üres|törölve|valaki",
        "iptal|boş|belirsiz|yok|isimsiz|birisi|уточняется|отсутствует|отменено|пусто|"
        "неизвестен|неизвестна|кто-то|без имени|не указано|εκκρεμεί|κενό|ακυρώθηκε|απών|κάποιος|"
        "χωρίς όνομα|未定|不明|なし|無し|未确定|待定|无|미정|없음|غير معروف|لا يوجد|לא ידוע|אין",
        "neznáme|unbekannt|noch offen|offen|folgt|wird nachgereicht|siehe oben|wie oben|keine|"
        "keiner|"
        "niemand|k.a.|k. a.|gesamt|summe|insgesamt|zwischensumme|danke|vielen dank|n.n.|nn",
        "inconnu|inconnue|à confirmer|à définir|à déterminer|à venir|voir ci-dessus|néant|aucun|"
        "personne|merci|total général",
        "desconocido|desconocida|por confirmar|por definir|ver arriba|ninguno|nadie|gracias|vacío",
        "sconosciuto|sconosciuta|da confermare|da definire|vedi sopra|nessuno|totale|grazie|vuoto",
        "onbekend|nog te bepalen|volgt|zie boven|geen|niemand|totaal|bedankt|leeg",
        "desconhecido|desconhecida|a confirmar|a definir|ver acima|nenhum|ninguém|obrigado|vazio",
        "okänd|okänt|se ovan|ingen|totalt|tack|ukjent|se over|takk|ukendt|se ovenfor|i alt|tak",
        "nieznany|nieznana|brak|nikt|razem|suma|dziękuję|neznámý|neznámá|nikdo|celkem|děkuji",
        "tuntematon|ei kukaan|yhteensä|kiitos|ismeretlen|senki|összesen|köszönöm",
        "bilinmiyor|toplam|teşekkürler|неизвестно|итого|всего|спасибо|нет|άγνωστος|σύνολο",
        "vacancy|vacancies|unnamed|unfilled|unallocated|not named|no guest|example|sample name|"
        "john smith (example)|john doe|jane doe|joe bloggs|first|last|firstname|lastname|forename|"
        "max mustermann|erika mustermann|mustermann|beispiel|muster|nachname|vorname|"
        "exemple|nom prénom|ejemplo|nombre y apellido|fulano de tal|fulano|nome cognome|"
        "cognome nome|cognome|esempio|mario rossi (esempio)|nome e cognome|nome sobrenome|exemplo|"
        "jan modaal|voornaam achternaam|voorbeeld|n.v.t.|nvt|ola nordmann|kari nordmann|"
        "exempel|eksempel|esimerkki|imię i nazwisko|imię nazwisko|przykład|jméno příjmení|"
        "bude doplněno|doplníme|örnek|ad soyad|adı soyadı|imya familiya|имя фамилия|имя|фамилия|"
        "образец|пример|παράδειγμα|ονοματεπώνυμο|summa|summe|gesamtsumme|例|見本|記入例|氏名|姓名",
        "n/k|copy of row|delete me|delete|skip|will advise|vakant|vacature|necunoscut|отмена|"
        "foo bar|foo|test entry|test person|test guest|test user|test name|zusammen|"
        "see note|see notes|see remark|see remarks|see list|see comment|see comments|dito|testing|"
        "siehe notiz|siehe bemerkung|voir note|voir remarque|ver nota|ver notas|vedi nota|"
        "vedi note|zie opmerking|zie notitie|se notat|se anmärkning|patrz uwagi|viz poznámka|"
        "somme|sous-total|sous total|somma|subtotale|soma|subtotaal|delsumma|delsum|summa "
        "summarum|łącznie|ogółem|součet|mezisoučet|összeg|végösszeg|loppusumma|genel toplam|"
        "ara toplam|сумма|всё|итог|άθροισμα|合計|总计|합계|المجموع|סך הכל|prueba|essai|prova|teste|"
        "testi|próba|zkouška|deneme|тест|проба|проверка|δοκιμή|テスト|测试|테스트|اختبار|בדיקה",
        "new row|new name|new guest|new entry|new line|abc|role|rolle|rôle|qty|nr|instrumento|"
        "guest list|list of guests|list|gästeliste|liste des invités|lista de invitados|"
        "lista degli ospiti|lista de convidados|gastenlijst|gästlista|gjesteliste|gæsteliste|"
        "lista gości|seznam hostů|vendéglista|vieraslista|misafir listesi|список гостей|"
        "λίστα καλεσμένων|meddelas senare|meddeles senere|kommer senare|kommer senere|"
        "ilmoitetaan myöhemmin|nosaukums nav zināms|nav zināms|nežinomas|nežinoma|teadmata|"
        "neznano|neznan|nepoznat|nepoznato|neznámy|neznáma|непознат|неизвестен гост|невідомо|"
        "невідомий|sem identificação|chưa biết|chưa có|không có|không rõ|chưa xác định|"
        "ไม่ทราบ|ไม่มี|ยังไม่ทราบ|รอยืนยัน|ไม่ระบุ|belum tahu|belum ada|tidak ada|tidak diketahui|"
        "akan menyusul|無名|匿名|未登録|追って連絡|未記入|空欄|"
        "不详|未知|空|匿名|暂无|暫無|미상|미기재|"
        "추후 통보|غير محدد|مجهول|لاحقا|فارغ|لم يحدد|לא נמסר|טרם נקבע|אנונימי|"
        "אלמוני|ללא שם|بدون اسم|بلا اسم|نامعلوم|नाम नहीं|अज्ञात|nav|nėra|puudub|ninguno aún|"
        "inconnu(e)|tundmatu|nezināms|nezināma|nezinoms|skrásett síðar|óþekkt|óþekktur|vantar|"
        "ukjend|dim enw|anhysbys|anaithnid|gan ainm|ezezaguna|izenik ez|desconegut|sense nom|"
        "per confirmar|necunoscută|fără nume|de confirmat|de stabilit|в процесі|невідома|"
        "cancelled|has cancelled|is not coming|isn't coming|not attending|cannot come|can't come|"
        "kommt nicht|nimmt nicht teil|hat abgesagt|verhindert|ne vient pas|ne viendra pas|excusé|"
        "excusée|no viene|no asiste|no vendrá|non viene|non verrà|komt niet|verhinderd|não vem|"
        "kommer inte|kommer ikke|forhindret|ei tule|nie przyjdzie|nie będzie|nepřijde|nepríde|"
        "nem jön|nem ismert|nu vine|nu se știe|nu știm|nu se stie|neatvyks|nedalyvaus|neieradīsies|"
        "nebūs|ei osale|gelmeyecek|gelmiyor|katılmıyor|ne dolazi|ne pride|не придёт|не будет|"
        "не приедет|не прийде|няма да дойде|δεν θα έρθει|δεν έρχεται|δεν έχει απαντήσει|ακυρώθηκε|"
        "chưa biết tên|đã hủy|không đi|không đến|không tham gia|vắng mặt|"
        "ไม่ทราบชื่อ|ไม่มา|ไม่เข้าร่วม|ยกเลิก|ว่าง|tidak hadir|tidak datang|"
        "لن يحضر|لا يحضر|لا أحد|ملغى|غائب|الضيف|اسم الضيف|לא מגיע|לא יגיע|בוטל|שם האורח|אף אחד|"
        "欠席|不参加|キャンセル|中止|辞退|不来|不來|缺席|取消|不参加|请假|無人|无人|불참|취소|결석|없습니다|"
        "नहीं आएंगे|رد شده|نمی‌آید|لغو شد|"
        "various|diverse|diverses|verschiedene|divers|diversi|varios|vari|diversen|olika|"
        "forskellige|różne|různé|egyéb|çeşitli|разное|διάφορα|insert name|enter name|type name|"
        "fill in|name goes here|insert here|άγνωστο|άγνωστη|and so on|and others|etc|et al|"
        "etcetera|"
        "usw|u.s.w|u. s. w|u.a|u. a|usf|ecc|e.t.c|as discussed|as agreed|as before|as usual|"
        "as last year|still missing|still to come|still open|idk|dunno|tbh|deceased|maybe|perhaps|"
        "other|others|misc|miscellaneous|deleted|ignore|"
        ""
        "do|s.o|s. o|s.u|s. u|krank|übertrag|nachzügler|sonstige|sonstiges|andere|abwesend|"
        "wie besprochen|wie gehabt|wie üblich|wie immer|mit freundlichen grüßen|mfg|und so weiter|"
        "non communiqué|pas communiqué|comme convenu|comme ci-dessus|idem ci-dessus|voir plus haut|"
        "ci-dessus|autre|autres|décédé|décédée|malade|et ainsi de suite|"
        "igual que arriba|como arriba|véase arriba|otro|otra|otros|fallecido|fallecida|enfermo|"
        "como se acordó|y otros|igual que antes|lo mismo|come sopra|come da accordi|altro|altri|"
        "deceduto|deceduta|malato|e così via|afgezegd|zoals boven|als boven|overleden|ziek|overige|"
        "overigen|anderen|enzovoort|enz|como acima|idem acima|outro|outros|falecido|doente|"
        "som ovan|som ovenfor|som over|avliden|sjuk|syg|syk|övriga|øvrige|andre|andra|o.s.v|osv|"
        "jak wyżej|do potwierdzenia|inne|inni|zmarły|chory|itd|j.w|jw|jako výše|viz výše|ostatní|"
        "jiné|zemřel|nemocný|atd|katso yllä|kuten yllä|muut|muu|sairas|jne|lásd fent|mint fent|"
        "egyebek|beteg|stb|yukarıdaki gibi|yukarıya bakın|diğer|diğerleri|vefat etti|vb|"
        "см. выше|см выше|как выше|другое|другие|прочее|прочие|и т.д|и т. д|умер|болен|"
        'βλ. παραπάνω|όπως παραπάνω|άλλο|άλλοι|κ.λπ|κλπ|ראה לעיל|כנ״ל|כנ"ל|אחר|אחרים|וכו׳|'
        "vezi mai sus|ca mai sus|altul|alții|ukupno|razom|разом|tổng cộng|cộng|rezervat|"
        "rezervirano|"
        "kao gore|vidi gore|ostalo|ostali|zgoraj|glej zgoraj|kot zgoraj|drugo|kā iepriekš|cits|"
        "kaip aukščiau|nagu eespool|muu|див. вище|як вище|інше|інші|виж по-горе|друго|други|"
        "как обсуждалось|teszt|foglalva|κρατημένο|κρατημένη|nil|trainee|version|names|coaches|"
        "без імені|без име|невідоме|очікується|në pritje|i panjohur|pa emër",
    )
    for word in line.split("|")
)
"""What stands in a name's place where there is nobody. Common practice, from memory."""

_BEARABLE = frozenset(
    (
        "blank", "same", "test", "tester", "end", "brak", "tak", "tack", "takk", "danke",
        "merci", "personne", "free", "libre", "frei", "libero", "vrij", "nil", "sum", "count",
        "page", "note", "notes", "missing", "absent", "void", "who", "nan", "ledig", "nada",
        "falta", "vago", "summa", "first", "last", "fulano", "muster", "john doe", "jane doe",
        "mustermann", "max mustermann", "erika mustermann", "joe bloggs", "example", "forename",
        "leer", "leeg", "offen", "folgt", "volgt", "chybi", "ures", "iptal",
        "somme", "somma", "soma", "essai", "prova", "teste", "testi", "proba", "testing",
        "bos", "yok", "pending", "vacant", "vacante", "contact", "admin", "average", "null",
        "list", "role", "rolle", "instrumento", "nr", "abc", "nav", "空", "skip",
    )
)  # fmt: skip
"""Those of them that may be a role, or a part of one."""

_SOMEBODY = frozenset(
    plain(word)
    for line in (
        "guest|guests|plus one|plus 1|partner|companion|child|children|kid|kids|baby|toddler|"
        "toddlers|babies|infants|teens|adults|infant|teen|adult|family|the family|wife|husband|"
        "spouse|mum|mom|dad|mother|father|son|"
        "daughter|sister|brother|friend|friends|colleague|host|spare|spares|extra|extras|reserve|"
        "reserved|backup|replacement|photographer|videographer|dj|band|caterer|driver|staff|crew|"
        "helper|volunteer|vendor|speaker|assistant|usher|waiter|sample|demo|everyone|everybody|all|"
        "team|vip|winner|new player|substitute|sub|strings|brass|woodwind|winds|percussion",
        "gast|gäste|begleitung|begleitperson|kind|kinder|familie|partnerin|ersatz|reserviert|"
        "fotograf|fotografin|musiker|helfer|mutter|vater|freund|freundin|muster|alle|aushilfe",
        "invité|invitée|invités|accompagnant|accompagnante|conjoint|enfant|enfants|famille|réservé|"
        "réserve|photographe|musicien|remplaçant|bébé|tous",
        "invitado|invitada|acompañante|niño|niña|niños|familia|reservado|reserva|fotógrafo|músico|"
        "bebé|todos|pareja",
        "ospite|ospiti|accompagnatore|accompagnatrice|bambino|bambina|famiglia|riservato|riserva|"
        "fotografo|musicista|tutti",
        "kinderen|gereserveerd|fotograaf|begeleider|introducé|allen|reserve",
        "convidado|convidada|acompanhante|criança|família|reservado|fotógrafo|todos",
        "gäst|gjest|gæst|följe|følge|ledsager|barn|familj|reserverad|reservert|reserveret|alla|"
        "alle",
        "gość|osoba towarzysząca|dziecko|rodzina|rezerwacja|host|doprovod|dítě|rodina|rezervace",
        "vieras|avec|lapsi|perhe|varattu|valokuvaaja|vendég|kísérő|gyerek|család|fényképész",
        "misafir|çocuk|aile|fotoğrafçı|rezerve|гость|ребёнок|семья|фотограф|καλεσμένος|παιδί",
        "deputy|stand-in|standin|stand in|accompanist|soloist|visitor|visitors|gift|prize|raffle|"
        "raffle prize|giveaway|stagehand|page turner|member|members|attendee|participant|invitee|"
        "player|musician|employee|student|pupil|teacher|vertretung|ersatzmann|ersatzspieler|"
        "gastspieler|ehefrau|ehemann|ehegatte|lebensgefährte|lebensgefährtin|besucher|besucherin|"
        "mitglied|teilnehmer|teilnehmerin|geschenk|preis|dirigent|dirigentin|solist|solistin",
        "suppléant|suppléante|remplaçante|époux|épouse|visiteur|visiteuse|membre|participante|"
        "cadeau|soliste|suplente|sustituto|sustituta|visitante|miembro|regalo|premio|director|"
        "supplente|sostituto|sostituta|visitatore|membro|omaggio|direttore|invaller|invalster|"
        "vervanger|plaatsvervanger|bezoeker|echtgenoot|echtgenote|lid|cadeau|prijs|substituto|"
        "visita|presente|vikarie|vikar|ersättare|besökare|besøkende|ektefelle|medlem|gåva|gave|"
        "sijainen|jäsen|lahja|zastępca|zastępstwo|zarezerwowane|zarezerwowany|członek|prezent|"
        "náhradník|náhrada|rezervováno|člen|dárek|foglalt|helyettes|ajándék|yedek|ayrılmış|üye|"
        "hediye|резерв|запасной|зарезервировано|подарок|участник|участница|дирижёр|солист|"
        "αναπληρωτής|μέλος|δώρο|μαέστρος|客人|来宾|嘉宾|备用|ゲスト|来賓|お客様|予備|招待客|손님|게스트|예비|"
        "ضيف|محجوز|אורח|שמור|"
        "viesis|viesi|svečias|svečiai|külaline|külalised|gost|gosti|gostja|hosť|hostia|oaspete|"
        "invitat|invitată|invitați|гостя|гостья|гостът|khách|khách mời|người đi cùng|trẻ em|แขก|"
        "แขกรับเชิญ|"
        "ผู้ติดตาม|เด็ก|pendamping|אורחת|אורחים|מלווה|ילד|ילדה|ضيفة|ضيوف|مرافق|مرافقة|طفل|"
        "طفلة|嘉賓|賓客|陪同|小孩|儿童|家属|同伴|同行者|子供|お子様|ご家族|동반자|어린이|가족|"
        "pavadonis|bērns|palydovas|vaikas|saatja|laps|spremljevalec|otrok|pratnja|dijete|sprievod|"
        "dieťa|"
        "volunteer|volunteers|bénévole|bénévoles|voluntario|voluntaria|voluntarios|vrijwilliger|"
        "vrijwilligers|volontario|volontari|freiwillige|freiwilliger|voluntário|frivillig|"
        "wolontariusz|dobrovolník|önkéntes|gönüllü|волонтёр|волонтер|εθελοντής|vapaaehtoinen|"
        "hausmeister|caretaker|concierge|gardien|conserje|custode|conciërge|vaktmästare|"
        "vaktmester|pedel|dozorca|školník|gondnok|kapıcı|завхоз|talonmies|følgesvend|följeslagare|"
        "ledsagare|fotós|fotoś|гість|гості|mr x|"
        "mrs x|herr x|frau x|monsieur x|señor x|signor x|pan x|board members|honorary members|"
        "bestuur|vorstand|comité|comite|commissie|styrelsen|styrelse|styret|bestyrelse|bestyrelsen|"
        "zarząd|výbor|vezetőség|yönetim kurulu|правление|συμβούλιο|junta directiva|junta|"
        "consiglio direttivo|consiglio|conseil d'administration|diretoria|hallitus|consiliu|"
        "uprava|odbor|upravni odbor|bläser|streicher|"
        "accompagnateur|accompagnatrice|personne accompagnante|persona acompañante|begleiter|"
        "begleiterin|metgezel|medföljande|sällskap|seuralainen|saattaja|refakatçi|eşlikçi|"
        "osoba tow|os. tow|doprovodná osoba|spremljevalka|palydovė|pavadone|спутник|спутница|"
        "сопровождающий|сопровождающая|супутник|супутниця|"
        "însoțitor|copil|gestir|супровід|дитина|придружител|дете|συνοδός|παιδιά|"
        "καλεσμένη|καλεσμένοι",
    )
    for word in line.split("|")
)
"""What stands for somebody whose name is to follow; a cup may say it all the same."""

_ATTRIBUTES = frozenset(
    plain(word)
    for line in (
        "extra spare empty vacant free open first second third fourth fifth sixth 1st 2nd 3rd 4th "
        "guest new unknown deputy dep sub substitute reserve reserved sample prize mystery our the "
        "another other additional assistant lead principal backup visiting stage lighting sound "
        "house and plus last late tall big little old blank unnamed temp temporary low high upper "
        "lower front back full bus taxi tour coach security",
        "zweite zweiter zweites dritte dritter drittes erste erster erstes neue neuer neues unser "
        "unsere leerer leeres freier freies",
        "deuxième troisième premier première nouveau nouvelle notre segundo segunda tercero nuevo "
        "nueva nuestro secondo terzo nuovo nuova nostro tweede derde nieuwe onze andra tredje nye",
    )
    for word in line.split()
)
_THINGS = frozenset(
    (
        "cup", "cups", "mug", "mugs", "chair", "seat", "seats", "place", "desk", "stand", "tech",
        "crew", "manager", "person", "player", "players", "engineer", "technician", "hand", "staff",
        "team", "lady", "guy", "man", "woman", "becher", "stuhl", "pult", "platz", "spieler",
    )
)  # fmt: skip
"""What makes a placeholder beside a role or another one of them: Extra Player, Second Horn."""

_RELATIONS = (
    "guest|friend|partner|wife|husband|child|kid|baby|son|daughter|mother|father|mum|mom|dad|"
    "sister|"
    "brother|cousin|nephew|niece|aunt|uncle|grandma|grandpa|granny|grandmother|grandfather|"
    "grandson|granddaughter|girlfriend|boyfriend|fiancé|fiancée|date|plus one|neighbour|neighbor|"
    "colleague|boss|assistant|intern|driver|nanny|twins|parents|groomsman|bridesmaid|best man",
    "gast|begleitung|kind|kinder|frau|mann|mutter|vater|freund|freundin|verlobte|verlobter|tochter|"
    "sohn|schwester|bruder|cousin|cousine|neffe|nichte|tante|onkel|oma|opa|nachbar|nachbarin|"
    "kollege|kollegin|praktikant|praktikantin|trauzeuge|trauzeugin|eltern|zwillinge|chef|enkel",
    "invité|invitée|accompagnant|enfant|femme|mari|ami|amie|copain|copine|fiancé|fiancée|fils|"
    "fille|"
    "mère|père|sœur|frère|cousin|cousine|neveu|nièce|tante|oncle|grand-mère|grand-père|mamie|papi|"
    "voisin|voisine|collègue|stagiaire|témoin|serveur|serveuse",
    "invitado|invitada|acompañante|hijo|hija|amigo|amiga|novio|novia|esposa|esposo|marido|mujer|"
    "madre|padre|hermana|hermano|primo|prima|sobrino|sobrina|tía|tío|abuela|abuelo|vecino|vecina|"
    "compañero|compañera|camarero|camarera|testigo",
    "ospite|figlio|figlia|amico|amica|fidanzato|fidanzata|moglie|marito|madre|padre|sorella|"
    "fratello|"
    "cugino|cugina|nipote|zia|zio|nonna|nonno|vicino|vicina|collega|cameriere|cameriera|testimone",
    "convidado|convidada|acompanhante|filho|filha|namorado|namorada|mulher|mãe|pai|irmã|irmão|avó|"
    "avô|vizinho|vizinha|colega|noivo|noiva|vriend|vriendin|vrouw|man|zoon|dochter|moeder|vader|"
    "zus|broer|buurman|buurvrouw|verloofde|collega|stagiair|oma|opa|neef|nicht",
    "gäst|gjest|gæst|barn|kompis|venn|ven|veninde|fru|kone|mann|mor|far|mormor|morfar|farmor|"
    "farfar|granne|nabo|kæreste|kjæreste|sambo|flickvän|pojkvän|syster|søster|bror|kusin|kollega",
    "gość|przyjaciel|przyjaciółka|żona|mąż|syn|córka|matka|ojciec|siostra|brat|babcia|dziadek|"
    "narzeczona|narzeczony|sąsiad|sąsiadka|kolega|koleżanka|babička|děda|soused|sousedka|snoubenka|"
    "isoäiti|isoisä|naapuri|ystävä|vaimo|nagymama|nagypapa|szomszéd|barát|feleség|férj",
    "komşu|nişanlı|arkadaş|anne|baba|kardeş|eş|büyükanne|dede|сосед|соседка|бабушка|дедушка|"
    "подруга|друг|жена|муж|невеста|жених|брат|сестра|сын|дочь|γείτονας|γιαγιά|παππούς|φίλος|φίλη|"
    "σύζυγος|αδελφός|αδελφή|μητέρα|πατέρας|κόρη|γιος",
    "manželka|manžel|priateľka|priateľ|soția|soțul|prietena|prietenul|fiica|fiul|iubita|supruga|"
    "suprug|žena|partnerka|punca|fant|sieva|vīrs|draugs|draudzene|meita|žmona|vyras|draugė|"
    "abikaasa|sõbranna|arkadaşı|дружина|чоловік|подружка|съпруга|"
    "приятел|приятелка|زوجة|زوج|أخت|أخ|ابنة|صديق|صديقة|والدة|والد|אשתו|בעלה|אחות|אח|"
    "חבר|חברה|בתו|בנו|bạn gái|bạn trai|ภรรยา|สามี|เพื่อน|ลูกสาว|ลูกชาย",
)
"""Words for somebody by what they are to somebody else."""

_TRADES = (
    "bouncer|florist|chauffeur|bartender|barman|cook|chef|pianist|organist|soundman|technician|"
    "sound engineer|bookkeeper|understudy|security|doorman|cleaner|porter|florists|hostess|mc|"
    "emcee|officiant|priest|kellner|kellnerin|florist|floristin|koch|techniker|türsteher|fahrer|"
    "serveur|serveuse|cuisinier|fleuriste|chauffeur|cocinero|cocinera|florista|chófer|cuoco|"
    "fiorista|autista|ober|serveerster|kok|bloemist|kelner|kelnerka|kucharz|číšník|kuchař|"
    "kuljettaja|kokki|garson|aşçı|şoför|водитель|повар|официант|фотографы|σερβιτόρος|οδηγός|"
    "φωτογράφος|fotografs|"
    "fotografas|fotógrafa|fotograf|fotografka|nhiếp ảnh gia|tài xế|ช่างภาพ|คนขับรถ|مصور|مصورة|سائق|"
    "צלם|צלמת|נהג|摄影师|攝影師|司机|司機|カメラマン|運転手|사진사|운전사|fényképész|sofőr|vairuotojas|šoferis|"
    "fotograaf|водій|шофьор|šofér|vozač|voznik|ljósmyndari|bílstjóri"
)
_KINDS = (
    "teenager|teenagers|bride|groom|bridegroom|gatecrasher|nurse|press|media|reporter|journalist|"
    "organiser|organizer|barkeeper|steward|stewardess|chaperone|babysitter|coach|trainer|"
    "interpreter|presenter|compere|announcer|entertainer|magician|mayor|vicar|customer|client|"
    "owner|"
    "landlord|caretaker|janitor|receptionist|medic|paramedic|roadie|runner|dresser|prompter|"
    "choreographer|dancer|actor|actress|committee|audience|public|management|catering|cloakroom|"
    "choir|chorus|orchestra|ensemble|quartet|quintet|woodwinds|wind|rhythm section",
    "braut|bräutigam|presse|journalistin|organisator|organisatorin|veranstalter|veranstalterin|"
    "kameramann|kamerafrau|technik|ton|ehrengast|ehrengäste|moderator|moderatorin|redner|rednerin|"
    "krankenschwester|sanitäter|bürgermeister|bürgermeisterin|pfarrer|pfarrerin|tänzer|tänzerin|"
    "schauspieler|schauspielerin|kunde|kundin|chefin|jugendliche|jugendlicher|platzanweiser|"
    "vorstand|publikum|chor|orchester|streicher|bläser|holzbläser|blechbläser|schlagwerker|holz|"
    "blech",
    "mariée|marié|infirmière|infirmier|journaliste|organisateur|organisatrice|technicien|"
    "technicienne|adolescent|adolescente|ado|patron|patronne|danseur|danseuse|traiteur|régisseur|"
    "hôtesse|chœur|orchestre|cordes|cuivres|bois|vents",
    "enfermera|enfermero|prensa|periodista|organizador|organizadora|técnico|técnica|adolescente|"
    "jefe|jefa|bailarín|bailarina|alcalde|alcaldesa|orquesta|cuerdas|metales|maderas|vientos",
    "sposa|sposo|infermiera|infermiere|stampa|giornalista|organizzatore|organizzatrice|tecnico|"
    "ragazzo|ragazza|capo|ballerina|sindaco|coro|orchestra|archi|ottoni|legni|fiati",
    "bruid|bruidegom|verpleegster|verpleger|pers|organisatie|techniek|tiener|baas|koor|orkest|"
    "strijkers|blazers|houtblazers|koperblazers|noiva|noivo|enfermeira|imprensa|jornalista|chefe|"
    "orquestra|cordas|metais|madeiras|sopros",
    "brud|brudgum|brudgom|sjuksköterska|sykepleier|sygeplejerske|pressen|journalist|arrangör|"
    "arrangør|tekniker|tonåring|tenåring|teenager|sjef|kör|kor|orkester|stråkar|strykere|blåsere|"
    "blåsare|träblås|bleckblås|treblås|messing",
    "pielęgniarka|prasa|dziennikarz|dziennikarka|organizator|szef|szefowa|nastolatek|chór|"
    "orkiestra|smyczki|nevěsta|ženich|novinář|novinářka|šéf|pořadatel|sbor|orchestr|smyčce|dechy|"
    "žestě|morsian|sulhanen|lehdistö|toimittaja|pomo|kuoro|orkesteri|jouset|vasket|puhaltimet|"
    "menyasszony|vőlegény|sajtó|újságíró|főnök|szervező|kórus|zenekar|vonósok|fúvósok",
    "gelin|damat|hemşire|basın|gazeteci|patron|koro|orkestra|yaylılar|üflemeliler|медсестра|пресса|"
    "журналист|журналистка|организатор|начальник|босс|подросток|хор|оркестр|струнные|духовые|"
    "νύφη|γαμπρός|νοσοκόμα|δημοσιογράφος|διοργανωτής|χορωδία|ορχήστρα|έγχορδα|πνευστά|πιεστήριο",
)
"""Words for somebody by what they do there, and for groups of people. Common practice."""


def _written_out(word: str) -> str:
    return plain(word.replace("ä", "ae").replace("ö", "oe").replace("ü", "ue"))


_RELATED = frozenset(plain(word) for line in (*_RELATIONS, _TRADES) for word in line.split("|"))
_MEANT_BY_NAME = frozenset(
    (
        "date", "ami", "man", "mann", "mor", "far", "ven", "es", "primo", "brat", "prima",
        "boss", "nicht", "pai", "baba", "dede", "anne", "cook", "koch", "porter", "chef",
        "priest", "ober", "kok", "mari", "gost", "cousin", "nabo", "mc", "security", "oma",
        "opa", "child", "tia", "zia", "mae", "filho", "padre", "irma", "nina",
    )
)  # fmt: skip
"""Those that are names, too: said only where somebody else is named with them."""
_GIVEN = frozenset(
    (
        "anne", "ven", "mor", "far", "es", "brat", "ami", "oma", "primo", "prima", "dede",
        "baba", "tia", "zia", "man", "mari", "mae", "pai", "bror", "irma", "nina",
    )
)  # fmt: skip
"""Those of them that are first names: with a capital, what follows is a last name."""

_OF_SOMEBODY = re.compile(
    rf"(?:(?:the|my|a|die|der|das|la|le|les|el|los|il|lo|o|a|de|het) )?"
    rf"(?:{'|'.join(sorted(_RELATED, key=len, reverse=True))})s? "
    r"(?:of|from|von|vom|der|de|du|des|di|del|della|do|da|van|av|af|til|to|lui|lu|του|της|των|"
    r"של|của) \S.*"
    rf"|.*\S['’]n?[iu]n (?:esi|karisi|kocasi|kizi|oglu)"
    rf"|.*\S['’]s (?:{'|'.join(sorted(_RELATED, key=len, reverse=True))})s?"
)
_NUMBERED_WORDS = "|".join(
    map(
        plain,
        [
            "επισκέπτης",
            "ゲスト",
            "来宾",
            "嘉宾",
            "客人",
            "お客様",
            "손님",
            "게스트",
            "แขก",
            "ضيف",
            "אורח",
            "место",
            "khách mời",
        ],
    )
)
_NUMBERED = re.compile(
    rf"(?:{_NUMBERED_WORDS}) ?[#№]?\d+|"
    r"(?:guest|person|player|name|member|child|kid|table|seat|cup|gast|spieler|kind|tisch|platz|"
    r"invite|enfant|invitado|ospite|convidado|gjest|seat|nr|no|number|nummer|item|day|tag|jour|dia|"
    r"giorno|dag|dzien|den|room|raum|saal|salle|sala|zimmer|session|act|akt|part|teil|partie|parte|"
    r"bus|hall|halle|stage|zone|lot|batch|round|runde|week|woche|floor|etage|level|gate|bay|box|page|"
    r"seite|row|reihe|line|zeile|entry|musician|musiker|участник|человек|место|день|зал|стол|ряд|"
    r"номер|καλεσμενος|τραπεζι|ημερα|vieras|poyta|vendeg|asztal|misafir|masa|gun|khach|ban|viesis|"
    r"svecias|kulaline|host|osoba|stul|stol|gost|host|oaspete|ゲスト|来宾|嘉宾|客人|손님|게스트|"
    r"แขก|ضيف|אורח)\.? ?[#№]?\d+"
    r"|(?:room|raum|saal|salle|zimmer|bus|zone|lot|gate|bay|batch|halle|floor|level|desk) [a-h]"
    r"|(?:group|gruppe|groupe|grupo|gruppo|team|section|block) \w{1,3}"
    r"|.*\S (?:section|group|gruppe|team|committee|sektion|register)"
)
_COMPOUND = re.compile(
    r"[a-z]{3,}(?:gruppe|gruppen|grupp|gruppa|groep|stimmen|register|sektion|sektionen|mannschaft|"
    r"vorstand|leitung|verwaltung|helfer|helferin|helferinnen|beauftragter?|mitglied|mitglieder|"
    r"styrelsen?|styret|medlem|medlemmer|medlemmar|ansvarig|ansvarlig|bestuur)"
)
"""Words that languages put together, whose end says that they are a group or an office."""
_PLUS = re.compile(
    r"(?:.*\S\s*)?\+\s*\d+"
    r"|(?:\d+|two|three|four|five|six|zwei|drei|vier|deux|trois|quatre|dos|tres|due|tre|twee|drie) "
    r"(?:seats?|people|persons?|pers\.?|adults?|kids|children|cups?|mugs?|guests?|tickets?|pax|"
    r"personen|plätze|kinder|erwachsene|becher|gäste|personnes?|places|enfants|adultes|personas|"
    r"adultos|niños|persone|adulti|bambini|kinderen|plaatsen)"
)
TIMES = re.compile(
    r"(?:^|[\s(\[])(?:\d+\s?[x×]|[x×]\s?\d+|\d+\s?(?:pcs|pc|pieces?|cups?|mugs?|stk|stück|stuck|becher|"
    r"tassen?|tasses?|pièces?|pzas?|piezas?|tazas?|pezzi|tazze|stuks|bekers?|szt|sztuki|ks|db|шт))"
    r"(?=$|[\s.,)\]])"
)
"""A number of cups, written beside a text: x2, 2x, 2 pcs."""
_FAMILIES = (
    "family|household|familie|famille|familia|famiglia|familj|familjen|familien|perhe|perheen|"
    "rodzina|rodzenstwo|rodina|ailesi|csalad|obitelj|porodica|druzina|gimene|seima|семья|сим['’]я|"
    "семейство|οικογενεια"
)
_AND = (
    "and|&|[+]|plus|und|et|y|e|og|och|en|i|a|ja|es|ve|mit|with|avec|con|com|met|med|z|s|w/|с|и|"
    "με|και"
)
_SOMEBODYS = (
    "an?|one|his|her|their|my|seine?r?|ihre?r?|eine?r?|une?|son|sa|su|uma?|zijn|haar|hans|hendes|"
    "hennes|jego|jej"
)
_WITH_FAMILY = re.compile(
    r"(?:(?:the )?(?:sisters|brothers)|geschwister|gebrüder|sœurs|frères|hermanas|hermanos|sorelle|"
    r"fratelli|gebroeders|gezusters|bröderna|systrarna|bracia|siostry|kardeşler|сёстры|братья) .*\S"
    rf"|(?:the|team|fam\.?|{_FAMILIES}) .*\S"
    rf"|.*\S (?:{_AND}) (?:\w+ )?(?:{_FAMILIES})|.*\S (?:{_FAMILIES})"
)
_WITH_SOMEBODY = re.compile(
    rf"(?:(?:.*\S )?(?:{_AND}) |(?:.*\S\s*)?[&+]\s*)(?:(?:{_SOMEBODYS}) )?(?P<who>\w+(?: \w+)?)"
)
"""Somebody, or nobody, and with them a companion: Ruth Vane plus one, + guest."""
_RULE = re.compile(r"[-–—=*#_~•.]{2,}.*|.*[-–—=*#_~]{2,}|.*[^\W\d_]\s*:|[*#•]\s.+")
"""A line of signs, something between two of them, or what ends in a colon."""

_TOGETHER = re.compile(
    r"\S\s+[·•]\s+\S|\S\s*[&+/;]\s*\S|\S\s*[和与及、]\s*\S|\S\s+و\s+\S|\S\s+(?i:and|und|et|og|och|ve|plus|และ|กับ|और|跟|與|및|"
    r"sowie|(?-i:u\.|w\.)|or|oder|ou|eller|lub|nebo|n|ja|és|oraz|и|και|та|κι|ile|dhe|eta|agus|meg|și|şi)"
    r"\s+\S"
)
_PERHAPS_TOGETHER = re.compile(
    r"(?P<one>[^\W\d_]+(?: [^\W\d_]+)*) (?P<joiner>[yeiaіo]|in|en|ed|ac|ir|un|va|na|dan|và) "
    r"(?P<two>[^\W\d_]+(?: [^\W\d_]+)*)"
)
"""With a joiner that is a part of names, too: José Ortega y Gasset, Maria in der Au."""
_JOINED_LASTS = (
    "ramon y cajal", "pi y margall", "pi i margall", "ortega y gasset", "menendez y pelayo",
    "prat i torres", "puig i cadafalch", "juan y medio", "costa e silva", "melo e castro",
)  # fmt: skip
"""Last names that two make, the first of them alone a first name, too. From memory."""
_OF_LAST_NAMES = frozenset("yei")
"""Those that part two last names of one person."""
_NUMERAL = re.compile(r"[IVX]{1,5}")
_SMALL_NUMERALS = ("ii", "iii", "iv")
_ECLIPSING = frozenset(("o", "ni", "ui", "mac", "nic", "an", "na", "de"))
_ECLIPSED = re.compile("(?:[hnt]|m(?=B)|g(?=C)|b(?=P)|d(?=T))[A-ZÁÉÍÓÚ][a-záéíóú]+")
"""Irish puts a small letter before a capital: Ó hAlmhain, Mac an tSaoir, Mac mBriartaigh."""
_SMALL_AFTER_O = re.compile("O['’][a-zà-ÿ]+")
"""O'dea, where the second part has its capital in every name."""
_SMALL_O = re.compile("o['’][A-ZÀ-Þ][a-zà-ÿ]+")
"""o'Brien: the Irish O has its capital in every name."""
_ELIDED = re.compile(r"[a-z]{1,4}['’][A-ZÀ-Þ]?[^A-ZÀ-Þ]*")
"""A small particle that has lost its vowel: d'Aubigny, dell'Acqua."""
_LEADING = (
    "Mc", "Mac", "O'", "O’", "D'", "D’", "L'", "L’", "De", "Di", "Du", "Da", "Del", "Della",
    "Des", "Dos", "La", "Le", "Lo", "Van", "Von", "Vander", "Ver", "Fitz", "Saint", "St", "San",
    "Santa", "Al", "El", "Ben", "Abd", "Abu", "Ní", "Nic", "Mhic", "Ap", "Te", "Ten", "Ter",
    "Dall'", "Dall’", "Dell'", "Dell’", "Sant'", "Sant’",
)  # fmt: skip
"""Words with a capital inside that names have: McDonald, O'Dea, DeVito, LaRue, VanDyke."""
_NAMES_TOO = ("Al", "Ben", "San", "Van", "Ver", "Te", "El", "Da", "Di", "St")
"""Those of them that also begin first names, where a capital is a slip: AlBert, BenJamin."""

_LED_SMALL = re.compile("(?:ka|kwa|di|de|da|du|la|le|van|von|del)[A-ZÀ-Þ][a-zà-ÿ]{2,}")
"""A particle that has grown together with its name: diCarlo, kaMaseko."""

_AT_THE_END = re.compile(
    r"(?:\S+ ){2,}(?:new|neu|nouveau|nouvelle|nuevo|nueva|nuovo|nuova|nieuw|lefty|(?:left|right)"
    r"(?:[ -]?hand(?:ed|er)?)|links(?:händer(?:in)?)?|gauch(?:er|ère)|zurd[oa]|mancin[oa]|paid|"
    r"late|again|twice|old|vip|veg|vegan|halal|kosher)|.*\bc/o\b.*|.*\ba\.k\.a\b.*"
)
"""What is written beside a name, typed in whatever case."""

_TRIED = re.compile(
    r"(?:test(?:ing|er|e|i)?|prueba|essai|prova|proba|zkouska|deneme|probe|тест|δοκιμη)[ _-]?\d+"
)
"""What somebody types who tries a form."""
_THANKS = re.compile(
    r"(?:(?:many|with) thanks|thank you|(?:vielen|besten|herzlichen) dank|mille grazie|"
    r"muchas gracias|merci beaucoup|hartelijk dank|tusen takk|tusind tak|tack sa mycket)\b"
    r"|(?:thanks|cheers|danke|dank|merci|grazie|gracias|bedankt|obrigad[oa]|tack|takk|tak|"
    r"dziekuje|dekuj[ie]|kiitos|koszonom|tesekkurler|спасибо|ευχαριστω)(?:\s*[,!]|$)"
)
_FOOTER = re.compile(
    r"(?:sent|get|gesendet|envoye|enviado|enviada|inviato|verzonden|verstuurd|skickat|sendt|lahetetty|"
    r"wyslano|wyslane|odeslano|kuldve|отправлено|gonderildi)\b.*\b(?:from|for|von|vom|depuis|de|desde|"
    r"do|dal|da|van|vanaf|fran|fra|z|ze|с|iphone|ipad|android|iphone[’']?(?:dan|mdan|umdan)) .*"
    r"|(?:von|vom) (?:meinem?|mein) .*"
    r"|(?:created|exported|generated|printed|compiled|prepared|submitted|erstellt|exportiert|gedruckt|"
    r"exporte|imprime|generado|creado|esportato|creato|gemaakt|skapad|opprettet|oprettet) "
    r"(?:by|from|on|at|with|von|vom|am|aus|mit|par|le|por|el|da|il|door|op|av|af|den) .*"
)
"""What mail programs and lists write below."""
_SEE = re.compile(r"(?:see|siehe|voir|ver|vedi|zie|patrz|viz|copy of|moved to|same as) [^\W_]")
"""Typed small: Ver and See are names."""
_NUMBER = re.compile(
    r"[#№]\s?\d+|\d+(?:st|nd|rd|th)|[IVX]+\."
    r"|\d+(?:[.,]\d+)?\s?(?:[kcm]?g|[cm]?l|[kcm]?m|oz|lbs?|in|ft|min|sec|h|pt|px|°[CF]?|\")"
    r"|[A-Za-z]{1,4}[-_/ ]?\d{3,}(?:[-_/]\d+)*"
)
"""A number with its sign, its unit, or the letters of a register: No. 5, 12 kg, ID-00412."""
_HANDLE = re.compile(r"@[a-z0-9](?:[a-z0-9._-]*[a-z0-9_])?|@\w+[\d_]\w*")
"""What somebody is called in a network: @maren_plays."""

_ENDS_AS_REMARK = re.compile(r"^(?:a\. ?n\. other|a n other|an other)$")
_REMARK_WORDS = frozenset(
    plain(word)
    for line in (
        "not yet please pls without whoever unsure sure maybe perhaps check spelling spelled spelt "
        "spell cancelled declined unconfirmed confirmed advised decided announced awaiting "
        "assigned "
        "name names email e-mail list attached allergy allergic vegan vegetarian coming tbc tbd "
        "tba "
        "updated update "
        "don't doesn't isn't can't won't engrave engraved engraving cup mug seats the which what "
        "needs wants wheelchair arrives leaves regards wishes instead replaced replaces ask "
        "asked with",
        "aktualisiert bijgewerkt oppdatert opdateret uppdaterad actualizado aggiornato "
        "atualizado actualisé zaktualizowano обновлено "
        "nicht noch bitte grüße wird kommt kommen siehe ohne oder vielleicht bekannt "
        "nachfragen prüfen "
        "unklar abgesagt namen besprochen statt später allergie mit",
        "pas encore voir liste sans peut-être connu connue vérifier orthographe nom précisé avec "
        "arrive viendra",
        "aún todavía sabe sin nombre confirmar revisar viene quizás llega",
        "ancora noto senza nome forse verificare sapere viene",
        "nog niet bekend zonder naam misschien komt graag",
        "ainda sei sem nome talvez confirmar",
        "ej klart ikke endnu uten uden utan navn namn kanskje kanske måske kommer",
        "jeszcze wiadomo nie bez nazwiska może jména jméno ještě není",
        "henüz belli değil isimsiz bilmiyorum",
        "не указано без имени ещё пока известно будет уточнить ακόμα ξέρουμε χωρίς όνομα δεν μήπως",
    )
    for word in line.split()
)
"""Words that are in sentences and in no name. Common practice, from memory."""
_SMALL_ALONE = frozenset(
    (
        "the", "sure", "mit", "with", "avec", "nom", "nome", "list", "cup", "mug", "name", "may",
        "sem", "sans", "aun", "engraving",
    )
)  # fmt: skip
"""Those that are names somewhere: only as they are typed in a sentence, small."""

_WORD = re.compile(r"[^\W\d_](?:[^\W\d_]|['’‘`ʼ\u0300-\u036f])*")
_INSIDE = re.compile(r"[^\W\d_][@$€£!|0-9][^\W\d_]")
_QUOTED = re.compile(r"^[\"“”„«»‘’'`].*[\"“”«»’'`]$")
_NICKNAME = re.compile(
    r"^['\"“„«‘][^\W\d_]+['\"”»’] \S|\S\s+['\"“”„«»‘’(\[{<][^'\"”»’)\]}>]+['\"“”«»’)\]}>]\s+\S"
)
_LOOSE = re.compile(
    r"(?:^|\s)[^\W\d_]['’‘ʼ] [^\W\d_]|[^\W\d_]- [^\W\d_]"
    r"|^\w{1,2}\)|^[-–—,;.:!@&+*#/\\|>~=%(\[]|[-–—,;:!?&+*#/\\|<~=%_…]$|\s[,;:.]|[,;]\s*[,;]|\.\.|_"
    r"|[`´]$|['’]s$|\w:\s|\s['’]\s|\s[-–—]\w|[^\W\d_]{3,}\.[^\W\d_]{3,}"
    r"|[^\W\d_]\.[A-ZÀ-ÞΑ-ΩА-Я][a-zà-ÿά-ώа-я]{2,}"
    r"|(?:^|\s)[^\W\d_](?: [a-zà-ÿ]){2,}(?=\s|$)|(?:^|\s)[^\W\d_](?: [^\W\d_]){3,}(?=\s|$)"
)
"""Signs at the ends of a name and of its words, blanks that lack after a full stop, J.P.Morgan, and
those that part its letters, H a l e."""
_EL_FOR_I = re.compile(r"(?:Mc?l|Ma?c[Ll]|\bl)(?=[bcdfghjkmnpqrstvwxz])|\blan\b|\blo\b")
"""An l where a capital I belongs: Mclntosh, McLntosh, lngrid, lan."""

_WHOSE = re.compile(
    r"^(?:the|an?|my|our|his|her|their|big|little|older|younger|die|der|das|ein|eine|mein|meine|"
    r"la|le|les|un|une|mon|ma|el|los|una?|mi|su|il|lo|de|het|een|mijn|min|moja|mój|moj) "
)
"""What stands before somebody who has no name."""

_OF_A_KIND = (
    (_MEANT_BY_NAME - _SOMEBODY)
    | DONE
    | frozenset(
        write(word)
        for line in (*_KINDS, *OFFICES)
        for word in line.split("|")
        for write in (plain, _written_out)
    )
    | SECTIONS
)
_WITHOUT_NAME = (_SOMEBODY - _GIVEN) | (_RELATED - _MEANT_BY_NAME) | DONE
_BOTH_BORNE = frozenset(("alle", "papi", "tutti", "reserve", plain("미정")))
_FIRST_BORNE = _BOTH_BORNE | {
    "nino", "amico", "nanny", "vikar", "vide", "jasen", "baba", "prima", "bror", "bassi", "nil",
    "soma", "brak", "cor", "harpa",
}  # fmt: skip
_LAST_BORNE = _BOTH_BORNE | {
    "pareja", "kind", "barman", "amigo", "sobrino", "frere", "voisin", "kolega",
    "alcalde", "bois", "compere", "cornet", "fagotto", "fiol", "hegedus", "medic", "pers",
    "soprano", "tanzer", "kok", "mayor", "trompeter", "pfarrer",
}  # fmt: skip
"""Names of people who are not in the census: found among those of ``faker``."""
_STANDS = frozenset(
    word
    for word in _NOBODY | _SOMEBODY | _RELATED
    if len(word) > 1
    and word[0].isalpha()
    and word not in _BEARABLE | _GIVEN | (_MEANT_BY_NAME - {"child"})
)
_NO_NAMES = _ATTRIBUTES | _THINGS | KNOWN | _STANDS
_NEVER = frozenset(
    ("n/a", "tbc", "tbd", "tba", "tbn", "k.a", "n.n", "n.v.t", "nvt", "xx", "xxx", "?", "??", "???",
     "#n/a")
)  # fmt: skip
"""Tokens of which no name has one, wherever they stand in it."""


NOBODYS = frozenset(("not-a-name", "heading", "stands-for-somebody", "reads-as-remark"))
"""Findings after which nothing else about a name is worth saying."""


def is_nobody(text: str) -> bool:
    """Whether a text is one that stands where a name is to come, or in its place."""
    return bool({" ".join(plain(text).split()), _bare(text)} & _NOBODY)


def is_nothing(text: str) -> bool:
    """Whether a text stands for nothing, as a name and as a role."""
    bare = " ".join(plain(text).split()).strip(" .:!,;")
    return bare in _NOBODY and bare not in _BEARABLE


def check_name(name: str, language: str) -> Iterator[Finding]:
    """Yield what is doubtful about a name, the strongest doubt alone where one explains others."""
    low = " ".join(plain(name).split())
    if "@" in name and "." in name.partition("@")[2]:
        return  # an e-mail address, which is said as such
    bare = low.strip(" .:!?,;()[]{}<>~*#=_|•-–—")
    if is_to_be_filled(name):
        yield _stop("not-a-name", words.not_a_name(name))
        return
    is_of_signs = all(unicodedata.category(char)[0] in "PZ" or char in "½¼¾" for char in name)
    if name.strip() and (is_of_signs or _NUMBER.fullmatch(name)):
        # A ditto sign, a full stop: nobody is called by signs alone.
        yield Finding("not-a-name", Severity.STOP, "name", *words.not_a_name(name))
        return
    unhyphened = bare.replace("-", " ")  # Plus-one, No-name
    if {low, bare, unhyphened, bare.replace(".", "")} & (_NOBODY | ANSWERS) or _TRIED.fullmatch(
        bare
    ):
        # Somebody's first name may be such a word: Page, Nan.
        severity = Severity.WARNING if _is_first(bare) else Severity.STOP
        yield Finding("not-a-name", severity, "name", *words.not_a_name(name))
        return
    if _RULE.fullmatch(name.strip()):
        yield Finding("heading", Severity.STOP, "name", *words.heading(name))
        return
    if (meant := decoded(name)) != name:
        yield _stop("wrong-code-page", words.written_in_code(name, meant))
        return
    if any(_bare(word) in _NEVER for word in name.split()) or _NO_ANSWER.search(low):
        yield Finding("not-a-name", Severity.STOP, "name", *words.not_a_name(name))
        return
    if _is_count(bare) or _is_typed_to_fill(name) or _is_labelled_value(name):
        yield _stop("not-a-name", words.not_a_name(name))
        return
    if meant := read_as_icelandic(name):
        yield _warning("wrong-code-page", words.wrong_code_page(name, meant))
        return
    doubt = _of_a_kind(unhyphened) if _of_a_kind(bare) is None else _of_a_kind(bare)
    if doubt is not None:
        yield Finding("stands-for-somebody", doubt, "name", *words.stands_for_somebody(name))
        return
    if any(map(_COMPOUND.fullmatch, bare.split())):
        yield _stop("stands-for-somebody", words.stands_for_somebody(name))
        return
    if _is_of_somebody(name, bare) or (
        _NUMBERED.fullmatch(bare) and not _is_given_and_register(bare)
    ):
        yield _stop("stands-for-somebody", words.stands_for_somebody(name))
        return
    if (
        TIMES.search(low)
        or _PLUS.fullmatch(bare)
        or _is_with_somebody(name)
        or _WITH_THEIRS.search(low)
    ):
        yield _stop("several-people", words.several_people(name))
        return
    if closes(name) or greets(name):
        is_sure = _may_be_nobodys(name) if closes(name) else is_surely_greeting(name)
        said = words.reads_as_remark(name)
        yield _stop("reads-as-remark", said) if is_sure else _warning("reads-as-remark", said)
        return
    if _is_title_only(name):
        severity = Severity.WARNING if is_borne(bare, True) else Severity.STOP  # Lady, Miss
        yield Finding("title-only", severity, "name", *words.title_only(name))
        return
    if _has_words_of_remarks(name):
        yield _stop("reads-as-remark", words.reads_as_remark(name))
        return
    if _WITH_FAMILY.fullmatch(low):
        yield _stop("several-people", words.several_people(name))
        return
    if _is_household(name) or _is_two(name):
        yield _warning("several-people", words.several_people(name))
        return
    if _is_placeholder(name):
        severity = Severity.WARNING if _may_be_borne(name) else Severity.STOP
        yield Finding("stands-for-somebody", severity, "name", *words.stands_for_somebody(name))
        return
    if _AT_THE_END.fullmatch(name.casefold()) or name.startswith("x "):
        yield _warning("reads-as-remark", words.reads_as_remark(name))  # Neu is a family's name
        return
    if is_remark(name) or _FOOTER.fullmatch(low) or _HANDLE.fullmatch(name) or _SEE.match(name):
        yield _stop("reads-as-remark", words.reads_as_remark(name))
        return
    if meant := read_otherwise(name):
        yield _warning("wrong-code-page", words.wrong_code_page(name, meant))
        return
    if _is_written_as_words(name) or _ENDS_AS_REMARK.search(low):
        yield _warning("reads-as-remark", words.written_as_words(name))
    yield from _capitals(name, language)
    yield from _signs(name)
    yield from _slips(name)


def read_otherwise(text: str) -> str:
    """Return what a text was if it was read in the wrong code page; else ``""``."""
    if text.isascii():
        return ""
    reading = misread(text)
    return read_as_icelandic(text) or (reading.text if reading else "")


_NO_ANSWER = re.compile(r"(?:^|\s)k\. ?a\.(?:\s|$)")


_OF_VIETNAM = re.compile("[ạ-ỹđơư]")


def _bare(word: str) -> str:
    """Return a word in small letters, without accents but for the marks that only Vietnamese has.

    Đỗ is a family, and no do.
    """
    bare = word.casefold().strip(" .:!,;()[]")
    return bare if _OF_VIETNAM.search(bare) else plain(bare).strip(" .:!,;()[]")


_COUNTED = frozenset(
    plain(word)
    for line in (
        "page pages sheet table tables row rows seat group total totals subtotal sum grand overall "
        "count number no nr n of names guests people persons players members cups mugs items "
        "entries in all",
        "seite blatt tisch reihe gruppe gesamt gesamtzahl insgesamt summe anzahl zahl von gäste "
        "personen becher namen teilnehmer",
        "feuille rang groupe total nombre sur de du des invités personnes tasses noms",
        "página hoja mesa fila grupo total número de invitados personas tazas nombres",
        "pagina foglio tavolo fila gruppo totale numero di ospiti persone tazze nomi",
        "blad tafel rij groep totaal aantal van gasten personen bekers namen folha mesa fila "
        "convidados pessoas canecas nomes",
        "sida side blad bord rad grupp gruppe totalt summa sum antal antall av af gäster gjester "
        "gæster personer muggar kopper krus",
        "strona stół rząd grupa razem suma liczba z gości osób kubków strana stůl řada celkem "
        "počet hostů osob hrnků sivu pöytä rivi yhteensä vieraita oldal asztal sor összesen vendég",
        "sayfa masa sıra toplam sayı kişi misafir bardak страница стр стол ряд итого всего из "
        "гостей человек кружек σελίδα τραπέζι σύνολο από άτομα καλεσμένοι",
        "so far currently until now today already yet still confirmed declined pending open "
        "missing "
        "replies replied answers vegetarians bisher jetzt noch offen zugesagt abgesagt fehlen "
        "fehlt "
        "inscrits présents confirmés confirmados asistentes confermati presenti aangemeld anmälda "
        "påmeldte tilmeldte ilmoittautunutta "
        "tổng cộng số khách kopā pavisam viso iš viso kokku spolu celkovo skupaj ukupno vsega "
        "разом "
        "усього общо σύνολο combined jumlah total_cups סה כ סך הכל סהכ المجموع إجمالي العدد عدد "
        "รวม ทั้งหมด จำนวน คน ราย",
    )
    for word in line.split()
)
"""What stands beside a number that counts or numbers: Page 2 of 3, Total guests 48."""


def _is_typed_to_fill(word: str) -> bool:
    """Whether a word is one letter again and again, or keys that lie beside each other."""
    low = word.lower()
    is_one_letter = len(low) > 2 and low.isalpha() and len({*low}) == 1 and not word.isupper()
    return is_one_letter or (len(low) >= _SHORTEST_RUN and any(low in row for row in _KEYS))


_KEYS = (
    "qwertyuiop", "qwertzuiop", "azertyuiop", "asdfghjkl", "qsdfghjklm", "zxcvbnm", "yxcvbnm",
    "wxcvbn", "йцукенгшщзх", "фывапролджэ", "ячсмитьбю", "abcdefghij",
)  # fmt: skip
_SHORTEST_RUN = 4


def _is_labelled_value(name: str) -> bool:
    """Whether a text is a word, a colon, and a date or a number: Stand: 3. Mai."""
    label, colon, value = name.partition(":")
    return bool(colon and label.strip().isalpha() and kind_of(value) is not Kind.TEXT)


_COUNT_IN_HAN = re.compile(
    plain(
        r"(?:合計|合计|总计|總計|計|计|共计|共|总共|총|합계|모두)?\s*[:：]?\s*\d+\s*(?:名|人|位|個|个|杯|명|분|개|잔)?\s*様?"
    )
)
"""How many there are, in scripts that set no blank beside a number."""


def _is_count(bare: str) -> bool:
    """Whether a text is numbers and words that only count or number something."""
    found = re.findall(r"[^\W_]+", bare)
    numbers = [word for word in found if word.isdecimal()]
    if _COUNT_IN_HAN.fullmatch(bare):
        return True
    return 0 < len(numbers) < len(found) and all(
        word in _COUNTED for word in found if word not in numbers
    )


def _of_a_kind(bare: str) -> Severity | None:
    """Return how doubtful a name is that is only a word for somebody, if it is one.

    As a first name some such words are borne, and a few are usual last names: Cook, Horn. Where a
    word is a rare one it is a doubt.
    """
    word = _WHOSE.sub("", bare)
    if (
        len(word) > 3
        and word[-1] == "s"
        and not (is_played(word) or word in _OF_A_KIND or word in _WITHOUT_NAME)
    ):
        word = word[:-1] if not _is_first(word) else word  # Sponsors, VIPs
    if word in _WITHOUT_NAME and word not in DONE:
        return Severity.WARNING if _is_first(word) else Severity.STOP
    if word not in _OF_A_KIND and not is_played(word):
        return None
    if _is_first(word) or is_usual_last(word):
        return None
    is_last = is_borne(word, False) or word in _LAST_BORNE
    return Severity.WARNING if is_last else Severity.STOP


def _is_first(word: str) -> bool:
    return is_borne(word, True) or word in _FIRST_BORNE


def _is_placeholder(name: str) -> bool:
    """Whether a word that stands for somebody is in a name where nobody has it.

    A child is nobody's first name, and somebody's last one.
    """
    found = [_bare(word) for word in name.split()]
    if len(found) < 2:
        return False
    if all(word in _NO_NAMES or is_played(word) for word in found):
        are_borne = is_borne(found[0], True) and is_borne(found[-1], False)
        return not are_borne or any(word in _ATTRIBUTES for word in found)
    first, last = found[0], found[-1]
    if len(found) == 2 and is_usual_first(first) and last in _MAY_FOLLOW and name[:1].isupper():
        return False  # Anna Strings, Oscar Total
    leads = first in _STANDS and first not in _FIRST_BORNE and not is_title(first)
    if len(found) == 2 and name.casefold().split()[0] in _KIN_OF:
        return True  # Żona Pawła, where nobody is called Żona as somebody may be Zona
    ends = last in _STANDS and last not in _LAST_BORNE
    return (leads and not is_borne(first, True)) or (ends and not is_borne(last, False))


_CALLED = (
    (_RELATED - _GIVEN - {"date", "ami", "mari", "gost", "mc", "porter"})
    | DONE
    | {"oma", "opa", "tia", "zia"}
    | OF_NOBLES
    | frozenset(
        plain(word)
        for line in (
            "coach trainer teacher headmaster headmistress chef dj mc nurse officer chief warden",
            "father brother mother general major judge pastor padre fra suor sor bishop deacon",
            "corporal private commander commodore admiral marshal constable inspector sheriff",
            "senator governor minister ambassador chancellor president councillor alderman",
            "pan bay bayan hanım bey don donna doña dona maître imam sheikh sheik hajji",
            "grandad granddad grandpapa gran nan papa mama mamma mutti vati papi mami omi opi nana",
            "babci babcia dziadek ciocia wujek teta tete strýc babička děda dědeček nagymama néni",
            "bácsi abi abla amca dayı teyze hala dede nine тётя дядя бабушка дедушка отец θεία",
            "farbror morbror moster faster tant tonton tata mémé pépé mamie papy yaya abuelita",
            "hauptmann oberst leutnant pfarrer pater pfarrerin bürgermeister bürgermeisterin vikar",
            "kantor kapellmeister kapellmeisterin generalmusikdirektor intendant intendantin",
            "chefdirigent orchesterwart stimmführer stimmführerin kammersänger kammersängerin",
            "kapelník primář koncertmistr kapelmistrz koncertmistrz kapelmester konsertmester",
            "konsertmästare kapellimestari",
        )
        for word in line.split()
    )
)
"""What is said before a name to call somebody, or before a last name: by kin, rank or calling."""


def is_called_by_a_word(name: str) -> bool:
    """Whether a name begins with a word that people are called by, so that it is no first name.

    Opa Heinz, Major Tom, Kapellmeister Falk; Don Pedro, where Don Whitfield is called Don.
    """
    one, two, *_ = (*map(_bare, name.split()), "", "")
    if one not in _CALLED or not two:
        return False
    return not is_borne(one, True) or (is_usual_first(two) and not is_usual_last(two))


def _is_given_and_register(bare: str) -> bool:
    """Whether a group is called as somebody may be: Rita Register."""
    first, *rest = bare.split()
    return len(rest) == 1 and is_borne(first, True) and is_borne(rest[0], False)


def _may_be_borne(name: str) -> bool:
    """Whether somebody may be called so who has a word for somebody as a name: Sarah Partner.

    Nobody is called Unknown or Reserved, whatever stands beside it.
    """
    own = [word for word in name.split() if not is_title(word)]
    found = [_bare(word) for word in own]
    if len(found) < 2 or {*found} & (_NOBODY | _KEPT) or not own[0][:1].isupper():
        return False
    first, last = found[0], found[-1]
    is_whose = first.endswith("s") and not is_borne(first, True)  # Marens Mum
    if is_borne(first, True) and is_borne(last, False) and first not in _ATTRIBUTES:
        return True  # Viola Little
    after_given = first not in _NO_NAMES and not is_whose
    before_family = first not in _ATTRIBUTES - {"guest"} and is_borne(last, False)
    return after_given or (before_family and last not in _NO_NAMES)


_KIN_OF = frozenset(
    word
    for line in (
        "żona mąż córka narzeczona narzeczony siostra dziewczyna přítel přítelkyně žena manžel "
        "manželka dcera snoubenka priateľka dcéra жена муж сын дочь мама папа брат сестра невеста "
        "подруга друг сынок дочка чоловік дружина съпруга син ћерка жената gwraig gŵr mab merch "
        "mam brawd chwaer cariad زوجة زوج ابنة أخت والدة والد خطيبة خطيب صديقة "
        "σύζυγος γυναίκα άντρας",
    )
    for word in line.split()
)
"""Kin as it is written, accents and all, before somebody's name in the genitive, or as it is."""
_NEVER_LAST = frozenset(("unknown", "unnamed", "reserved", "guest", "guests", "new", "blank"))
_KEPT = frozenset(
    plain(word)
    for word in (
        "reserved", "reserviert", "reservado", "réservé", "riservato", "gereserveerd",
        "reserverad", "reservert", "reserveret", "varattu", "zarezerwowane", "rezervováno",
        "foglalt",
    )
)  # fmt: skip
"""What is said of a place and never of a person."""
_MAY_FOLLOW = (_COUNTED | SECTIONS | _ATTRIBUTES) - _KEPT - _NEVER_LAST
"""What counts, groups or sorts may be a last name behind somebody's usual first name."""


def _warning(code: str, said: words.Said) -> Finding:
    return Finding(code, Severity.WARNING, "name", *said)


def _stop(code: str, said: words.Said) -> Finding:
    return Finding(code, Severity.STOP, "name", *said)


def _is_title_only(name: str) -> bool:
    """Whether a name is a form of address, or two of them together."""
    found = [word for word in re.split(r"\s*[&+/]\s*|\s+(?:and|und|et|y|e|och|og|en)\s+|\s+", name)
             if word]  # fmt: skip
    return bool(found) and all(map(is_title, found))


def _is_of_somebody(name: str, bare: str) -> bool:
    is_given = bare.split()[:1] and bare.split()[0] in _GIVEN and name[:1].isupper()
    return not is_given and bool(_OF_SOMEBODY.fullmatch(bare))


_MAIL_ADDRESS = re.compile(r"\S+@\S+")


def is_remark(text: str) -> bool:
    """Whether a text has words that are in sentences, or thanks somebody; addresses aside."""
    text = _MAIL_ADDRESS.sub(" ", text)
    thanks = _THANKS.match(" ".join(plain(text).split()))
    return _has_words_of_remarks(text) or _is_in_sentences(text) or bool(thanks)


def _has_words_of_remarks(name: str) -> bool:
    """Whether words of sentences are in a name; the first word alone is never one."""
    found = re.findall(r"[^\W\d_]+(?:['’-][^\W\d_]+)*", name)
    if len(found) < 2:
        return False
    for word in found[is_borne(plain(found[0]), True) :]:
        low = plain(word).replace("’", "'")
        if low in _REMARK_WORDS and (word.islower() or low not in _SMALL_ALONE):
            return True
    return False


def _is_in_sentences(name: str) -> bool:
    """Whether several words are small ones that hold sentences together, and no particles."""
    found = re.findall(r"[^\W\d_]+", name)[1:]
    return sum(word in _OF_SENTENCES and not is_particle(word) for word in found) > 1


_OF_SENTENCES = frozenset(
    word
    for line in (
        "from my our your his her their to by for on at is are was were be been has have had will",
        "would can could this that these those it we they you us them as if when until about",
        "after before there here all some any every only also still just up down out of or but",
        "more next week weeks come follow follows soon certain rest tomorrow today names",
        "mein meine meinem unser unsere ihr ihre für bei ist sind war waren wird werden haben hat",
        "kann bis wenn dass dies diese dieser es wir sie uns nur auch schon immer hier jeder",
        "mon mes notre nos votre vos pour par sur est sont été que qui ce cette ces nous vous ils",
        "plus sera seront mi mis nuestro nuestra para por con que es son fue este esta estos hay",
        "más muy hasta todos mio mia nostro per con che è sono questo questa più fino mijn onze",
        "voor door met dat die is zijn worden heeft kan tot als dit deze wij ook från min mitt",
        "för till på är har det som vi inte til er meu minha nosso nossa são pelo pela estão",
        "это для все они есть был была будет на по от что как мы вы",
    )
    for word in line.split()
)
"""Small words of sentences. Common practice, from memory, in several languages."""


_COUPLES = frozenset(
    plain(word)
    for line in (
        "eheleute ehepaar ehepaare paar pärchen couple ménage époux matrimonio esposos "
        "cónyuges coniugi coppia sposi echtpaar echtelieden koppel casal cônjuges makarna "
        "paret äktaparet ekteparet ægteparret państwo państwa małżeństwo małżonkowie manželé "
        "manželia manželský zákonca supružnici bračni házaspár aviopari pariskunta "
        "sutuoktiniai laulātie abielupaar soții супруги чета подружжя съпрузи ζεύγος çifti",
    )
    for word in line.split()
)
"""What stands before the name of two who are married. Common practice, from memory."""
_ARTICLES = frozenset(("les", "los", "las", "die", "gli", "os"))
_PLURAL_OF_FAMILY = re.compile(r"[Dd]e [^\W\d_]{3,}s|i [^\W\d_]{3,}")
"""De Bakkers, i Rossi: an article that is a particle of names, too, before the plural."""


def _may_be_nobodys(name: str) -> bool:
    """Whether what closes a letter does not begin with a name: Un saludo, not Petra Saludo."""
    return not any(is_usual_first(plain(word)) for word in _WORD.findall(name)[:1])


_WITH_WHOM = (_SOMEBODY | _RELATED | frozenset(("one", "1"))) - frozenset(("alle", "all", "es"))


_THEIRS = plain(
    "و ?(?:زوج|زوجت|ابن|ابنت|بنت|أخ|أخت|أخو|عائلت|أسرت|أولاد|أطفال|بنات|أبناء|أهل|خطيب|خطيبت|صديق|"
    "صديقت|والد|والدت|أم|همسر|خانواد)(?:ه|ها|هما|هم|ش|شان)$"
    "|ו(?:אשתו|בעלה|רעייתו|בנו|בנה|בתו|בתה|אחיו|אחותו|אחיה|אחותה|אמו|אמה|אביו|משפחתו|משפחתה|ילדיו|ילדיה)$"
)
_WITH_THEIRS = re.compile(rf"\S (?:{_THEIRS})")
"""Somebody and their kin, where the word for and is a part of what follows: Ahmed and his wife."""


def _is_with_somebody(name: str) -> bool:
    """Whether a companion without a name is with somebody: Nora & son, Otto plus one."""
    match = _WITH_SOMEBODY.fullmatch(" ".join(plain(name).split()).rstrip(" .!"))
    if not match or match["who"] not in _WITH_WHOM:
        return False
    # Ana y Prima may be two who have names.
    is_typed_small = name.rstrip(" .!")[-len(match["who"].split()[-1]) :].islower()
    return is_typed_small or match["who"] not in _MEANT_BY_NAME


def _is_household(name: str) -> bool:
    """Whether a name is that of two or more who live together, as their own language says it.

    Ehepaar Falk, Los Vega, Sr. y Sra. Molina, Paul Lang Rita Lang. Les is also a first name.
    """
    found = [plain(word).strip(",") for word in name.split()] or [""]
    couple = found[1:] if found[0] in _SMALL_ARTICLES else found
    if len(couple) > 1 and couple[0] in _COUPLES:
        return True
    if len(found) > 1 and found[0].rstrip(".") in _TITLES_OF_SEVERAL:
        return True
    if len(found) == 2:
        is_name = found[0] == "les" and (is_usual_last(found[1]) or is_borne(found[1], True))
        is_plural = _PLURAL_OF_FAMILY.fullmatch(name) and not is_borne("".join(found), False)
        return bool(is_plural) or (found[0] in _ARTICLES and not is_name)
    return _has_joined_titles(name.split()) or _is_said_of_two(found) or _is_joined_in_hebrew(name)


_TITLES_OF_SEVERAL = frozenset(
    plain(word)
    for line in (
        "messrs mesdames messieurs mmes mlles sigg signori signore sres sras señores señoras "
        "senhores srs herren damen heren dames herrar herrer panowie panie pánové dámy господа "
        "гг κκ κύριοι",
    )
    for word in line.split()
)
"""Forms of address for more than one. Common practice, from memory."""
_IN_HEBREW = re.compile(
    "[\u05d0-\u05ea]{2,} (?P<second>ו[\u05d0-\u05ea]{2,})(?: [\u05d0-\u05ea]{2,})+"
)
_OWN_VAV = ("וי", "וו", "ול", "ור", "ונ", "וס", "וא")
"""How names begin that have a letter vav of their own: Victor, Wolf, Vladimir, Vered."""


def _is_joined_in_hebrew(name: str) -> bool:
    """Whether the second of three words begins with the letter that means and: David and Sarah."""
    match = _IN_HEBREW.fullmatch(name)
    return match is not None and not match["second"].startswith(_OWN_VAV)


_SMALL_ARTICLES = frozenset(("i", "gli", "los", "las", "les", "the", "die", "het", "os", "le", "o"))
_JOINERS = frozenset(
    word
    for line in ("& + / y e i a en et and und u. och og ve in ja és si și ir un и і та και",)
    for word in line.split()
)


def _has_joined_titles(found: list[str]) -> bool:
    """Whether a word for and stands between two forms of address: Sr. y Sra. Molina."""
    return any(
        joiner.lower() in _JOINERS and is_title(one) and is_title(other)
        for one, joiner, other in zip(found, found[1:], found[2:], strict=False)
    )


def _is_said_of_two(found: list[str]) -> bool:
    """Whether a first and a last name are followed by another first one and the last one again."""
    half = len(found) // 2
    if len(found) % 2 or half < 2 or found[half - 1] != found[-1]:
        return False
    return found[0] != found[half] and is_rather_first(found[half])


def _is_two(name: str) -> bool:
    # What follows in small letters is a role or a remark.
    second = next((match[0][-1] for match in _TOGETHER.finditer(name)), "a")
    if not second.islower():
        return True
    return _is_perhaps_two(name) or _are_firsts(name)


def _is_perhaps_two(name: str) -> bool:
    """Whether a joiner that names have, too, stands between two people."""
    match = _PERHAPS_TOGETHER.fullmatch(name)
    if not match or not (match["one"][0].isupper() and match["two"][0].isupper()):
        return False
    one, two = match["one"].split(), match["two"].split()
    if plain(name).startswith(_JOINED_LASTS):
        return False
    if len(one) == 1:
        return True
    is_second = len(two) > 1 and match["joiner"] not in _OF_LAST_NAMES
    return is_second or all(is_rather_first(plain(each[0])) for each in (one, two))


_JOINER = re.compile(
    r"\s+[·•]\s+|\s*[&+/;]\s*|\s*[和与及、]\s*|\s+(?i:and|und|et|og|och|ve|plus|sowie|or|oder|ou|eller|"
    r"lub|nebo|és|oraz|και|и|y|e|i|en|ed)\s+"
)
"""What stands between two names."""


def two_in(name: str) -> tuple[str, str] | None:
    """Return the two people that a name seems to hold; None where it seems to be one, or more.

    Of "Ann and Bo Berg" both have the last name.
    """
    parts = [part.strip() for part in _JOINER.split(name)]
    if len(parts) != 2 or not all(parts) or "," in name or not _is_two(name):
        return None
    one, other = parts
    if len(one.split()) == 1 and len(other.split()) > 1:
        one = f"{one} {other.split(maxsplit=1)[1]}"
    return one, other


_SO_MANY = 4


def _are_firsts(name: str) -> bool:
    """Whether a name is first names alone, more than one person has."""
    found = [plain(word) for word in name.split()]
    return len(found) >= _SO_MANY and all(
        is_rather_first(word) and not is_particle(word) for word in found
    )


def _capitals(name: str, language: str) -> Iterator[Finding]:
    """Yield words with capitals where no one sets them, beside words that are as usual."""
    if match := _SMALL_INITIAL.match(name):
        yield _warning("odd-capitals", words.odd_capitals(match[0], match[0].upper()))
    for word in _odd_words(name):
        yield _warning("odd-capitals", words.odd_capitals(word, titled(word.lower(), language)))


_SMALL_INITIAL = re.compile(r"[a-zà-ÿ]\.(?=\s?[A-ZÀ-Þ])")


def _odd_words(name: str) -> Iterator[str]:
    """Yield the words of a name whose capitals are unusual beside those of its other words."""
    found = _WORD.findall(name)
    titles = {part.strip(".,") for part in name.split() if is_title(part)}
    own = [word for word in found if len(word) > 1 and not is_particle(word)]
    if all(word.isupper() for word in own) or name == name.lower():
        return  # said as a whole
    for at, word in enumerate(found):
        if word.lower() == word and word.upper() != word:
            odd = _is_odd_small(name, found, at) and word not in titles
        elif at and plain(found[at - 1]) in _ECLIPSING and _ECLIPSED.fullmatch(word):
            odd = False
        else:
            odd = _is_shouted(found, at, titles) or _is_jumbled(word)
            odd = odd or bool(_SMALL_AFTER_O.fullmatch(word) or _SMALL_O.fullmatch(word))
        if odd:
            yield word


def _is_odd_small(name: str, found: list[str], at: int) -> bool:
    """Whether a word in small letters is one that has a capital in a name."""
    word = found[at]
    tied = at > 0 and name[name.index(word) - 1] in "-'’"
    tied = tied and not _is_small_second(found[at - 1], word)
    return len(word) > 1 and not (
        tied
        or is_particle(word)
        or word in _SMALL_NUMERALS
        or _BY_USE_SMALL.match(word)
        or (at + 1 < len(found) and word == "en" and is_particle(found[at + 1]))
    )


def _is_shouted(found: list[str], at: int, titles: set[str]) -> bool:
    """Whether a word is in capitals that are no initials, no numeral and no degree: BROWNING.

    Three letters are so where they are somebody's usual name: Mary ANN Poole; two where they are a
    form of address in front: DR Ruth Weller.
    """
    word = found[at]
    if not word.isupper() or _NUMERAL.fullmatch(word):
        return False
    if len(word) > 3 or (_is_shouted_particle(found, at) and word not in titles):
        return True
    is_usual = is_usual_first(plain(word)) or is_usual_last(plain(word))
    is_name = len(word) == 3 and is_usual and len(found) > 2
    return is_name or (at == 0 and len(word) > 1 and word in titles and len(found) > 1)


def _is_written_as_words(name: str) -> bool:
    """Whether a name is written as other words are: small but for the first one.

    "Late additions", "still missing". Where nobody is called one of the small words, it is rather
    that than a slip of the hand, as in Hendrik browning.
    """
    found = _WORD.findall(name)
    if len(found) < 2 or re.search(r"\w[./:]\w", name):
        return False  # an address of the web is said as such
    if name == name.lower():
        return name != name.title() and not any(map(_is_called, found))
    small = [word for word in _odd_words(name) if word.islower()]
    if not small or found[0] in small:
        return False
    is_whose = bool(re.search("['’]s$", found[0]))  # Teacher's aide
    return is_whose or not all(map(_is_called, small))


def has_somebodys_word(name: str) -> bool:
    """Whether a word of a name is one that people are called, and no month."""
    return any(
        _is_called(word) and plain(word) not in _MONTHS and word[:1].isupper()
        for word in _WORD.findall(name)
    )


_MONTHS = frozenset(
    word
    for line in (
        "january february march april may june july august september october november december",
        "jan feb mar apr jun jul aug sep sept oct nov dec januar februar marz mai juni juli",
    )
    for word in line.split()
)


def _is_called(word: str) -> bool:
    return is_borne(plain(word), True) or is_borne(plain(word), False)


_BY_USE_SMALL = re.compile("ff[a-z]{3,}")
"""Families that write their name with two small letters: ffoulkes, ffrench."""


def _is_shouted_particle(found: list[str], at: int) -> bool:
    """Whether a particle within a name is in capitals, and a name in small letters follows it."""
    word = found[at]
    is_inside = 0 < at < len(found) - 1 and len(word) > 1
    if not is_inside or not word.isupper() or _NUMERAL.fullmatch(word) or not is_particle(word):
        return False
    return not found[at - 1].isupper() or is_particle(found[at - 1])


def _is_small_second(first: str, second: str) -> bool:
    """Whether what follows a hyphen in small letters is a first name: Jean-marie, Wolf-dieter.

    Syllables of Korean and Chinese names are written so: Mi-kyung, Wen-liang, Min-jung.
    """
    both = plain(first), plain(second)
    if len(second) > 3 and all(map(is_usual_first, both)):
        return True
    if is_usual_first(both[0]) and both[1] in _SECONDS:
        return True
    is_pair = all(is_usual_first(word) or is_usual_last(word) for word in both)
    if is_pair and len(first) >= _SHORTEST_FIRST and not _SYLLABLE.search(first.lower()):
        return True
    if len(first) > _SHORTEST_SECOND and not _SYLLABLE.search(first.lower()):
        return len(second) >= _SHORTEST_FIRST  # Fenwick-vane
    is_syllable = second.endswith("ng") or len(second) < _SHORTEST_SECOND
    return (
        not is_syllable
        and not is_particle(first)
        and any(is_borne(both[1], as_first) for as_first in (True, False))
    )


_SHORTEST_SECOND = 5
_SHORTEST_FIRST = 4
_SYLLABLE = re.compile("(?:ng|[eouy]o?n|[eo]o?k|eo?l|ao|ei|ua|ia)$")
"""How syllables of Korean and Chinese names end. Common practice, from memory."""
_SECONDS = frozenset(
    ("luc", "marc", "paul", "guy", "yves", "louis", "pierre", "noel", "rene", "leon", "claude")
)
"""What follows a first name and a hyphen, of three letters and more: Jean-Luc."""


def _is_jumbled(word: str) -> bool:
    """Whether capitals stand inside a word as nobody writes them: mAREN, MAren, MaREN."""
    if not any(c.isupper() for c in word[1:]) or word.isupper():
        return False
    if _is_led(word) or _ELIDED.fullmatch(word) or _is_parted(word) or _is_double_first(word):
        return False
    return not _is_joined(word) and not re.fullmatch(r"IJ[a-z]+", word)


def _is_double_first(word: str) -> bool:
    """Whether two short first names are written as one with two capitals: JoAnn, AnnMarie."""
    match = re.fullmatch("([A-ZÀ-Þ][a-zà-ÿ]+)([A-ZÀ-Þ][a-zà-ÿ]+)", word)
    return bool(
        match
        and len(match[1]) <= _LONGEST_OF_TWO
        and {plain(match[1]), plain(match[2])} & _JOINED_FIRSTS
        and all(is_usual_first(plain(half)) for half in match.groups())
    )


_LONGEST_OF_TWO = 5
_JOINED_FIRSTS = frozenset(
    word
    for line in ("jo ann anne beth lynn lyn lou sue mae marie mary jean lee kay ellen rae",)
    for word in line.split()
)
"""One of the two halves of such names. Common practice, from memory."""


def _is_parted(word: str) -> bool:
    """Whether each side of an apostrophe is a word with its capital: N'Diaye, Ja'Marr, О’Коннор."""
    before, _, after = re.sub("[’‘`ʼ]", "'", word).partition("'")
    return before == before[:1] + before[1:].lower() and after[:1].isupper() and after[1:].islower()


def _is_led(word: str) -> bool:
    """Whether a capital inside a word is one that names have: McDonald, O'Dea, LaRue."""
    if _LED_SMALL.fullmatch(word):
        return not is_usual_first(plain(word))
    if word.startswith(_NAMES_TOO) and is_usual_first(plain(word)):
        return False
    rests = (word.removeprefix(led) for led in _LEADING if word.startswith(led))
    return any(rest[:1].isupper() and rest[1:].islower() for rest in rests)


def _is_joined(word: str) -> bool:
    """Whether two words may have grown together: MarenHale."""
    return any(
        char.isupper()
        and (around := word[at - 2 : at] + word[at + 1 : at + 3]).islower()
        and around.isalpha()
        for at, char in enumerate(word)
        if at >= 2 and len(word) - at >= 3
    )


def _signs(name: str) -> Iterator[Finding]:
    if (
        _QUOTED.fullmatch(name)
        or _is_half_quoted(name)
        or _is_half_bracketed(name)
        or _WITHIN.search(name)
        or _LOOSE.search(name.strip())
        or _INSIDE.search(name)
        or _is_sentence(name)
        or _SMALL_AT_END.search(name)
    ):
        yield _warning("stray-sign", words.stray_sign(name))
    elif _NICKNAME.search(name):
        yield _warning("nickname", words.nickname(name))


_SMALL_AT_END = re.compile(r"[A-ZÀ-ÞΑ-ΩА-Я].* [a-zà-ÿā-žα-ωа-я][.!]?$")
"""A small letter alone at the end, as of a key touched, a kiss, or a word that was cut off."""
_WITHIN = re.compile(
    r"[^\W\d_][@$€£!|](?=\s|$)|[^\W\d_][(\[{<][^\W\d_]|[^\W\d_][)\]}>][^\W\d_]"
    r"|[^\W\d_][`´][^\W\d_]|['’]{2}[^\W\d_]|[-–—]{2}"
)
"""A sign that ends a word, a bracket inside one, what is no apostrophe: Mari@, Jo(h)an, O`Dea."""
_HALF_QUOTE = re.compile(
    r"[a-zà-ž]{2}['’‘]$|(?:^|\s)['’‘](?![stnST][\s'’A-Z-])[^\W\d_]{2,}(?![^\s]*['’])"
)
"""An apostrophe behind the last word, or before one that is no 't and no 's."""


def _is_half_quoted(name: str) -> bool:
    """Whether a quotation mark stands in a name without the one that belongs to it."""
    doubles = sum(char in '"“”„«»' for char in name)
    return bool(doubles % 2) or bool(_HALF_QUOTE.search(name) and not _NICKNAME.search(name))


def _is_half_bracketed(name: str) -> bool:
    """Whether a bracket stands in a name without the one that belongs to it."""
    return any(name.count(one) != name.count(other) for one, other in ("()", "[]", "{}"))


def _is_sentence(name: str) -> bool:
    """Whether a full stop ends a name whose last word is no short form."""
    last = (name.split() or [""])[-1]
    return (
        len(last) > 4
        and last.endswith(".")
        and last[:-1].isalpha()
        and not is_title(last)
        and _bare(last) not in SUFFIXES
    )


def _slips(name: str) -> Iterator[Finding]:
    parts = name.split()
    for word in _WORD.findall(name):
        if _is_joined(word) and not _is_led(word) and not _is_double_first(word):
            yield _warning("words-joined", words.words_joined(word))
    plains = [plain(part).strip(".,") for part in parts]
    own = [word for part, word in zip(parts, plains, strict=True) if not is_title(part)]
    if _is_doubled(own):
        yield _warning("word-doubled", words.word_doubled(name))
    if _EL_FOR_I.search(name):
        yield _warning("l-for-i", words.l_for_i(name, with_capital_i(name)))


def with_capital_i(name: str) -> str:
    """Return a name with a capital I wherever a small L seems to stand for one."""
    return _EL_FOR_I.sub(_with_i, name)


def _is_doubled(plains: list[str]) -> bool:
    """Whether a word, or several in a row, stand twice one after the other; initials may."""
    return any(
        plains[at : at + count] == plains[at + count : at + 2 * count]
        for count in range(1, len(plains) // 2 + 1)
        for at in range(len(plains) - 2 * count + 1)
        if any(len(word) > 1 for word in plains[at : at + count])
    )


def _with_i(match: re.Match[str]) -> str:
    return re.sub("[lL]", "I", match[0], count=1)
