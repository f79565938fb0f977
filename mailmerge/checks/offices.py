"""What people are called by their office or their part: in clubs, teams, schools and on a tour.

Words of the languages of the proof packs and of their neighbours. Left out are those that are usual
last names, or first ones, wherever they are a word: Marshal, Priest, Meier. Common practice, from
memory.
"""

from __future__ import annotations

OFFICES = (
    "chairperson|chairman|chairwoman|vice-chair|vice chair|vice president|referee|umpire|linesman|"
    "lineswoman|adjudicator|juror|scorer|timekeeper|mascot|goalkeeper|groundsman|groundskeeper|"
    "kit man|kit manager|team captain|vice captain|ball boy|ball girl|physio|physiotherapist|"
    "cheerleader|headteacher|head teacher|head boy|head girl|head of music|head of year|prefect|"
    "form tutor|class rep|class teacher|bursar|matron|lollipop lady|dinner lady|governors|trustee|"
    "trustees|treasurer|secretary|usherette|cameraman|camerawoman|webmaster|newcomer|newcomers|"
    "scout leader|youth leader|group leader|tour guide|tour leader|bus driver|councillor|"
    "registrar|compère|raffle winner|runner-up|board member|committee member|"
    "sponsors|life member|honorary member|past president|patrons|alternate|alternates|reserves",
    "schiedsrichter|schiedsrichterin|linienrichter|linienrichterin|wertungsrichter|schulleiter|"
    "schulleiterin|rektor|rektorin|konrektor|konrektorin|direktor|direktorin|klassenlehrer|"
    "klassenlehrerin|lehrer|lehrerin|fachlehrer|musiklehrer|musiklehrerin|maskottchen|kassenwart|"
    "kassenwartin|kassierer|kassiererin|kassenprüfer|kassenprüferin|schatzmeister|"
    "schatzmeisterin|schriftführer|schriftführerin|vorsitzende|vorsitzender|obmann|obfrau|"
    "vereinsvorsitzender|spielführer|spielführerin|kapitän|torwart|torhüter|torhüterin|betreuer|"
    "betreuerin|übungsleiter|übungsleiterin|zeugwart|platzwart|notenwart|notenwartin|gerätewart|"
    "jugendwart|hausmeisterin|schülersprecher|schülersprecherin|klassensprecher|"
    "klassensprecherin|elternvertreter|elternvertreterin|elternsprecher|ersatzspielerin|"
    "referendar|referendarin|austauschschüler|austauschschülerin|schüler|schülerin|präsident|"
    "präsidentin|ehrenmitglied|ehrenvorsitzender|beisitzer|beisitzerin|geschäftsführer|"
    "geschäftsführerin|trainerin|co-trainer|reiseleiter|reiseleiterin|vertrauenslehrer|"
    "sekretärin|pressewart|auswechselspieler|nachrücker|nachrückerin",
    "arbitre|arbitre assistant|juge de ligne|président|présidente|vice-président|trésorier|"
    "trésorière|secrétaire|directeur|directrice|proviseur|proviseure|instituteur|institutrice|"
    "maîtresse|professeur|professeure|entraîneur|entraîneuse|capitaine|gardien de but|mascotte|"
    "délégué|déléguée|surveillant|surveillante|soigneur|parrain|marraine|animateur|animatrice|"
    "doublure|élève|élèves|bénévole|chef de chœur|maître d'école|maîtresse d'école|"
    "conseiller|conseillère|responsable|remplaçants|tuteur|tutrice",
    "árbitro|árbitra|juez de línea|presidente|presidenta|vicepresidente|vicepresidenta|tesorero|"
    "tesorera|secretario|secretaria|directora|profesor|profesora|maestra|entrenador|entrenadora|"
    "capitán|capitana|mascota|delegado|delegada|alumno|alumna|padrino|madrina|vocal|utillero|"
    "utillera|monitora|conserje|becario|becaria|tutora|portero|coordinador|coordinadora",
    "sędzia|sędzia liniowy|prezes|wiceprezes|skarbnik|skarbniczka|sekretarz|sekretarka|dyrektor|"
    "dyrektorka|wicedyrektor|nauczyciel|nauczycielka|wychowawca|wychowawczyni|trener|trenerka|"
    "kapitan|bramkarz|bramkarka|maskotka|rezerwa|rezerwowy|rezerwowa|kierownik|kierowniczka|"
    "opiekun|opiekunka|uczeń|uczennica|przewodniczący|przewodnicząca|woźny|woźna|pielęgniarz|"
    "gospodarz klasy|stażysta|stażystka|kierowca|tłumacz|tłumaczka|wolontariuszka|widz|laureat|"
    "laureatka|zwycięzca|zwyciężczyni",
    "gwestai|gwesteion|gwestai arbennig|plentyn|plant|cadeirydd|is-gadeirydd|trysorydd|"
    "ysgrifennydd|prifathro|prifathrawes|pennaeth|dirprwy bennaeth|athro|athrawes|athrawon|"
    "dyfarnwr|hyfforddwr|hyfforddwraig|capten|masgot|disgybl|disgyblion|myfyriwr|myfyrwraig|"
    "gwirfoddolwr|gwirfoddolwyr|eilydd|llywydd|is-lywydd|cyfeilydd|arweinydd|gofalwr|gofalwraig|"
    "noddwr|noddwyr|rhiant|rhieni|teulu|y teulu|ffrind|ffrindiau|gwraig|gŵr|siaradwr|"
    "ffotograffydd|gyrrwr|aelod|aelodau|wrth gefn|babi|cariad|cymar|beirniad|cynorthwyydd|"
    "gôl-geidwad|llyfrgellydd|nyrs|enillydd|tiwtor",
    "حكم|حكمة|رئيس|رئيسة|نائب الرئيس|مدير|مديرة|معلم|معلمة|مدرس|مدرسة|مدرب|مدربة|قائد الفريق|"
    "أمين الصندوق|أمين السر|سكرتير|سكرتيرة|طالب|طالبة|تلميذ|تلميذة|حارس|حارس المرمى|احتياط|"
    "احتياطي|متطوع|متطوعة|ولي أمر|ولي الأمر|عضو|عضوة|العائلة|ضيف الشرف|مشرف|مشرفة|منسق|منسقة|"
    "حارس المدرسة|ممرضة|ممرض|مترجم|مترجمة|الفائز|لاعب احتياط|بديل|بديلة",
    "arbitro|guardalinee|presidentessa|tesoriere|tesoriera|segretario|segretaria|insegnante|"
    "allenatore|allenatrice|bidello|bidella|alunno|alunna|allievo|allieva|delegata|"
    "professoressa|capogruppo|capitano della squadra|"
    "scheidsrechter|grensrechter|voorzitter|voorzitster|penningmeester|secretaris|secretaresse|"
    "schoolhoofd|leraar|lerares|juf|meester|aanvoerder|doelman|keeper|leerling|leerlingen|"
    "begeleidster|reisleider|reserves|treinador|treinadora|professora|tesoureiro|tesoureira|"
    "aluno|aluna|goleiro|guarda-redes|zelador|zeladora|suplentes|"
    "domare|dommer|linjedomare|linjedommer|ordförande|vice ordförande|kassör|rektorn|lärare|"
    "lærer|tränare|trener|træner|lagledare|lagleder|målvakt|målmand|kasserer|formand|formann|"
    "styremedlem|styrelseledamot|sekreterare|sekretær|elev|elever|maskot|anfører|lagkapten|"
    "vaktmästaren|klassföreståndare|reserv|reserver|"
    "tuomari|erotuomari|puheenjohtaja|varapuheenjohtaja|rehtori|opettaja|valmentaja|maskotti|"
    "rahastonhoitaja|sihteeri|kapteeni|maalivahti|oppilas|varajäsen|varamies",
    "rozhodčí|předseda|předsedkyně|místopředseda|pokladník|pokladní|jednatel|ředitel|ředitelka|"
    "učitel|učitelka|trenér|trenérka|brankář|kapitán|žák|žákyně|náhradnice|vychovatelka|"
    "rozhodca|predseda|predsedníčka|riaditeľ|riaditeľka|učiteľ|učiteľka|tréner|brankár|pokladníčka|"
    "játékvezető|elnök|alelnök|pénztáros|titkár|igazgató|igazgatónő|tanár|tanárnő|tanító|edző|"
    "csapatkapitány|kabala|tanuló|diák|osztályfőnök|cserejátékos|tartalék|"
    "antrenor|antrenoare|arbitru|președinte|președintă|vicepreședinte|profesoară|directoare|"
    "casier|secretară|elevă|căpitan|portar|rezervă|"
    "sudac|predsjednik|predsjednica|predsednik|predsednica|blagajnik|tajnik|ravnatelj|"
    "ravnateljica|učitelj|učiteljica|nastavnik|nastavnica|trenerica|vratar|sudija|sodnik|"
    "kapetan|učenik|učenica|rezervni igrač|maskota",
    "судья|тренер|директор|учитель|учительница|преподаватель|завуч|председатель|казначей|секретарь|"
    "капитан|вратарь|талисман|вожатый|вожатая|воспитатель|воспитательница|староста|ученик|"
    "ученица|переводчик|переводчица|победитель|стажёр|президент|суддя|вчитель|вчителька|голова|"
    "голова правління|скарбник|тренерка|капітан|воротар|учень|учениця|съдия|треньор|учителка|"
    "председател|касиер|ученичка|судија|тренерът|διαιτητής|πρόεδρος|αντιπρόεδρος|ταμίας|"
    "γραμματέας|διευθυντής|διευθύντρια|δάσκαλος|δασκάλα|καθηγητής|καθηγήτρια|προπονητής|"
    "προπονήτρια|αρχηγός|τερματοφύλακας|μασκότ|μαθητής|μαθήτρια|αναπληρωτής|επιστάτης",
    "hakem|başkan|başkan yardımcısı|müdür|müdür yardımcısı|öğretmen|sınıf öğretmeni|antrenör|"
    "kaleci|kaptan|maskot|sayman|sekreter|öğrenci|rehber|yedek oyuncu|"
    "שופט|שופטת|יושב ראש|יו״ר|מנהל|מנהלת|מורה|מאמן|מאמנת|גזבר|גזברית|מזכיר|מזכירה|קפטן|תלמיד|"
    "תלמידה|קמע|שוער|מחליף|מחליפה|מדריך|מדריכה|מתנדב|מתנדבת",
)
"""Words for somebody by office."""
