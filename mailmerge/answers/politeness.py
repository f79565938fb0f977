"""How people greet, thank, wish well and close in a mail: a small grammar for each language.

A rule is a row. ``[x]`` may be there, ``(x|y)`` is one of them, ``<x>`` is a rule of the language
by that name. Every word of a phrase is polite: none of them names a number, a look, or what is not
to be, so that no sentence that asks for something can be made of them. ``right`` alone speaks of
the work: it praises and approves the whole of it, and is read only where every answer is a yes.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from functools import lru_cache

_ENGLISH = {
    "fine": """quick|fast|prompt|swift|speedy|kind|great|lovely|beautiful|wonderful|good
        |excellent|nice|careful|friendly|fantastic|hard|patient""",
    "thing": """help|work|effort|efforts|patience|reply|answer|message|email|e-mail|mail|note
        |time|support|proof|proofs|pictures|drawings|service|assistance|care|trouble|attention
        |kindness|preview|previews|cooperation""",
    "gift": """everything|all you do|[all] (your|the|these|this|such) [very] [<fine>] [<fine>]
        <thing> [and [your|the] [<fine>] <thing>]|sending [us|me] (the|these) [<fine>] <thing>
        [so quickly|so promptly]|(getting back|replying) [to us|to me] [so quickly|so
        promptly]|being so (kind|patient|helpful|quick)""",
    "day": "day|evening|weekend|afternoon|morning|week|sunday|time|summer|holiday",
    "hello": """(hi|hello|hey) [there]|dear|good (morning|afternoon|evening|day)|morning
        |greetings|to whom it may concern""",
    "addressed": """all|team|everyone|everybody|there|both|ms|mr|mrs|miss|mx|dr|sir|sirs|madam
        |sir or madam|madam or sir|ladies and gentlemen|folks""",
    "said": """[with] [so|very] [many] (thanks|thank you|thx) [again] [so much|very much
        [indeed]|a lot|ever so much] [once again] [in advance] [for <gift>]|[with] many thanks
        [again] [for <gift>] [in advance]|(i am|we are|i'm|we're) [very|so|most] grateful [for
        <gift>]|much (appreciated|obliged)|[i|we] [really|very much] appreciate [all] your
        [<fine>] <thing>|([and] have|enjoy|i wish you|we wish you|wishing you) (a|your|the
        rest of your|a very) [<fine>|pleasant|relaxing|happy] <day>|[i|we] hope (you are
        |you're) [keeping|doing] [very] well|[i|we] hope this finds you well|[i|we] [am|are]
        (look|looking) forward to (it|hearing from you|seeing them) [soon]|here (they are|you
        are|you go)|here (are|is) (my|our|the) (answers|answer|list|replies)|[please] (find
        |see) [attached|enclosed|below] [(my|our|the) (answers|list)] [attached|enclosed
        |below]|attached|see (below|attached)|they are below|(my|our) answers|(lovely
        |beautiful|wonderful|great) (work|proofs)|(keep well|stay well|take care)|(see|speak
        to|talk to) you [very] soon|(speak|talk) soon|until then|merry christmas|(a happy
        |happy) new year|season's greetings|happy holidays|welcome""",
    "close": """best|[with] [all] [my|our] [very] (best|kind|kindest|warm|warmest|good|sincere
        |friendly) [and (kind|warm|best)] (regards|wishes|greetings) <to>|[with] (regards|rgds
        |greetings) <to>|warmly|cheers|love|(xx|xxx)|yours [sincerely|faithfully|truly|ever]
        |sincerely [yours]|respectfully [yours]|all the [very] best <to>|bye [for now]|goodbye""",
    "to": """[to (you|you all|all|all of you|everyone|the team|you both|you and the team)]
        [from [(all of us|us all|both of us)] [at|in]]""",
    "and": "and|&|+|with",
    "them": """they|they all|these|these all|all of them|it|it all|everything|all|the
        (proofs|cups|pictures|drawings|names) [all]""",
    "praise": """[so|very|really|simply|just|absolutely|truly|quite] (great|lovely|beautiful
        |wonderful|fantastic|gorgeous|superb|brilliant|perfect|splendid|stunning|marvellous
        |excellent|amazing|right|correct|good|fine)""",
    "looks": "look|looks|are|all look|are all|is|looks all|have turned out|turned out",
    "right": """[they're|it's|these are] [all] <praise>|<them> <looks> <praise>|what
        [a|such] (beautiful|lovely|wonderful|fantastic|great|excellent) (work|job|proofs)|(we
        |i) [really|absolutely|just] love (them|it|them all|all of them|everything)|[we're|we
        are|i am|i'm] [very|so|really|perfectly] (happy|pleased|delighted) [with (everything
        |them|them all|it|all of them|the proofs)]|[all|everything] [is|are] (approved|signed
        off)|(we|i) [hereby] (approve|confirm) (everything|all|them all|all of them|all the
        cups|all cups)|[we're|they are|they're|all] good to go|[please] (go ahead|proceed) [and
        engrave [them|them all|all of them|everything]|with (the engraving|engraving|all of
        them|them)]|[you may|please] (engrave|start engraving) [them|them all|all of them|all
        |everything]|(no|without) [further] (changes|corrections|amendments|remarks|comments)
        [needed|required|necessary] [from (us|me|our side|my side)]|nothing [at all] to
        (change|correct|add|amend) [from (us|me)]|yes to (all|everything|all of them|them all
        |all the cups)""",
}

_GERMAN = {
    "fine": """schnelle|schnellen|rasche|tolle|tollen|gute|guten|nette|netten|schöne|schönen
        |große|viele|freundliche|prompte|liebe|wunderbare|großartige|ganze""",
    "thing": """hilfe|mühe|mühen|arbeit|geduld|antwort|nachricht|mail|e-mail|entwürfe|vorschau
        |zeit|unterstützung|bilder|bearbeitung|betreuung|beratung|zusammenarbeit|rückmeldung""",
    "gift": """alles|(die|den|das|ihre|ihren|deine|deinen|eure|euren) [<fine>] <thing> [und
        (die|ihre|deine|eure) [<fine>] <thing>]""",
    "day": """(schönes|gutes|erholsames|angenehmes|sonniges) wochenende|(schönen|guten
        |angenehmen) (tag|abend|nachmittag|sonntag|feierabend)|(schöne|gute) woche|(schöne
        |gute) zeit""",
    "hello": """hallo|hallöchen|[einen] [schönen] (guten tag|guten morgen|guten abend)|liebe
        |lieber|liebes|[sehr] (geehrte|geehrter)|werte|moin [moin]|servus|grüß (gott|dich
        |euch)|grüezi|tag|schönen guten tag""",
    "addressed": """zusammen|alle|damen und herren|herren|frau|herr|team|ihr|ihr lieben|liebes
        team|liebe|lieber""",
    "said": """[nochmals|nochmal] [ganz] [recht]
        (vielen|herzlichen|besten|tausend|lieben|schönen) [lieben] dank
        [nochmals|nochmal] [im voraus] [für <gift>]|[nochmals|schon mal] (danke|dankeschön)
        [schön|sehr|vielmals|nochmals|nochmal] [im voraus] [für <gift>]|(ich danke|wir danken)
        (ihnen|dir|euch) [sehr|herzlich] [für <gift>]|(mit|in) [bestem] dank|[noch] [ein|einen
        |eine] <day> [noch]|(ich wünsche|wir wünschen|wünsche|wünschen) (ihnen|dir|euch)
        [allen] [noch] (ein|einen|eine) <day>|(hier|anbei|unten|nachfolgend|im anhang) [sind
        |ist|kommen|folgen|finden sie|finden sie unten] (unsere|meine|die) (antworten|antwort
        |liste|rückmeldung)|anbei|(unsere|meine) antworten|bis (bald|dann|demnächst)|[auf]
        wiedersehen|tschüss|ciao|alles (gute|liebe)|(ich freue mich|wir freuen uns) [schon]
        [sehr]|frohe weihnachten|ein gutes neues jahr|(schöne|wunderbare|tolle) (arbeit
        |entwürfe)""",
    "close": """[mit] [ganz] [vielen|vielem] [freundlichen|freundlichem|besten|lieben|liebem
        |herzlichen|herzlichem|schönen|sonnigen|musikalischen|respektvollen|freundlich]
        (grüßen|gruß) <to>|[ganz] (viele|liebe|beste|herzliche|freundliche|schöne|sonnige
        |musikalische|viele liebe) (grüße|gruesse) <to>|(lieber|schöner|herzlicher
        |freundlicher|bester) gruß <to>|(gruß|grüße) <to>|hochachtungsvoll|herzlichst|herzlich
        |(lg|vg|mfg|bg|hg|glg)|(ihre|ihr|deine|dein|eure|euer)""",
    "to": "[an (alle|euch alle|sie alle|das team|das ganze team)] [aus|von]",
    "and": "und|&|+|mit|sowie",
    "praise": """[sehr|ganz|wirklich|einfach|wunder|richtig] (schön|wunderschön|wunderbar|toll|super
        |gut|großartig|perfekt|klasse|prima|fantastisch|hervorragend|bestens|ausgezeichnet)
        [geworden]|[alles] (richtig|korrekt)""",
    "them": "die (entwürfe|becher|bilder|vorschau|namen) [alle]|sie [alle]|alle|alles|das|es",
    "right": """[alles] <praise>|<them> (sieht|sehen|sind|ist) [alle|alles] <praise> [aus]|(sieht
        |sehen) [alle|alles] <praise> aus|(passt|stimmt) [alles] [so|genau so]|[es] [alles]
        (passt|stimmt) [so]|[hiermit] [alles] (freigegeben|bestätigt|genehmigt)|(freigabe
        erteilt|freigabe)|[hiermit] (bestätigen wir|bestätige ich|wir bestätigen|ich bestätige)
        (alles|alle|alle becher)|(hiermit geben wir|wir geben|ich gebe) alles frei|(wir sind|ich
        bin) [sehr|ganz|rundum] (zufrieden|begeistert|glücklich) [mit allem]|bitte [alles|alle]
        [genau] [so] gravieren|(sie können|ihr könnt) [alles|alle] [so] gravieren|keine
        (änderungen|korrekturen|anmerkungen|änderungswünsche|einwände) [von (uns|mir)]|(nichts)
        zu (ändern|korrigieren|beanstanden)|(das gefällt|sie gefallen|alles gefällt) (uns|mir)
        [sehr|allen]|ja zu (allem|allen)|gerne so|[wir sind|ich bin] einverstanden""",
}

_FRENCH = {
    "thing": """aide|travail|patience|réponse|message|mail|courriel|temps|soutien|épreuves
        |maquettes|envoi|efforts|gentillesse|disponibilité|retour|réactivité|attention|accueil
        |compréhension""",
    "fine": "beau|bon|excellent|magnifique|précieuse|rapide|grande|belle|belles|aimable",
    "gift": """tout|[tout|toute|toutes|tous] (votre|vos|ton|tes|le|la|les|cet|ce|cette|ces)
        [<fine>] <thing> [rapide|précieuse|magnifique] [et (votre|vos|ton|tes) [<fine>]
        <thing>]""",
    "day": """[très] (bonne|belle|excellente|agréable) (journée|soirée|semaine|après-midi|fin
        de journée|fin de semaine|année|continuation|réception|lecture)|[très] (bon|beau
        |excellent) (week-end|weekend|après-midi|dimanche|courage)""",
    "hello": "bonjour|bonsoir|salut|coucou|cher|chère|chers|chères|re-bonjour|bjr",
    "addressed": """à (tous|toutes)|à toutes et à tous|tous|toutes|madame|monsieur|mesdames
        |messieurs|mademoiselle|madame et monsieur|à (vous|toi)|à toute l'équipe|toute
        l'équipe|cher|chère|chers|chères|ami|amie""",
    "said": """[encore] [un grand|mille|mille fois|un immense|grand] merci [beaucoup|bien
        |infiniment] [encore] [une fois] [à vous|à toi|à tous|à toute l'équipe] [d'avance|par
        avance] [pour <gift>] [d'avance|par avance]|[avec] (mes|nos|tous mes|tous nos) [vifs
        |sincères] remerciements [pour <gift>]|(je vous|nous vous|je te) (remercie|remercions)
        [beaucoup|vivement|infiniment|sincèrement] [d'avance|par avance] [pour <gift>]|<day>
        <to>|(je vous souhaite|nous vous souhaitons|je te souhaite|passez) (une|un) <day> <to>
        |(voici|ci-joint|ci-dessous) [(nos|mes|les) réponses|la liste]|(nos|mes) réponses
        |(vous trouverez|veuillez trouver) (ci-joint|ci-dessous) ((nos|mes|les) réponses|la
        liste)|à [très] bientôt|à plus|au revoir|au plaisir|joyeux noël|bonne année|meilleurs
        vœux|(beau|très beau|superbe|magnifique) travail""",
    "close": """[bien|très] (cordialement|amicalement|chaleureusement|sincèrement
        |respectueusement|affectueusement) [à vous|vôtre|à toi]|(bien|tout) à (vous|toi)
        |(amitiés|cdt|cdlt|bav)|<farewell> [madame|monsieur]
        |[<farewell>] [l'expression de|l'assurance de] [mes|nos] <greetings>|[avec] [mes|nos]
        <greetings> <to>|[grosses] (bises|bisous)
        |je (t'embrasse|vous embrasse)""",
    "farewell": """je vous prie (d'agréer|de recevoir|de croire à)|nous vous prions d'agréer
        |veuillez (agréer|recevoir)|recevez""",
    "greetings": """[sincères|meilleures|cordiales|respectueuses|amicales] (salutations
        |pensées) [distinguées|les meilleures|cordiales|respectueuses|les plus cordiales]
        |[sentiments] (les meilleurs|distingués|respectueux)|sentiments (les meilleurs
        |distingués|respectueux)""",
    "to": """[à (vous|toi|tous|toutes|vous tous|toutes et à tous|toute l'équipe)] [de|de la
        part de]""",
    "and": "et|&|+|avec",
    "praise": """[très|vraiment|tout simplement|absolument] (beau|beaux|belle|belles|bien|bon|joli
        |jolis|magnifique|magnifiques|superbe|superbes|parfait|parfaits|parfaite|splendide
        |splendides|réussi|réussis|correct|corrects|merveilleux|ravissant|ravissants)""",
    "right": """[c'est] [tout] <praise>|(tout|ils|elles|ce|les (maquettes|gobelets|épreuves
        |dessins|noms)) (est|sont) [tous|toutes] <praise>|bravo|[très] (magnifique|beau|superbe)
        travail|tout (nous|me) convient|tout est (validé|approuvé|juste)|bon pour (accord
        |gravure)|(nous validons|je valide|nous approuvons|j'approuve|nous confirmons|je
        confirme) [le] tout|[tout] (validé|approuvé)|vous pouvez [tout] (graver|lancer la
        gravure|commencer la gravure|y aller) [tout]|(aucun changement|aucune modification
        |aucune correction|aucune remarque|pas de changement|pas de modification|pas de
        correction) [de (notre part|ma part)]|rien à (changer|modifier|corriger|signaler)|(ils
        |elles|ça) nous (plaisent|plaît) [beaucoup|énormément]|(oui à tout|oui pour tout)|nous
        en sommes [très] (contents|ravis|enchantés)""",
}

_SPANISH = {
    "thing": """ayuda|trabajo|paciencia|respuesta|mensaje|correo|tiempo|apoyo|pruebas|esfuerzo
        |atención|amabilidad|dedicación|envío|colaboración|rapidez|gestión""",
    "fine": "gran|buen|rápida|excelente|magnífico|bonito|pronta|amable|valiosa",
    "gift": """todo|[toda|todo] (su|tu|vuestra|vuestro|el|la|las|los|sus|tus) [<fine>] <thing>
        [rápida|excelente] [y (su|tu|la|el) [<fine>] <thing>]""",
    "day": """[muy] (buen|buena|feliz|bonito|bonita|excelente) (día|tarde|noche|semana|fin de
        semana|jornada|domingo|finde)""",
    "hello": """hola|muy buenas|buenos días|buen día|buenas [tardes|noches]|[muy] (estimado
        |estimada|estimados|estimadas)|querido|querida|queridos|queridas|apreciado|apreciada
        |saludos""",
    "addressed": """[a] (todos|todas)|a todos y todas|señor|señora|señores|sr|sra|señores y
        señoras|equipo|don|doña|de nuevo|amigos|amiga|amigo""",
    "said": """[muchas|muchísimas|mil|un millón de|infinitas] gracias [a todos|a todas|a usted
        |a ustedes] [de nuevo|otra vez|de antemano|de corazón] [por <gift>] [de antemano]|(le
        |les|te|os) (agradezco|agradecemos|doy las gracias) [mucho|de antemano] [por] <gift>
        |[muy] (agradecido|agradecida|agradecidos)|[que] (tenga|tengas|tengan|paséis|pase
        |tengáis) [un|una] <day>|(le|les|te|os) (deseo|deseamos) [un|una] <day>|<day> [a
        todos]|aquí (están|tiene|tienen|van|tenéis) (nuestras|mis|las) respuestas|(aquí está
        |adjunto|adjunta|adjuntamos) la lista|adjunto [(nuestras|mis|las) respuestas]
        |(nuestras|mis) respuestas|hasta (pronto|luego|la vista|la próxima)|adiós|feliz
        navidad|feliz año [nuevo]|(buen|bonito|excelente) trabajo""",
    "close": """[reciba|reciban|con|les envío|le envío] [un|muchos|mis|nuestros|mi] [muy]
        [cordial|cordiales|afectuoso|afectuosos|fuerte|atento|gran|mejores|más cordiales]
        (saludo|saludos|abrazo|abrazos) [muy] [cordial|cordiales|afectuoso|afectuosos|grande
        |fuerte] <to>|[muy] (atentamente|cordialmente|respetuosamente|sinceramente
        |afectuosamente)|atte|slds|[un|muchos] (beso|besos)|suyo|suya""",
    "to": "[a (todos|todas|todo el equipo|usted|ustedes)] [de|desde|de parte de]",
    "and": "y|e|&|+|con",
    "praise": """[muy|realmente|sencillamente] (bonito|bonitos|bonitas|precioso|preciosos|preciosas
        |perfecto|perfectos|perfecta|bien|bueno|estupendo|estupendos|fantástico|fantásticos
        |genial|geniales|magnífico|magníficos|excelente|excelentes|maravilloso|maravillosos
        |correcto|correctos)""",
    "right": """[qué|todo|todos] <praise>|[todo|todos] (está|están|queda|quedan|ha quedado|han
        quedado|son|es) [todo|todos] <praise>|(nos|me) (encantan|encanta|gustan mucho|gusta
        mucho) [todos|todo]|[todo] (aprobado|confirmado|conforme)|(aprobamos|apruebo
        |confirmamos|confirmo) (todo|todos|todos los vasos)|(damos|doy) el visto bueno|visto
        bueno|(pueden|puede|podéis|puedes) (grabar|grabarlos|empezar a grabar|proceder)
        [todo|todos]|adelante [con todo|con el grabado]|(sin|ningún|ninguna) (cambios|cambio
        |correcciones|corrección|observaciones|modificación) [por (nuestra parte|mi parte)]
        |nada que (cambiar|corregir|añadir|objetar)|sí a todo|estamos [muy] (contentos
        |encantados) [con todo]""",
}

_POLISH = {
    "thing": """pomoc|pracę|cierpliwość|odpowiedź|wiadomość|projekty|projekt|wizualizacje|czas
        |maila|wsparcie|obsługę|współpracę|zaangażowanie|przesłanie|podglądy|trud|życzliwość""",
    "fine": "szybką|piękną|piękne|dobrą|świetną|wspaniałą|miłą|ogromną|całą|sprawną",
    "gift": """wszystko|[pani|pana|państwa|waszą|twoją|twój|wasz] [<fine>] <thing> [i [<fine>]
        <thing>]""",
    "day": """(miłego|dobrego|udanego|spokojnego|pięknego) (dnia|weekendu|wieczoru|tygodnia
        |popołudnia)|(miłej|spokojnej) (niedzieli|soboty)""",
    "hello": """dzień dobry|dobry wieczór|cześć|witam [serdecznie]|witaj|witajcie|hej|szanowna
        |szanowny|szanowni|droga|drogi|drodzy""",
    "addressed": """wszystkim|wszyscy|pani|pan|państwo|państwa|panie|panowie|panie i panowie
        |panu|zespole|zespół""",
    "said": """[bardzo|serdecznie|z góry|jeszcze raz|pięknie|raz jeszcze] (dziękuję|dziękujemy
        |dzięki|dziekuje) [wielkie|bardzo|serdecznie|pięknie|z góry|raz jeszcze|jeszcze raz]
        [za <gift>]|wielkie (dzięki|podziękowania) [za <gift>]|z (podziękowaniem
        |podziękowaniami)|[życzę|życzymy|życząc] [państwu|pani|panu|wam] <day>|(oto|w
        załączeniu|poniżej|przesyłam|przesyłamy|załączam) ((nasze|moje) odpowiedzi|listę
        |lista)|(nasze|moje) odpowiedzi|do (widzenia|usłyszenia|zobaczenia)|na razie
        |wszystkiego dobrego|wesołych świąt|szczęśliwego nowego roku|(piękna|świetna|dobra)
        robota""",
    "close": """[bardzo|serdecznie|ciepło|gorąco] (pozdrawiam|pozdrawiamy) [bardzo]
        [serdecznie|ciepło|gorąco] [państwa|panią|pana|was|wszystkich]|[moc|przesyłam
        |przesyłamy|łączę|łączymy] [serdeczne|serdecznych|ciepłe|najlepsze|gorące]
        (pozdrowienia|pozdrowień) [dla (wszystkich|państwa|całego zespołu)] [z|od]|z
        (poważaniem|szacunkiem|wyrazami szacunku|wyrazami uznania|wyrazami poważania)|(łączę
        |łączymy) wyrazy (szacunku|uznania)|z [serdecznymi|najlepszymi|ciepłymi]
        pozdrowieniami|(pzdr|pozdr)|ściskam|uściski|buziaki""",
    "and": "i|oraz|&|+",
    "praise": """[bardzo|naprawdę|po prostu|wprost] (ładne|ładnie|piękne|pięknie|świetne|świetnie
        |super|idealne|idealnie|wspaniałe|wspaniale|cudowne|cudownie|śliczne|ślicznie|dobrze
        |doskonale|doskonałe|perfekcyjnie)""",
    "right": """[wszystko] <praise> [kubki|projekty]|(wyglądają|wygląda|są|jest|wyszły|wyszło)
        [wszystko|wszystkie] <praise>|(kubki|projekty|wizualizacje|wszystko|wszystkie)
        (wyglądają|wygląda|są|jest|wyszły) <praise>|(akceptuję|akceptujemy|zatwierdzam
        |zatwierdzamy|potwierdzam|potwierdzamy) [wszystko|wszystkie|całość]|(wszystko|całość)
        (zaakceptowane|zatwierdzone|zgodne|się zgadza)|(zaakceptowane|zatwierdzone)|(można
        |proszę|prosimy) [wszystko] (grawerować|grawerujcie)|bez (zmian|uwag|poprawek
        |zastrzeżeń)|nic do (zmiany|poprawy|dodania)|nie (mam|mamy) uwag|jesteśmy [bardzo]
        zadowoleni|(podobają|podoba) (nam|mi) się [bardzo|wszystko]|tak dla wszystkich""",
}

_WELSH = {
    "thing": """help|cymorth|gwaith|waith|amynedd|neges|ateb|proflenni|amser|cefnogaeth|ymateb
        |e-bost|gofal|caredigrwydd|gwasanaeth|lluniau""",
    "gift": """bopeth|[yr|eich|dy|y|eich holl|dy holl|yr holl] <thing> [cyflym|gwych|hyfryd
        |da] [a'ch <thing>]""",
    "day": "(diwrnod|penwythnos|prynhawn|noson|wythnos) (da|braf|hyfryd|dda|fendigedig)",
    "hello": """helo|hylo|haia|shwmae|shwmai|s'mae|su'mae|annwyl|bore da|p'nawn da|prynhawn da
        |noswaith dda|dydd da|cyfarchion""",
    "addressed": """pawb|[i] bawb|syr|madam|syr neu fadam|syr a madam|gyfeillion|ffrindiau|tîm
        |mr|mrs|ms""",
    "said": """[llawer o|gyda|mil o] (diolch|ddiolch) [yn fawr [iawn]|o galon|o waelod calon]
        [eto] [i chi [i gyd]|i ti|ichi|iti] [ymlaen llaw] [am <gift>]|gyda (diolch|llawer o
        ddiolch)|(rwy'n|rydym yn) ddiolchgar [iawn] [am <gift>]|[mwynhewch|mwynhewch eich
        |mwynha|cael|cewch|gobeithio y cewch] <day> [i chi|i chi gyd]|mwynhewch (eich|y)
        (diwrnod|penwythnos)|dyma (ein hatebion|fy atebion|yr atebion|ein rhestr|y rhestr)
        |(ein hatebion|fy atebion)|pob (hwyl|lwc)|nos da|tan (toc|tro nesaf|hynny)|nadolig
        llawen|blwyddyn newydd dda|(gwaith|waith) (hyfryd|gwych|da)|edrych ymlaen""",
    "close": """cofion [gorau|cynnes|caredig|cu|fil|lu] [atoch|atoch chi|i bawb] [gan|oddi
        wrth]|yn (gywir|ddiffuant|gynnes)|[yr] eiddoch yn (gywir|ddiffuant)|[gyda] [phob]
        (dymuniadau|dymuniad) (gorau|da) [i bawb]|gyda (chofion|chyfarchion) [gorau|cynnes]
        |hwyl [fawr] [am y tro]|cariad|cyfarchion""",
    "and": "a|ac|&|+|gyda",
    "praise": """[yn] (wych|hyfryd|ardderchog|berffaith|perffaith|fendigedig|gwych|bendigedig
        |wirioneddol hyfryd|dda|iawn|gywir) [iawn]""",
    "right": """<praise>|(maen nhw'n|maen nhw|mae popeth|mae'r proflenni|mae'r cwpanau|popeth
        |mae'n) [edrych|i gyd] [yn] <praise>|(dim|heb) (newid|newidiadau|cywiriadau|sylwadau)
        [gennym ni|gen i]|[popeth] wedi'i gymeradwyo|(rydym yn|rwy'n) cymeradwyo (popeth|y
        cyfan)|ewch ymlaen [gyda'r engrafu|â'r engrafu] [os gwelwch yn dda]|dim byd i'w newid
        |rydym wrth ein bodd [gyda nhw|â nhw]|ie i bopeth""",
}

_ARABIC = {
    "thing": """مساعدتكم|عملكم|صبركم|جهودكم|وقتكم|تعاونكم|ردكم|اهتمامكم|لطفكم|دعمكم|رسالتكم
        |مساعدتك|عملك|صبرك|وقتك|تعاونك|ردك|المساعدة|العمل|الرسالة|التعاون""",
    "gift": "كل شيء|[كل] <thing> [السريع|الكريم|الرائع|الجميل|الكبير|الطيب]",
    "hello": """مرحبا [بكم]|أهلا [وسهلا] [بكم]|السلام عليكم [ورحمة الله] [وبركاته]|صباح (الخير
        |النور)|مساء (الخير|النور)|عزيزي|عزيزتي|أعزائي|السيد|السيدة|الأستاذ|الأستاذة|السادة
        |حضرة|تحية طيبة [وبعد]""",
    "addressed": """السيد|السيدة|الأستاذ|الأستاذة|السادة|الكرام|الكريم|الكريمة|الفاضل|الفاضلة
        |المحترم|المحترمة|المحترمون|المحترمين|جميعا|بكم|الفريق|فريق العمل|أيها الفريق|الجميع""",
    "said": """(شكرا|وشكرا|ألف شكر|الشكر|شكر) [جزيلا|كثيرا|جزيل] [لكم|لك] [جميعا] [جزيلا|كثيرا
        |مقدما] [على <gift>]|(أشكركم|نشكركم|أشكرك) [جزيلا|كثيرا|جدا] [على <gift>]|مع [خالص
        |جزيل|وافر] (الشكر|شكري) [والتقدير|والتحية|والاحترام]|(أتمنى|نتمنى) (لكم|لك) (يوما
        |أسبوعا|مساء) (سعيدا|طيبا|جميلا)|(يوم|نهار|مساء) (سعيد|طيب)|(نهاركم|يومكم|أسبوعكم)
        سعيد|طاب (يومكم|مساؤكم)|(دمتم|دمت) بخير|مع السلامة|إلى اللقاء|(هذه|إليكم|مرفق|تجدون
        أدناه|فيما يلي) (إجاباتنا|إجاباتي|ردودنا|القائمة)|بارك الله فيكم|جزاكم الله خيرا|عيد
        سعيد|عمل (جميل|رائع)""",
    "close": """[و] [مع] [خالص|أطيب|فائق|أحر|أجمل|وافر|أصدق] (التحية|التحيات|الاحترام|التقدير
        |تحياتي|تحياتنا|الأمنيات|تمنياتي) [والتقدير|والاحترام|والتحية]|وتفضلوا بقبول [فائق
        |وافر] (الاحترام|التحية|التقدير) [والتقدير]|(تقبلوا|وتقبلوا) [خالص|فائق] (تحياتي
        |تحياتنا|الاحترام)|المخلص|المخلصة""",
    "and": "و|&|+|مع",
    "praise": """(جميل|جميلة|رائع|رائعة|ممتاز|ممتازة|صحيح|صحيحة|مثالي|مثالية|تمام
        |سليمة) [جدا|للغاية]""",
    "right": """<praise>|(كل شيء|كلها|الكل|كل الأكواب|جميع الأكواب|كل الأسماء|جميع الأسماء
        |التصاميم|الأكواب|إنها) [كلها] <praise>|(نوافق|أوافق|موافقون|موافق|موافقة) [على (كل شيء
        |الكل|الجميع|كل الأكواب|جميع الأكواب)]|(نؤكد|أؤكد) (كل شيء|كل الأكواب|جميع الأكواب)
        |(لا|بدون|بلا) (تعديلات|تغييرات|تعديل|تغيير|ملاحظات)|(يمكنكم|يرجى|تفضلوا) [البدء]
        (بالنقش|بالحفر|النقش)|لا شيء (للتغيير|للتعديل)|أعجبتنا [كلها] [جدا|كثيرا]|نعم
        (للجميع|للكل|على كل شيء)""",
}

_LANGUAGES = (_ENGLISH, _GERMAN, _FRENCH, _SPANISH, _POLISH, _WELSH, _ARABIC)
_SIGN = re.compile(r"\s+|<\w+>|[\[\]()|]|[^\s\[\]()|<>]+")


def bare(text: str) -> str:
    """Return words small, without accents and vowel signs, which people often leave out."""
    apart = unicodedata.normalize("NFKD", text.casefold().replace("’", "'"))
    return " ".join("".join(c for c in apart if not unicodedata.combining(c)).split())


def _compiled(rules: Mapping[str, str], name: str) -> str:
    """Return a rule as a pattern of words, each with a blank behind it."""
    signs = {"[": "(?:", "]": ")?", "(": "(?:", ")": ")", "|": "|"}

    def pattern_of(sign: str) -> str:
        if sign.startswith("<"):
            return f"(?:{_compiled(rules, sign[1:-1])})"
        return signs[sign] if sign in signs else re.escape(f"{bare(sign)} ")

    return "".join(pattern_of(sign) for sign in _SIGN.findall(rules[name]) if sign.strip())


@lru_cache(maxsize=8)  # compiled once, and by nothing that reads no mail
def _of_all(*names: str) -> re.Pattern[str]:
    return re.compile("|".join(f"(?:{_compiled(of, name)})" for of in _LANGUAGES for name in names))


def after_phrases(words: Sequence[str]) -> Sequence[str] | None:
    """Return what follows phrases of thanks, wishes and closing; None where there is none."""
    return _after_all(_PHRASES, words)


def are_approval(words: Sequence[str]) -> bool:
    """Whether words approve and praise everything, with thanks or none, and say no more.

    They are read to their last word: a condition, an exception or a name beside them is more.
    """
    return _after_all(("right", *_PHRASES), words) == []


def _after_all(rules: tuple[str, ...], words: Sequence[str]) -> Sequence[str] | None:
    if len(words) > _LONGEST:
        return None
    rest = ahead = _after_phrase(rules, words)
    while ahead:
        rest, ahead = ahead, _after_phrase(rules, ahead)
    return rest if ahead is None else ahead


def _after_phrase(rules: tuple[str, ...], words: Sequence[str]) -> Sequence[str] | None:
    rest = _after(rules, words)
    joined = _after(("and",), words) if rest is None else None
    return _after(rules, joined) if joined else rest


_PHRASES = ("said", "close")


def after_greeting(words: Sequence[str]) -> Sequence[str] | None:
    """Return what follows a greeting, such as the names of whom it greets; None without one."""
    return _after(("hello",), words)


def after_addressed(words: Sequence[str]) -> Sequence[str] | None:
    """Return what follows a title, or words for all, as they stand after a greeting."""
    return _after(("addressed",), words)


_LONGEST = 24
"""Words that are read as phrases; more of them are a letter."""


def _after(rules: Sequence[str], words: Sequence[str]) -> Sequence[str] | None:
    """Return the words after those that rules take from the first one on, as many as they can."""
    pattern = _of_all(*rules)
    said = [f"{bare(word.rstrip('.'))} " for word in words[:_LONGEST]]
    for length in range(len(said), 0, -1):
        if pattern.fullmatch("".join(said[:length])):
            return words[length:]
    return None
