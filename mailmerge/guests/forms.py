"""First names, the short forms that people use for them, and their other spellings."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
from functools import lru_cache

from mailmerge.guests.names import plain

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
    "jessica jess", "susan sue susie",
    "susanna sue susie suzy", "deborah debbie", "victoria vicky", "dorothy dot dolly",
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
    "yusuf yousef youssef yusef yousuf", "omar umar", "khalid khaled", "tariq tarek",
    "mustafa mostafa moustafa", "ismail ismael", "abdullah abdallah", "suleiman suleyman soliman",
    "ibrahim ebrahim", "said saeed sayeed", "karim kareem", "rashid rasheed rachid", "salim selim",
    "sean shaun shawn", "alan allen", "neil neal", "brian bryan", "katherine katherin katrin",
    "suzanne susanne", "gillian gillean", "stuart stewart", "jaclyn jacqueline",
    "reza rida", "hasan hassan", "fatima fatemeh", "aleksandar aleksander",
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


GROUPS_OF = _groups()
"""In which groups a plain first name is."""

_SOUNDS = tuple(
    (re.compile(written), read)
    for written, read in (
        ("(?:eigh|ey|ie|ee|y)$", "i"), ("(?<=[aeo])h$", ""), ("ph", "f"), ("chr", "kr"),
        ("ck|kh|q|c(?![ehiyz])", "k"), ("g(?=[eiy])", "j"), ("(?<=[tdg])h", ""), ("ou|oo", "u"),
        ("ee", "i"), ("a[ey]|ai|e[iy]", "e"), ("z", "s"), ("w", "v"), ("x", "ks"), ("y", "i"),
        (r"(.)\1+", r"\1"),
    )
)  # fmt: skip
"""Letters that are written for the same sound, in one language or another: Sophie and Sofie.

Common practice, from memory; the ends that tell a man's name from a woman's are not among them.
"""
_SHORTEST_SOUND = 4


@lru_cache(maxsize=8192)
def sounded(word: str) -> str:
    """Return a plain name as it sounds, so that its spellings are the same; short ones stay."""
    if len(word) < _SHORTEST_SOUND:
        return word
    for written, read in _SOUNDS:
        word = written.sub(read, word)
    return word


@lru_cache(maxsize=1)
def _groups_by_sound() -> Mapping[str, frozenset[int]]:
    found: dict[str, frozenset[int]] = defaultdict(frozenset)
    for name, numbers in GROUPS_OF.items():
        found[sounded(name)] |= numbers
    return found


def groups_of(name: str) -> frozenset[int]:
    """Return in which groups a plain first name is, or one that sounds the same."""
    return GROUPS_OF.get(name) or _groups_by_sound().get(sounded(name), frozenset())
