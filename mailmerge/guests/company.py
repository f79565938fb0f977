"""What all rows of a list together tell about one of them: who is in it twice, what is no guest.

A list of a party is small. Beyond :data:`MOST` guests only names that are the same are found, so
that memory does not grow with the list.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import combinations, pairwise
from typing import NamedTuple

from rapidfuzz.distance import OSA

from mailmerge.guests.codepages import misread, page_of, read_as, read_in
from mailmerge.guests.exchanged import is_rather_first, is_usual_first, leaning
from mailmerge.guests.names import SUFFIXES, TITLES, is_particle, is_title, plain, read_as_icelandic
from mailmerge.guests.roles import (
    KNOWN,
    RANKS,
    SECTIONS,
    in_another_language,
    is_written,
    of_the_language,
)

MOST = 5_000
"""Guests of a list that are compared with each other."""

_SHORT_FORMS = (
    "лидия лида", "маргарита рита марго", "людмила люда мила", "галина галя", "надежда надя",
    "наталья наташа", "наталия наташа", "ольга оля", "ирина ира", "елена лена", "светлана света",
    "владимир вова володя", "николай коля", "сергей серёжа", "юрий юра",
    "павел паша", "виктор витя", "виктория вика", "валентина валя", "вера верочка", "егор гоша",
    "robert bob rob bobby robbie bert", "william bill will billy willy liam",
    "richard dick rick", "elizabeth liz beth betty lizzie eliza lisbeth",
    "margaret maggie meg peggy greta margot", "james jim jimmy jamie", "john jack johnny",
    "michael mike mick", "thomas tom tommy", "christopher chris", "christine chris chrissie",
    "katherine kate kathy katie cathy kat", "alexander alex sasha sandy",
    "alexandra alex sasha sandra", "edward ed eddie ted ned", "charles charlie chuck",
    "henry harry hank", "joseph joe joey", "joanna jo joanne", "samuel sam sammy",
    "samantha sam", "benjamin ben benny", "daniel dan danny", "david dave davy", "stephen steve",
    "steven steve", "andrew andy drew", "anthony tony", "matthew matt", "nicholas nick",
    "patrick pat paddy", "patricia pat patty trish", "rebecca becky", "jennifer jenny jen",
    "jessica jess", "susan sue susie", "deborah debbie", "victoria vicky", "dorothy dot dolly",
    "frederick fred freddy", "gregory greg", "jonathan jon jonny", "kenneth ken",
    "lawrence larry", "leonard len leo", "peter pete", "philip phil", "raymond ray",
    "ronald ron ronnie", "theodore ted theo", "timothy tim", "walter walt", "gerald gerry jerry",
    "geoffrey geoff", "jeffrey jeff", "donald don donnie", "douglas doug", "eugene gene",
    "francis frank", "franklin frank", "abigail abby", "amanda mandy", "barbara barb",
    "cynthia cindy", "josephine josie", "pamela pam", "penelope penny", "philippa pippa",
    "sophia sophie", "veronica ronnie", "isabella bella", "madeleine maddie", "hans johannes",
    "johann hans", "heinrich heinz", "friedrich fritz", "wilhelm willi", "josef sepp",
    "franziska franzi", "magdalena lena", "helena lena", "antonio toni", "anton toni",
    "giuseppe beppe", "francisco paco pancho", "jose pepe", "ignacio nacho", "guadalupe lupe",
    "kathleen kath kathy", "wilhelmina mina minna", "vincenzo enzo", "lorenzo enzo renzo",
    "ekaterina katya", "concepcion concha", "beatrice bea trixie", "nathaniel nate nat",
    "archibald archie", "tobias toby", "franz franzl", "konstantin kostya",
    "florence flo flossie", "gabriela gaby", "gabrielle gaby", "katharina kathi kathe katrin",
    "elisabeth lisa elli sissi", "sebastian basti", "mathilda tilda",
    "matilda tilly", "ottilie tilly", "christina tina", "martina tina", "bettina tina",
    "augustus gus", "gustav gus", "isabel bel", "arabella bella", "alfred fred alf",
    "manfred fred", "winifred freddie winnie", "antoinette toni nettie", "henrietta etta hetty",
    "charlotte lottie lotte", "eleanor nell nellie ellie", "helen nell nellie", "ellen nell",
    "gwendolyn gwen", "rosalind roz", "millicent millie", "emily millie", "amelia millie",
    "dimitri mitya dima", "vladimir volodya vova", "mikhail misha", "nikolai kolya",
    "alexei alyosha", "maria masha mariechen mia", "anastasia nastya", "tatiana tanya",
    "svetlana sveta", "ludwig lutz wiggerl", "ulrich uli", "matthias hias matze", "jorge coque",
    "enrique quique kike", "manuel manolo", "rosario charo", "dolores lola", "mercedes merche",
    "eduardo lalo edu", "luis lucho", "roberto beto", "alberto beto", "rafael rafa",
    "giovanni gianni", "luigi gigi", "francesco checco", "domenico mimmo", "salvatore totò toto",
    "cornelis kees", "willem wim", "jacobus koos", "johannes jan hans", "hendrik henk",
    "gerardus gerard geert", "catharina trijntje toos", "krzysztof krzysiek",
    "stanislaw staszek", "tomasz tomek", "zbigniew zbyszek", "grzegorz grzesiek",
    "barbara basia", "elzbieta ela", "zofia zosia", "katarzyna kasia", "malgorzata gosia",
    "joanna asia", "aleksandra ola", "jan janek", "johannes hannes",
    "antonia toni tonia", "antonie toni", "edith edie", "judith judy", "louisa lou lulu",
    "louise lou lulu", "louis lou", "lucinda lucy", "mabel may", "marianne nanne",
    "marjorie marge", "mary molly polly mamie", "martha patty", "nancy nan", "oliver ollie olly",
    "olivia livvy", "rosemary rosie", "ruth ruthie", "sally sal", "sylvia syl", "virginia ginny",
    "zachary zac", "agnes aggie", "albert bert al", "arthur art", "bernard bernie",
    "bartholomew bart", "clifford cliff", "cornelius neil", "evelyn evie", "georgina georgie",
    "gilbert bert gil", "herbert bert herb", "hubert bert hugh", "jacqueline jackie",
    "jane jenny janie", "joshua josh", "julian jules", "juliet jules", "louis lewis",
    "malcolm mal", "maurice mo", "miriam mimi", "reginald reg reggie", "roderick rod",
    "rudolph rudy", "stanley stan", "terence terry", "teresa terry tess", "valerie val",
    "wendell wen", "adelaide addie", "georg schorsch jörg", "gertrud trude", "gerda gerti",
    "hildegard hilde", "ingeborg inge", "jakob jockel", "joachim jochen achim", "johanna hanne",
    "karoline lina line", "leopold poldi", "margarete grete gretel", "margarethe grete gretel",
    "elisabeth lisbeth", "jozef jožko", "maria mizzi mitzi",
    "peter pit", "philipp lipp", "rosina rosi", "rosa rosi", "sigmund sigi", "siegfried sigi",
    "susanne sanne susi", "therese resi", "theresia resi", "ursula uschi ulla", "waltraud traudl",
    "waltraut traudl", "wolfgang wolf wolfi", "alois loisl", "andreas anderl andi",
    "annemarie annemie", "eberhard ebi", "ernst ernstl", "gottfried friedl", "klaus nikolaus",
    "brigitte gitte biggi", "eva evi", "alexandre alex", "antoine toine", "caroline caro",
    "dominique domi", "emmanuel manu", "emmanuelle manu", "frédéric fred", "guillaume guy",
    "michel michou", "nathalie nath", "sébastien seb", "stéphanie steph",
    "thérèse zeze", "valérie val", "alejandro alex jandro", "ana anita", "consuelo chelo",
    "encarnación encarna", "fernando nando", "gregorio goyo", "jesús chus chucho", "josefa pepa",
    "pilar pili", "ramón moncho", "santiago santi yago", "sebastián sebas", "soledad sole",
    "teresa tere", "vicente chente", "antónio toni tó", "josé zé", "luísa lu", "manuela nela",
    "alessandro sandro", "alessandra sandra", "bartolomeo meo", "filippo pippo", "giuseppina pina",
    "leonardo nardo leo", "ferdinando nando", "raffaele lello", "vincenza enza", "andries dries",
    "bernardus ben", "elisabeth els lies betje", "franciscus frans", "johanna jo annie",
    "margaretha greet", "petrus piet", "pieter piet", "theodorus theo dorus", "adrianus arie",
    "cornelia nel corrie", "anders acke", "bengt benke", "birgitta gitta", "fredrik fredde",
    "gunnar nurre", "karl kalle", "lars lasse", "magnus mange", "margareta greta maggan",
    "nils nisse", "per pelle", "sven svenne", "tobias tobbe", "katarina kajsa", "erik jerker",
    "olof olle", "kristian kris", "kristina stina", "elisabet lisbet bettan",
    "aleksander alek olek", "agnieszka aga", "anna ania hania", "bogdan boguś", "dorota dorka",
    "ewa ewka", "henryk heniek", "jacek jacuś", "jakub kuba", "janina janka", "józef józek",
    "magdalena magda", "marek maruś", "mariusz maniek", "michał misiek", "paweł pawełek",
    "piotr piotrek", "sławomir sławek", "teresa renia", "wojciech wojtek", "alžběta běta",
    "františek franta", "jan honza", "jana janička", "jaroslav jarda", "jiří jirka", "josef pepa",
    "kateřina katka", "miroslav mirek", "václav vašek", "vladimír vláďa", "zdeněk zdenda",
    "erzsébet erzsi bözsi", "ferenc feri", "istván pista pisti", "jános jancsi", "józsef józsi",
    "katalin kati", "lászló laci", "mihály misi", "sándor sanyi", "zsuzsanna zsuzsa zsuzsi",
    "mehmet memo", "mustafa musti", "fatma fatoş", "ibrahim ibo", "süleyman sülo",
    "александр саша шура", "александра саша шура", "алексей алёша лёша", "анастасия настя",
    "анатолий толя", "андрей андрюша", "анна аня нюра", "антон тоша", "борис боря",
    "валентин валя", "валентина валя", "валерий валера", "варвара варя", "василий вася",
    "вера верочка", "виктор витя", "виктория вика", "владимир вова володя", "владислав влад",
    "вячеслав слава", "галина галя", "геннадий гена", "георгий гоша жора", "григорий гриша",
    "дарья даша", "дмитрий дима митя", "евгений женя", "евгения женя", "екатерина катя",
    "елена лена", "елизавета лиза", "зинаида зина", "иван ваня", "илья илюша", "ирина ира",
    "константин костя", "ксения ксюша", "лариса лара", "леонид лёня", "любовь люба",
    "людмила люда мила", "мария маша маруся", "михаил миша", "надежда надя", "наталья наташа",
    "наталия наташа", "никита ника", "николай коля", "олег олежка", "ольга оля", "павел паша",
    "пётр петя", "раиса рая", "роман рома", "светлана света", "сергей серёжа", "софья соня",
    "станислав стас", "степан стёпа", "тамара тома", "татьяна таня", "фёдор федя", "юлия юля",
    "юрий юра", "ярослав ярик слава", "олександр сашко", "іван івась", "михайло михась",
    "оксана ксеня", "γεώργιος γιώργος", "γεωργία γωγώ", "ιωάννης γιάννης", "ιωάννα γιάννα",
    "κωνσταντίνος κώστας ντίνος", "κωνσταντίνα ντίνα", "δημήτριος δημήτρης μήτσος μίμης",
    "δήμητρα μιμή", "νικόλαος νίκος", "αικατερίνη κατερίνα καίτη", "ελένη λένα νίτσα",
    "βασίλειος βασίλης", "βασιλική βίκυ", "παναγιώτης πάνος τάκης", "χρήστος χρηστάκης",
    "ευάγγελος βαγγέλης", "ευαγγελία βαγγελιώ εύα", "αθανάσιος θανάσης νάσος", "σπυρίδων σπύρος",
    "εμμανουήλ μανώλης", "αντώνιος αντώνης", "στυλιανός στέλιος", "στυλιανή στέλλα",
    "μιχαήλ μιχάλης", "αναστάσιος τάσος", "θεόδωρος θοδωρής", "ελευθέριος λευτέρης",
    "αλέξανδρος αλέκος", "ευστάθιος στάθης", "ευστράτιος στράτος", "ιωσήφ σήφης",
    "παρασκευή βούλα εύη", "στέφανος στεφανής", "χαράλαμπος μπάμπης χάρης", "χριστίνα ντίνα",
    "μαρία μαίρη μαρίκα", "άννα αννούλα",
    "ulrike uli ulli rike", "ulrich ulli", "cornelia conny nele nelly", "cornelius conny",
    "stefanie steffi", "stephanie steffi steph", "stefan steffen", "christopher kit topher",
    "katherine kit kitty", "sarah sally sadie", "theodora dora thea teddy",
    "dorothea dora thea dörte", "dorothy dora dodie", "isidora dora", "eleonora nora lore",
    "eleonore nora lore", "honora nora", "leonora nora", "alexandra xandra lexi",
    "alexander xander lex lexi", "andrea andi", "angela angie", "angelika geli",
    "annegret anne gret", "augusta gusta gussie", "beatrix trixi bea", "benedikt ben",
    "bernhard bernd", "bernadette detta bernie", "birgit gitti", "burkhard burki",
    "caroline carrie lina", "cassandra cassie", "cecilia cissy celia", "charlotte charlie carly",
    "claudia claudi", "clemens mens", "constance connie", "constanze conni stanzi",
    "cordelia delia", "dietrich dieter didi", "dominik nik", "edmund ed ned ted", "edwin ed eddie",
    "eduard edi", "emma emmy", "erasmus raz", "ernestine tine", "eugenie genie", "evangeline evie",
    "felicity flick fliss", "ferdinand ferdi", "florian flo", "frances fran franny frankie",
    "francesca chess franca", "frederica freddie rica", "friederike rike fritzi",
    "gabriele gabi gaby", "gabriel gabe", "georg gorch", "george geordie", "geraldine gerry",
    "gerhard gerd gerti", "giovanna gianna vanna", "gisela gisi", "guillermo memo", "gunther gunni",
    "hannelore hanne lore", "harold harry hal", "harriet hattie", "heidemarie heidi",
    "heinrich heini", "helene leni lene", "hermann harm", "hieronymus ron", "hortense horty",
    "humphrey hum", "imogen immy", "irmgard irmi", "isabella izzy bella", "jeremiah jerry",
    "jeremy jez jerry", "john jock ian", "jonathan natty", "josephine jo fifi", "juliane jule",
    "julia jule", "justine tina", "karl-heinz kalle", "kassandra kassie", "katarina kata",
    "katherine katya kay", "klara klärchen", "konrad kurt conny", "kunigunde gundi", "leonie leo",
    "letitia letty", "lieselotte lilo lotte", "lillian lily", "louise lulu weezy", "lucia luzie",
    "ludmilla milla", "luise lulu", "madeline maddy", "magdalene lene leni", "marcella celly",
    "margarethe greta gritt", "margaret daisy madge marnie rita", "margarita rita",
    "maria ria mimi", "mariana nana", "marilyn lyn", "martha mattie", "martin tin", "mathias matti",
    "matilda mattie tilly", "maximilian max maxi", "maximiliane maxi", "melanie mel melli",
    "melissa lissa mel", "michaela michi micha", "michael michi micha", "mildred millie",
    "monika moni", "muriel mo", "nadezhda nadya", "natalia natasha tasha", "nathan nate",
    "nicole nicki nic", "norbert bert", "octavia tavia", "oswald ossi", "ottokar otto",
    "petronella nel", "petra peti", "priscilla cilla", "prudence pru", "rainer reini",
    "reinhard reini", "reinhold reini", "renate reni nate", "rodney rod", "rosalie rosi",
    "roland roli", "rosamund roz", "rudolf rudi", "rupert rupi", "sabine bine", "salome sally",
    "samson sam", "sebastian seb bastian", "sigrid siri", "silvia silvi", "sidonie sid",
    "simone moni", "stanislav stas slava", "sybille billa", "tabitha tabby", "tatjana tanja",
    "thaddeus tad", "thomas tam", "tristan tris", "ursula ulla uschi ursel", "valentin valli",
    "valentina tina", "verena vreni", "veronika vroni", "viktoria vicky", "vincent vince vinnie",
    "vivian viv", "volker volki", "walburga burgl", "wilfried willi",
    "wilhelmina billie minnie wilma", "wilhelmine minchen", "winston win", "xaver xaverl",
    "yvonne vonny", "zacharias zach", "adriana ana", "agustín tin", "alfonso fonso poncho",
    "anselmo chemo", "beatriz bea betty", "carlota lota", "catalina cata lina", "cristina cris",
    "cristóbal tobal", "daniela dani", "esperanza espe", "esteban teban", "felipe pipe",
    "francisca paca paquita", "gonzalo chalo", "graciela chela", "hernán nano", "inmaculada inma",
    "isabel chabela isa", "jacinto chinto", "jaime jimmy", "javier javi", "joaquín quino",
    "maria-josé coté", "leticia leti", "lourdes lulu", "macarena maca", "margarita marga",
    "maría mari", "milagros mila", "montserrat montse", "nicolás nico", "patricio pato",
    "patricia patri", "remedios reme", "rigoberto beto", "rodrigo rodri", "tomás tomi",
    "verónica vero", "victoria vicky toya", "yolanda yoli", "angelo lino", "antonella nella",
    "benedetto betto", "carmela melina", "caterina rina cate", "elisabetta betta", "federica fede",
    "federico fede chicco", "gabriella lella", "gaetano tano", "giacomo mino", "giuliana giuli",
    "margherita rita ghita", "massimo max", "matteo teo", "michele lino", "nicola nico",
    "pasquale lino", "pietro piero", "raffaella lella", "roberta robi", "rosalia lia",
    "stefania stefi", "tommaso masino tommi", "adélaïde adèle", "bénédicte béné", "bertrand bébert",
    "catherine cathie", "christophe chris", "delphine del", "élisabeth babette lise",
    "florence flo", "françois fanfan", "françoise framboise fanchon", "geneviève ginette",
    "jacqueline jacotte line", "jacques jacquot", "madeleine mado", "marguerite margot",
    "maximilien max", "nicolas nico", "philippe phil", "véronique véro", "vincent vins",
    "gijsbert gijs", "maximiliaan max", "nicolaas klaas nico", "sebastiaan bas", "bastiaan bas",
    "antonius toon anton ton", "adriaan arie", "jozef jef", "hubertus bert huub",
    "lambertus bert lambert", "leonardus leo", "martinus tinus", "wilhelmus wim willem",
    "mathilde tilde", "alexandra sassa", "charlotta lotta", "elisabeth lisa betty",
    "kristoffer stoffe", "mikael micke", "robert robban", "stefan steffe", "thomas tompa",
    "anders ante", "henrik henke", "johan jocke", "joakim jocke", "matias matti", "elzbieta bietka",
    "barbara baśka", "andrzej jędrek", "stanisława stasia", "władysław władek", "kazimierz kazik",
    "ludwik lutek", "mieczysław mietek", "ryszard rysiek", "tadeusz tadek", "urszula ula",
    "wiesław wiesiek", "zygmunt zyga", "antonín tonda", "bohumil bohouš", "božena boženka",
    "ladislav láďa", "ludmila liduška", "milan míla", "stanislav standa", "tomáš tomášek",
    "vojtěch vojta", "veronika verča", "gábor gabi", "györgy gyuri", "imre imi", "ilona ica ili",
    "julianna juli", "lajos lali", "margit manci", "mária mari", "piroska piri", "tibor tibi",
    "zoltán zoli", "ileana lenuța", "gheorghe gigi", "constantin costel", "nicolae nicu",
    "vasile vasilică", "alexandru sandu", "dimitrije mita", "aleksandar saša aca", "milorad mile",
    "slobodan boban", "zoran zoki", "vladimir vlado", "abdullah apo", "hüseyin hüso", "hasan haso",
    "elif elo", "богдан бодя", "даниил даня", "денис дэн", "игорь гарик", "маргарита рита",
    "матвей мотя", "тимофей тима", "эдуард эдик", "элеонора эля", "агния ася", "анастасия ася",
    "таисия тася", "zinaida zina", "lyudmila lyuda mila", "yekaterina katya", "yelena lena",
    "elena lena", "olga olya", "irina ira", "sergei seryozha", "pavel pasha", "pyotr petya",
    "yevgeny zhenya", "dmitry dima mitya", "grigory grisha", "ivan vanya", "konstantin kostya",
    "lyubov lyuba", "nadezhda nadia", "raisa raya", "sofia sonya", "vasily vasya", "viktor vitya",
    "yuri yura",
)  # fmt: skip
_SPELLINGS = (
    "catherine katherine kathryn catharine katharine katarina katharina",
    "stephen steven stephan stefan",
    "alexander aleksandr alexandr aleksander alessandro", "alexandra aleksandra", "philip phillip",
    "geoffrey jeffrey", "christopher kristopher kristofer kristoffer christoffer christoph",
    "christina kristina cristina",
    "christine kristine", "nicholas nicolas nikolas", "frederick frederic frederik fredrik",
    "eric erik erich", "marc mark", "karl carl", "sarah sara", "sofia sophia zofia",
    "jon john", "rachel rachael", "michael mikhail mikael", "claire clare", "laurence lawrence",
    "elisabeth elizabeth", "isabel isobel isabelle", "theresa teresa", "lukas lucas",
    "viktor victor", "viktoria victoria", "matthew mathew", "dmitri dmitry dimitri",
    "sergei sergey", "yuri yury", "andrei andrey", "alexei alexey aleksei aleksey",
    "natalia nataliya natalya", "yulia julia",
    "muhammad mohammed mohamed mohammad", "ahmed ahmad", "hussein husain hussain",
)  # fmt: skip
"""Names with the short forms that people use for them, and names with their other spellings.

Common practice, from memory.
"""


def _groups() -> Mapping[str, frozenset[int]]:
    """Return in which groups a name is; one has the short forms of all its spellings."""
    found: dict[str, set[int]] = defaultdict(set)
    for number, names in enumerate((*_SHORT_FORMS, *_SPELLINGS)):
        for name in plain(names).split():
            found[name].add(number)
    short = {name: frozenset(n for n in numbers if n < len(_SHORT_FORMS))
             for name, numbers in found.items()}  # fmt: skip
    for names in _SPELLINGS:
        spelled = plain(names).split()
        for name in spelled:
            found[name].update(*(short[other] for other in spelled))
    return {name: frozenset(numbers) for name, numbers in found.items()}


_GROUP_OF = _groups()


class Remark(NamedTuple):
    """What other rows say about one."""

    kind: str
    """``same``, ``alike``, ``one-word``, ``turned``, ``split``, ``name-signs``, ``role-signs``,
    ``role-alike``, ``role-foreign``, ``role-missing``, ``role-none``, ``role-within``,
    ``role-goes-on``, ``name-is-role``,
    ``letter``, ``heading``, ``foreign``, ``code-page`` or ``page-of-list``."""
    rows: tuple[int, ...] = ()
    other: str = ""
    own: str = ""
    """The row's own text, where the other one is not enough to tell it."""


_APOSTROPHES = re.compile("['’‘`ʼʻ´′]")
_LETTERS = re.compile(r"[^\W_]+")
_LETTERS_ALONE = re.compile(r"[^\W\d_]")
_SIGNS = (r"(?<=\w)['’‘ʼ`´](?=\w)", r"(?<=\w)[-‐‑–—](?=\w)", r"(?<=\s)[-–—](?=\s)")
"""Apostrophes, hyphens and dashes."""
_UNPARTED = re.compile(
    "[\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u3040-\u30ff\u3400-\u9fff\uac00-\ud7af]"
)
"""Letters of scripts that set no blank within a name: Thai to Khmer, Kana, Han, Hangul."""


def _parts_its_words(name: str) -> bool:
    return bool(name) and not _UNPARTED.search(name)


def parts_of(name: str) -> tuple[str, ...]:
    """Return the words of a name, plain, the first name first, without titles and suffixes."""
    text = _SAINT.sub("st", _APOSTROPHES.sub("", plain(name)))
    before, comma, after = text.partition(",")
    found = _LETTERS.findall(text)
    if comma and "," not in after and set(_LETTERS.findall(after)) - SUFFIXES:
        found = [*_LETTERS.findall(after), *_LETTERS.findall(before)]
    # Jun is a first name, too, and so may an initial be one of the numerals.
    own = [word for at, word in enumerate(found) if not at or word not in SUFFIXES]
    if len(own) == 1 and len(found) == 2 and found[1] in _LASTS_TOO:
        own = found
    # Somebody's last name may be a form of address, too: Gregory Lord.
    if len(own) > 2 and is_title(next(iter(text.split()), "")):
        # A short form with a sign in it is several of these words: г-н, g-đa.
        own = own[len(_LETTERS.findall(text.split()[0])) :] or own
    while own and own[0] in TITLES:
        own.pop(0)
    while len(own) > 2 and own[-1] in TITLES:
        own.pop()
    return tuple(own or found)


_SAINT = re.compile(r"\b(?:st|saint)\b\.?[ -](?=[^\W\d_])")
"""St. John is one last name, and no John."""

_LASTS_TOO = frozenset(("neto", "filho", "fils", "pere", "jun", "sen", "senior", "junior"))
"""Suffixes that are also somebody's only last name: Brian Neto."""


@dataclass
class Company:
    """The guests of a list, as far as they say something about each other."""

    names: list[tuple[int, str, str]] = field(default_factory=list)
    """Row, name and role of each guest, up to :data:`MOST` of them."""
    is_whole: bool = True

    def add(self, row: int, name: str, role: str) -> None:
        """Take a guest in."""
        if len(self.names) < MOST:
            self.names.append((row, name, role))
        else:
            self.is_whole = False

    def remarks(self) -> dict[int, list[Remark]]:
        """Return what is to be said of each row; nothing of most of them."""
        if not self.is_whole:
            return {}
        found: dict[int, list[Remark]] = defaultdict(list)
        names = {row: name for row, name, _ in self.names}
        for row, remark in (
            *self._alike(), *self._split(), *self._of_roles(), *self._of_words(),
            *self._of_signs(), *self._foreign(), *self._code_page(),
        ):  # fmt: skip
            if not any(_says(one, remark, names[row]) for one in found[row]):
                found[row].append(remark)
        return {row: said for row, said in found.items() if said}

    def _alike(self) -> Iterator[tuple[int, Remark]]:
        """Yield who may be the same person, written otherwise."""
        people = [(row, name, parts_of(name)) for row, name, _ in self.names if name]
        pairs = {*_same_words(people), *_short_forms(people), *_slips(people), *_shorter(people)}
        beside: dict[int, list[int]] = defaultdict(list)
        for one, other in sorted(pairs):
            beside[one].append(other)
            beside[other].append(one)
        for at, others in beside.items():
            row, name, _ = people[at]
            alike = [people[other] for other in others if people[other][1] != name]
            if alike:
                yield row, Remark("alike", tuple(other for other, _, _ in alike), alike[0][1])

    def _of_words(self) -> Iterator[tuple[int, Remark]]:
        """Yield who has one word for a name where others have two, or the two turned around."""
        roles = Counter(role.casefold() for _, _, role in self.names if role)
        own = [
            (row, name, words)
            for row, name, role in self.names
            if (words := parts_of(name))  # signs alone are no name
            and _parts_its_words(name)
            and name.casefold() not in roles
            and (role or not _is_heading(name, roles))
        ]
        full = [words for _, name, words in own if not _is_shortened(words, name)]
        if not _nearly_all(len(full), len(own), _NEARLY_ALL):
            return
        firsts = Counter(words[0] for words in full)
        lasts = Counter(words[-1] for words in full)
        for row, name, words in own:
            if len(name) == 1:
                yield row, Remark("letter", own=name)
            elif _is_shortened(words, name):
                yield row, Remark("one-word")
            else:
                first, last = words[0], words[-1]
                is_like_no_other = firsts[first] == lasts[last] == 1 and first not in _LEAD
                if is_like_no_other and lasts[first] and (firsts[last] or _is_last_first(name)):
                    yield row, Remark("turned")

    def _split(self) -> Iterator[tuple[int, Remark]]:
        """Yield whose first and last name stand in the columns of name and role.

        They are one word each, the role is nobody else's and no known one, and the census says that
        the two of several rows are a first and a last name; or else all other rows have whole names
        and share their roles.
        """
        count = Counter(role.casefold() for _, _, role in self.names if role)
        split = [
            (row, name, role)
            for row, name, role in self.names
            if name and role and count[role.casefold()] == 1 and _is_one_word(name)
            and _is_one_word(role) and plain(role) not in KNOWN and role[:1].isupper()
        ]  # fmt: skip
        if len(split) < 2:
            return
        leanings = [leaning(name, role) for _, name, role in split]
        are_names = sum(each >= _LEANS for each in leanings) >= max(2, _HALF * len(split))
        rows = {row for row, _, _ in split}
        others = [(name, role) for row, name, role in self.names if row not in rows]
        usual = [" " in name and count[role.casefold()] > 1 for name, role in others]
        if are_names or _nearly_all(sum(usual), len(others), _NEARLY_ALL):
            for row, name, role in split:
                yield row, Remark("split", (), f"{name} {role}")

    def _of_signs(self) -> Iterator[tuple[int, Remark]]:
        """Yield who has another apostrophe, hyphen or dash than most of the list."""
        for kinds in _SIGNS:
            used: dict[str, list[tuple[int, str]]] = defaultdict(list)
            for row, name, role in self.names:
                for kind, text in (("name-signs", name), ("role-signs", role)):
                    for sign in dict.fromkeys(re.findall(kinds, text)):
                        used[sign].append((row, kind))
            if len(used) > 1:
                usual = max(used, key=lambda sign: (len(used[sign]), sign))
                rows = tuple(dict.fromkeys(row for row, _ in used[usual]))
                for sign in used.keys() - {usual}:
                    is_most = len(rows) > len(used[sign])
                    beside = () if is_most else rows[:_NAMED]
                    yield from ((row, Remark(kind, beside, usual)) for row, kind in used[sign])

    def _of_roles(self) -> Iterator[tuple[int, Remark]]:
        count = Counter(role.casefold() for _, _, role in self.names if role)
        slips = _slips_of_roles(count, {role.casefold(): role for _, _, role in self.names})
        spelled = Counter(role for _, _, role in self.names if role)
        usual: dict[str, str] = {}
        for role in sorted(spelled, key=lambda role: (-spelled[role], role not in _usual(role))):
            usual.setdefault(_key(role), role)
        foreign = in_another_language(_plain_count(count))
        filled = sum(count.values())
        in_roles = Counter(word for role in count for word in set(_LETTERS.findall(plain(role))))
        lettered = sum(many for role, many in count.items() if _LETTERS_ALONE.search(role))
        for row, name, role in self.names:
            low = role.casefold()
            if role and not _LETTERS_ALONE.search(role) and lettered >= _MOST_OF * filled:
                yield row, Remark("role-none", (), role)
            if not role and _nearly_all(filled, len(self.names), _MOST_OF):
                is_heading = bool(name) and _is_heading(name, count)
                yield row, Remark("heading", own=name) if is_heading else Remark("role-missing")
            elif role and (
                meant := slips.get(low)
                or _other_than(role, usual[_key(role)])
                or _parted_from_number(role, count)
            ):
                yield row, Remark("role-alike", (), meant)
            elif role and (base := _goes_on(role, count, in_roles)):
                yield row, Remark("role-goes-on", (), base, role)
            elif role and _plain_role(role) in foreign:
                yield row, Remark("role-foreign", (), role)
            words = parts_of(name)
            is_led = len(words) > 2 and is_particle(words[-2])  # Vincent Van Horn
            ends = words[:1] if is_led else (*words[:1], *words[-1:])
            if len(words) > 2 and any(count[word] >= 2 for word in ends):
                yield row, Remark("role-within", (), name)
            if name and role and low != name.casefold() and _is_role(name, role, count):
                yield row, Remark("name-is-role", (), name)

    def _foreign(self) -> Iterator[tuple[int, Remark]]:
        """Yield words of letters that only look Latin, in a list of Latin names."""
        latin = sum("a" <= plain(name)[:1] <= "z" for _, name, _ in self.names)
        if not _nearly_all(latin, len(self.names), _MOST_OF):
            return
        for row, name, role in self.names:
            for text in (name, role):
                if odd := [word for word in _LETTERS.findall(text) if _LOOKS_LATIN.fullmatch(word)]:
                    yield row, Remark("foreign", (), " ".join(odd))

    def _code_page(self) -> Iterator[tuple[int, Remark]]:
        """Yield names that are only sure to be read in the wrong page because others are.

        Where most of what reads otherwise in a page is names there, the list was written in it.
        """
        names = [(row, name) for row, name, _ in self.names if not name.isascii()]
        if page := page_of([name for _, name in names]):
            for row, name in names:
                if meant := read_as(name, page):
                    yield row, Remark("page-of-list", (), meant, page)
            return
        if any(read_as_icelandic(name) for _, name in names):
            for row, name in names:
                meant = read_as_icelandic(name, surely=False)
                if meant and not read_as_icelandic(name):
                    yield row, Remark("code-page", (), meant)
        sure = {row: reading.page for row, name in names if (reading := misread(name))}
        pages = [page for page, many in Counter(sure.values()).most_common() if many > 1]
        for row, name in names if pages else ():
            meant = next(filter(None, (read_in(name, page) for page in pages)), "")
            if meant and row not in sure:
                yield row, Remark("code-page", (), meant)


_LEAD = frozenset(
    word
    for line in (
        "li wang zhang liu chen yang zhao huang zhou wu xu sun hu zhu gao lin he guo ma luo",
        "song tang deng feng cao peng zeng xiao tian dong pan yuan cai jiang yu du ye cheng wei",
        "su lu ding ren shen yao lo chan wong lam leung cheung lau ng ho kim lee park choi jung",
        "kang cho yoon jang lim han shin seo kwon hwang ahn nguyen tran le pham hoang phan vu",
        "vo dang bui do ngo duong ly nagy kovacs toth szabo horvath varga kiss molnar nemeth",
        "farkas",
    )
    for word in line.split()
)
"""Last names that stand in front in their own languages, so that nobody has turned them.

Common practice in Chinese, Korean, Vietnamese and Hungarian, from memory.
"""


def _is_shortened(words: tuple[str, ...], name: str) -> bool:
    """Whether a name is one word, or one beside an initial: Wanda, Wanda T., W. Thorsby.

    Å and Ö are whole last names, of a letter that is no initial as it stands there.
    """
    has_initial = len(words) == 2 and 1 in map(len, words)
    if len(words) > 2 and len(words[0]) > 1 and all(len(word) == 1 for word in words[1:]):
        return True  # Orlov I. P.
    return len(words) == 1 or (has_initial and name[-2:] not in (" Å", " Ö", " Ø", " Æ", " Ä"))


def _is_last_first(name: str) -> bool:
    """Whether of a name's first and last word rather the last one is a first name.

    Of a double one, each half: Anna-Maria, not Moss-Eddy.
    """
    last = _LETTERS.findall(plain(name.split()[-1]))
    return all(map(is_rather_first, last)) and not is_rather_first(parts_of(name)[0])


_LEANS = 2.0
"""So far a row of two names leans toward first and last name; see :func:`exchanged.leaning`."""
_HALF = 0.4

_SAID_BY = {
    "alike": ("one-word", "turned", "name-signs"),
    "split": ("one-word", "name-is-role", "role-alike"),
    "name-is-role": ("one-word",),
}
"""What comes of the same cause as that a name is like another one, or is in two columns."""


def _says(one: Remark, remark: Remark, name: str) -> bool:
    """Whether a remark says what another one would: of signs only beside the same letters."""
    is_said = remark.kind in _SAID_BY.get(one.kind, ())
    is_of_signs = remark.kind == "name-signs"
    return is_said and (not is_of_signs or parts_of(one.other) == parts_of(name))


_NAMED = 3
_MOST_OF = 0.75
_NEARLY_ALL = 0.8


def _nearly_all(some: int, of: int, share: float) -> bool:
    """Whether some of a list's rows are nearly all: this share, and all but one in a short list."""
    return some >= 2 and (some >= share * of or some == of - 1)


_LOOKS_LATIN = re.compile("[АВЕЅІЈКМНОРСТУХаеѕіјорсухԁһԛԝΑΒΕΖΗΙΚΜΝΟΡΤΥΧονυ]{2,}")
"""Cyrillic and Greek letters that look like Latin ones (Unicode confusables, from memory)."""

_PLURAL = ("s", "es", "n", "en", "e", "er")


def _key(role: str) -> str:
    """Return the letters of a role, without case, accents, signs and blanks.

    A blank before a number stays: it is part of what is counted.
    """
    return re.sub(r"(?<=[a-z]) (?=[a-z]{2})", "", " ".join(_LETTERS.findall(plain(role))))


def _plain_role(role: str) -> str:
    """Return the words of a role, plain, with a blank between them."""
    return " ".join(_LETTERS.findall(plain(role)))


def _plain_count(count: Mapping[str, int]) -> Counter[str]:
    found: Counter[str] = Counter()
    for role, many in count.items():
        found[_plain_role(role)] += many
    return found


def _usual(role: str) -> tuple[str, ...]:
    """Return a role as it is usually written: its first letter large, or each word's, or none."""
    return role.capitalize(), role.title(), role.lower()


_NUMBER_JOINED = re.compile(r"([^\W\d_]{3,})(\d{1,2})")


def _parted_from_number(role: str, count: Mapping[str, int]) -> str:
    """Return a role with a blank before its number, where no other role lacks it: Violin1."""
    match = _NUMBER_JOINED.fullmatch(role)
    joined = sum(many for other, many in count.items() if _NUMBER_JOINED.fullmatch(other))
    if not match or joined > 1:
        return ""
    is_known = count[match[1].casefold()] or plain(match[1]) in KNOWN
    return f"{match[1]} {match[2]}" if is_known else ""


def _goes_on(role: str, count: Mapping[str, int], in_roles: Mapping[str, int]) -> str:
    """Return the role of others, or the known one, after which a role goes on with a remark.

    What follows is one if half of its words are in no other role, and tell no players of one
    instrument apart. Beside a role that nobody else has, a sign must part them, or capitals.
    """
    for base, sign, rest in _bases(role):
        low = base.casefold()
        is_parted = bool(sign.strip()) or (rest.isupper() and len(rest) > 2 and not role.isupper())
        if not (count[low] or (is_parted and plain(base) in KNOWN)):
            continue
        found = _LETTERS.findall(plain(rest))
        unknown = [word for word in found if in_roles[word] < 2 and not _tells_apart(word)]
        if unknown and len(unknown) >= len(found) / 2:
            return base
    return ""


def _bases(role: str) -> Iterator[tuple[str, str, str]]:
    """Yield a role parted at each sign or blank: what stands before, the sign, what follows."""
    for match in _SIGN.finditer(role):
        if role[: match.start()] and role[match.end() :]:
            yield role[: match.start()], match[0], role[match.end() :]


_SIGN = re.compile(r"\s*[,;:/|(\[]\s*|\s+[-–—]+\s*|\s+")


def _tells_apart(word: str) -> bool:
    """Whether a word stands in roles: an instrument, a part's number or key, a rank."""
    return len(word) < 2 or word.isdigit() or word in KNOWN or word in RANKS


def _is_one_word(text: str) -> bool:
    return " " not in text and text.replace("-", "").replace("'", "").replace("’", "").isalpha()


def _other_than(role: str, usual: str) -> str:
    return usual if role != usual else ""


def _is_role(name: str, role: str, count: Mapping[str, int]) -> bool:
    """Whether a name is a role: of others, or a known one beside somebody's name."""
    low = name.casefold()
    return count[low] >= 2 or (
        (count[low] > 0 or plain(name) in KNOWN)
        and len(parts_of(role)) > 1
        and not any(word in KNOWN for word in parts_of(role))
        and count[role.casefold()] == 1
    )


_EL_FOR_I = re.compile(r"(?<=\S )[lI]*l[lI]*$")
"""A small l in the place of the numeral I: Violin l."""


def _slips_of_roles(count: Mapping[str, int], written: Mapping[str, str]) -> dict[str, str]:
    """Return the roles that are slips of others, each with what it may be meant for.

    The slip is the one that is no known role, or else the rarer one; of two unknown ones that are
    as rare, it may be either.
    """
    found: dict[str, str] = {}
    for role in count:
        spelled = written[role]
        if _EL_FOR_I.search(spelled):
            found[role] = _EL_FOR_I.sub(lambda match: match[0].replace("l", "I"), spelled)
        elif meant := _meant_by_keys(role, count) or _written_short(role, count):
            found[role] = written.get(meant, meant)
    texts = [(role, _plain_role(role)) for role in count]
    home = of_the_language({text: count[role] for role, text in texts})
    for at, beside in _a_letter_apart([text for _, text in texts]):
        for (role, one), (other, two) in ((texts[at], texts[beside]), (texts[beside], texts[at])):
            is_foreign = one not in home and two in home and count[role] < count[other]
            is_slip = _is_slip_for(one, two, count[role], count[other]) or (
                is_foreign and (_is_slip(one, two) or (not is_written(role) and _is_near(one, two)))
            )
            if one != two and is_slip:
                found.setdefault(role, written[other])
    return found


_BESIDE_LETTERS = re.compile(r"(?<=[^\W\d_])[013458@$|](?=[^\W\d_])")


def _meant_by_keys(role: str, count: Mapping[str, int]) -> str:
    """Return the role that one with a figure inside a word is meant for: Vi0lin; else ``""``."""
    for signs in (_KEYS_ALIKE, {**_KEYS_ALIKE, "1": "l"}):
        meant = _with_letters(role, signs)
        if meant != role and (meant in count or plain(meant) in KNOWN):
            return meant
    return ""


def _with_letters(role: str, signs: Mapping[str, str]) -> str:
    return _BESIDE_LETTERS.sub(lambda match: signs[match[0]], role)


_KEYS_ALIKE = {"0": "o", "1": "i", "3": "e", "4": "a", "5": "s", "8": "b", "@": "a", "$": "s",
               "|": "l"}  # fmt: skip
"""Figures and signs that look like letters, or lie beside them."""


def _written_short(role: str, count: Mapping[str, int]) -> str:
    """Return the only role of several others whose letters in a row a short form is: Hrn, Vln.

    It has no vowel and begins as the role does; where the list writes several so, it is its way.
    """
    short = plain(role).strip(" .")
    if not (2 <= len(short) <= _SHORTEST and short.isalpha() and not set(short) & set("aeiouy")):
        return ""
    if short in KNOWN or count[role] > 1:
        return ""
    whole = [
        other
        for other, many in count.items()
        if many > 1 and plain(other) in KNOWN and _has_in_a_row(plain(other), short)
    ]
    return whole[0] if len(whole) == 1 else ""


def _has_in_a_row(text: str, letters: str) -> bool:
    """Whether letters stand in a text one after another, the first of them at its start."""
    rest = iter(text)
    return text[:1] == letters[:1] and all(letter in rest for letter in letters)


def _is_slip_for(role: str, other: str, many: int, others: int) -> bool:
    """Whether a role is a slip of another one, as often as they stand in the list."""
    unlike = _unlike(role, other)
    if {role, unlike[0]} & KNOWN:
        return many * _FEWER <= others and _is_slip(role, other)
    if {other, unlike[1]} & KNOWN and _is_near(*unlike):
        return True
    return many <= others and (_is_slip(role, other) or _is_plural(*unlike))


def _unlike(one: str, other: str) -> tuple[str, str]:
    """Return the one word in which two texts differ, of each; both whole if it is not one."""
    words, others = one.split(), other.split()
    if len(words) == len(others):
        unlike = [(a, b) for a, b in zip(words, others, strict=True) if a != b]
        if len(unlike) == 1:
            return unlike[0]
    return one, other


_FEWER = 3
"""A known role is a slip of another one where it stands in the list this many times less."""


def _is_near(word: str, other: str) -> bool:
    """Whether an unknown word is a letter away from a known role, at its end, too."""
    return (
        min(len(word), len(other)) >= _SHORTEST
        and word.isalpha()
        and OSA.distance(word, other) == 1
        and word[1:] != other[1:]
    )


def _is_plural(word: str, other: str) -> bool:
    """Whether a word is another one in the plural: Cellos beside Cello."""
    return word == other + "s" and len(other) >= _SHORTEST


def _is_heading(name: str, roles: Mapping[str, int]) -> bool:
    """Whether a name without a role heads those who follow: a role, several of it, or a section."""
    found = re.search(r"[^\W\d_](?:.*[^\W\d_])?", name)
    word = found[0].casefold() if found else ""
    return plain(word) in SECTIONS or any(
        word == role or word in {role + ending for ending in _PLURAL}
        for role, many in roles.items() if many > 1
    )  # fmt: skip


def _same_words(people: list[tuple[int, str, tuple[str, ...]]]) -> Iterator[tuple[int, int]]:
    """Yield pairs with the same words, in any order, or run together."""
    found: dict[tuple[str, ...] | str, list[int]] = defaultdict(list)
    for at, (_, _, words) in enumerate(people):
        if words:
            found[tuple(sorted(words))].append(at)
            found[_written_out("".join(words))].append(at)
            found[tuple(map(_once_each, words))].append(at)
    for group in found.values():
        yield from _pairs(group)


_WRITTEN_OUT = (("dj", "d"), ("ae", "a"), ("oe", "o"), ("ue", "u"), ("aa", "a"), ("th", "t"))


def _written_out(text: str) -> str:
    """Return a plain text as it is where ä is not written ae, nor đ dj, nor þ th."""
    for two, one in _WRITTEN_OUT:
        text = text.replace(two, one)
    return text


_DOUBLED = re.compile(r"(.)\1+")
_SAINTS = {"saint": "st", "sainte": "ste", "sankt": "st", "mount": "mt", "fort": "ft"}


def _once_each(word: str) -> str:
    """Return a word without doubled letters, and a short form for what has one: Ana, St. John."""
    return _SAINTS.get(word, _DOUBLED.sub(r"\1", word))


def _short_forms(people: list[tuple[int, str, tuple[str, ...]]]) -> Iterator[tuple[int, int]]:
    """Yield pairs with the same last name whose first names are forms of one name."""
    found: dict[tuple[object, ...], list[int]] = defaultdict(list)
    for at, (_, _, words) in enumerate(people):
        if len(words) > 1:
            for number in _GROUP_OF.get(words[0], ()):
                found[number, *words[1:]].append(at)
    for group in found.values():
        yield from _pairs(group)


def _shorter(people: list[tuple[int, str, tuple[str, ...]]]) -> Iterator[tuple[int, int]]:
    """Yield pairs of which one is the other shortened: J. Hale, Hale, Seb Hale for Sebastian."""
    by_rest: dict[tuple[str, ...], list[int]] = defaultdict(list)
    alone: dict[tuple[str, ...], int] = {}
    for at, (_, _, words) in enumerate(people):
        if len(words) > 1:
            by_rest[words[1:]].append(at)
        alone.setdefault(words, at)
    for group in by_rest.values():
        for one, other in _pairs(group):
            if _is_short_for(people[one][2][0], people[other][2][0]):
                yield one, other
    for at, (_, _, words) in enumerate(people):
        if len(words) > 1:
            parts = {words[:1], words[-1:], words[1:]}
            # Without a middle name or the second of two last names: Anna Conti, Sigrid Holm.
            parts |= {words[:n] + words[n + 1 :] for n in range(1, len(words)) if len(words) > 2}
            parts |= {
                (*words[:n], words[n][0], *words[n + 1 :])
                for n in range(1, len(words) - 1)
                if len(words[n]) > 1
            }  # with the initial of a middle name
            yield from ((at, alone[part]) for part in parts if part in alone)


def _is_short_for(one: str, other: str) -> bool:
    """Whether one of two first names is the other's initial, its start, or its start as a pet.

    What only makes a man's name a woman's is no pet: Dan and Danielle, Carl and Carlotta are two.
    """
    short, long = sorted((one, other), key=len)
    if len(short) == 1:
        return long.startswith(short) and len(long) > 1
    if not long.startswith(short) and is_usual_first(short):
        return False  # Rose is no pet name of Rosalind
    stems = {short, *(short.removesuffix(ending) for ending in _PET_ENDINGS)}
    stem = max((stem for stem in stems if long.startswith(stem)), key=len, default="")
    rest = long[len(stem) :]
    is_womans = rest in _WOMEN_S_ENDINGS or rest.endswith(("elle", "ella", "ette", "etta"))
    return len(stem) >= 3 and len(rest) >= 2 and not is_womans


_PET_ENDINGS = ("ie", "y", "i", "e", "o", "a", "l", "chen", "ka", "ya", "ek", "uś", "us")
_WOMEN_S_ENDINGS = frozenset(
    ("ia", "ina", "ine", "ette", "etta", "elle", "ella", "ela", "ena", "otta", "otte", "ice",
     "icia", "anna", "anne", "lyn", "lynn", "isa", "ita", "osa", "ovna", "dis", "son", "jan",
     "marie", "maria")
)  # fmt: skip


def _slips(people: list[tuple[int, str, tuple[str, ...]]]) -> Iterator[tuple[int, int]]:
    """Yield pairs that a slip of the keyboard makes out of each other.

    Two texts that are one letter apart have a text in common that each gives without one of its
    letters.
    """
    texts = [" ".join(words) for _, _, words in people]
    for pair in _a_letter_apart(texts):
        one, other = (texts[at] for at in pair)
        are_two = _APART & {frozenset(_unlike(one, other))}
        if not are_two and (_is_slip(one, other) or _is_cut_short(one, other)):
            yield pair


_APART = frozenset(
    frozenset(pair)
    for line in (
        "rajesh rakesh ramesh|rajiv ranjiv|mahesh manesh|suresh naresh|sunil sushil|anita amita|"
        "kavita kabita|sarita savita|sunita sumita|geeta meeta|rohit mohit",
        "maria marta maura|marina martina|mariam miriam|carla clara|carlo carlos|marco mario|"
        "paolo pablo|elena helena|daria maria|jana lana|karin karen|kirsten kerstin|helge helga|"
        "aylin ayten|aysel aysen|selin selim|burak burat|"
        "minh linh|thanh thinh|hung hong|akiko ayako|yuko yoko|keiko reiko|haruka haruna|"
        "jiwon siwon|minji minju|andrea andrej|stefan stefana",
    )
    for names in line.split("|")
    for pair in combinations(names.split(), 2)
)
"""First names a letter or two apart that are two people's. Common practice, from memory."""


def _is_cut_short(one: str, other: str) -> bool:
    """Whether two people with the same first name are alike but for their last one's last letter.

    One of a gender has one of its forms: Anna is Kowalska and never Kowalsk.
    """
    (first, _, last), (other_first, _, other_last) = one.partition(" "), other.partition(" ")
    short, long = sorted((last, other_last), key=len)
    is_same = first == other_first and len(first) > 1 and len(short) >= _SHORTEST_LAST
    return is_same and long[:-1] == short


_SHORTEST_LAST = 3


def _a_letter_apart(texts: list[str]) -> Iterator[tuple[int, int]]:
    """Yield pairs of texts that may be one letter apart; some more than once."""
    found: dict[str, list[int]] = defaultdict(list)
    for at, text in enumerate(texts):
        for shorter in {text, *(text[:n] + text[n + 1 :] for n in range(len(text)))}:
            found[shorter].append(at)
    for group in found.values():
        yield from _pairs(group)


def _is_slip(one: str, other: str) -> bool:
    """Whether two texts differ by one letter, two exchanged or one moved, within one long word.

    Not at its end, where languages put gender, number and case: Paul and Paula, Kowalski and
    Kowalska, Violin and Violins; nor at its start, where names differ: Barry and Larry. A figure,
    and a word of up to three letters, is no slip.
    """
    words, others = one.split(), other.split()
    if len(words) != len(others) or one == other:
        return False
    unlike = [(a, b) for a, b in zip(words, others, strict=True) if a != b]
    if len(unlike) != 1:
        return False
    a, b = unlike[0]
    if min(len(a), len(b)) < _SHORTEST or not (a.isalpha() and b.isalpha()):
        return False
    is_moved = sorted(a) == sorted(b) and min(len(a), len(b)) > _SHORTEST
    if OSA.distance(a, b) > (2 if is_moved else 1):
        return False
    if a.startswith(b) or b.startswith(a):
        return _is_doubled_end(*sorted((a, b), key=len))
    if a.endswith(b) or b.endswith(a):
        return False
    return a[:-1] != b[:-1] and a[1:] != b[1:]


def _is_doubled_end(short: str, long: str) -> bool:
    """Whether a word's last letter is typed twice: no language makes a case or a gender so."""
    return long == short + short[-1]


_SHORTEST = 4


def _pairs(group: Iterable[int]) -> Iterator[tuple[int, int]]:
    """Yield neighbours of a group: a dozen of one name are told of by their neighbours alone."""
    group = sorted(set(group))
    if len(group) <= 12:
        yield from ((a, b) for n, a in enumerate(group) for b in group[n + 1 :])
    else:
        yield from pairwise(group)
