"""First and last names that are usual in other countries than the United States.

Some of the commonest of each language, from memory; no name stands in it that is usual as a first
and as a last one, such as Martin, Santos or Tamás.
"""

from __future__ import annotations

import re

from mailmerge.guests.names import plain

_FIRST = (
    # Spanish, Portuguese, Italian
    "maría josé juan carlos luis jorge pedro pablo alejandro fernando sergio rafael francisco "
    "javier manuel andrés diego eduardo ignacio gonzalo álvaro rubén raúl carmen pilar dolores "
    "isabel lucía elena marta sofía paula raquel beatriz cristina inés rocío begoña nuria "
    "concepción mercedes guadalupe ximena",
    "joão antónio antônio paulo tiago rui nuno miguel ricardo gustavo thiago henrique joana "
    "mariana catarina fátima luísa lúcia inês beatriz leonor margarida vitória letícia",
    "giuseppe giovanni francesco antonio luigi salvatore alessandro andrea lorenzo matteo giulia "
    "francesca chiara federica alessia giovanna paola silvia valentina elisabetta stefano "
    "marco davide simone riccardo gianluca enrico massimo claudia ilaria antonella",
    # French
    "jean pierre michel philippe nicolas christophe julien olivier sébastien stéphane françois "
    "frédéric guillaume mathieu thierry benoît marie nathalie isabelle sylvie catherine françoise "
    "monique véronique céline aurélie émilie camille chloé élodie hélène brigitte delphine "
    "sandrine valérie corinne laetitia laurent franck",
    # Dutch, German
    "johannes pieter hendrik willem jeroen maarten sander bram thijs daan sjoerd joost femke "
    "anouk sanne marieke willemijn annelies lotte fleur marloes saskia ingrid wouter ruben",
    "hans peter wolfgang klaus jürgen dieter manfred uwe günter günther bernd rainer helmut "
    "andreas matthias stefan thorsten torsten sven jörg christoph florian ursula monika petra "
    "sabine renate karin brigitte ingrid gisela heike anja katja ulrike silke birgit susanne "
    "claudia stefanie kathrin katrin lukas jonas leonie hannah heidemarie friederike",
    # Swedish, Norwegian, Danish, Icelandic
    "lars anders johan karl per mikael fredrik magnus björn gustav henrik mattias niklas "
    "anna eva karin kristina lena birgitta ingrid marie annika linnea elsa astrid gunilla ulla "
    "ebba saga ingvar",
    "jan ole kjell arne knut svein øystein terje håkon eirik sigurd trond geir anne inger kari "
    "liv solveig marit ingeborg silje hilde randi astrid søren jens niels jørgen mads rasmus "
    "kirsten mette hanne lone birthe bente guðrún sigríður",
    # Finnish, Estonian, Latvian, Lithuanian
    "juhani antti matti mikko timo jukka pekka kari hannu heikki juha tapio markku jari petri "
    "janne sami ville eero aino maria helena johanna anneli kaarina päivi sari tuula riitta "
    "marjatta eeva liisa tiina minna hanna satu pirjo anu aleksi tuomas",
    "jüri urmas andres tõnu mart katrin kristiina jānis andris juris ilze līga inga jonas "
    "vytautas mindaugas rasa daiva giedrė",
    # Polish, Czech, Slovak, Hungarian, Romanian
    "andrzej piotr krzysztof stanisław tomasz paweł jan marcin marek michał grzegorz jerzy adam "
    "łukasz zbigniew ryszard wojciech mateusz katarzyna małgorzata agnieszka barbara ewa "
    "krystyna elżbieta magdalena joanna zofia teresa danuta jadwiga beata aleksandra",
    "jiří petr josef pavel tomáš jaroslav miroslav zdeněk václav michal františek ondřej "
    "jana hana lenka kateřina věra alena petra lucie jitka zuzana ľubomír jozef",
    "istván jános zoltán sándor ferenc attila gábor tibor csaba ildikó katalin erzsébet zsuzsanna "
    "judit ágnes andrea mária éva krisztina eszter réka tünde",
    "ion gheorghe vasile nicolae constantin mihai florin cătălin andrei elena ioana mihaela "
    "gabriela daniela ana-maria cristian bogdan dragoș",
    # Croatian, Serbian, Slovene; Russian and Ukrainian in Latin letters; Greek in Latin letters
    "ivan marko luka dragan zoran goran nikola milan ana marija ivana jelena katarina dragana "
    "snežana vesna tomislav hrvoje matej janez andrej mojca",
    "sergey sergei dmitry dmitri alexei aleksei vladimir mikhail nikolai andrei oleg igor yuri "
    "olga tatiana natalia natalya ekaterina elena svetlana irina anastasia oksana oleksandr "
    "volodymyr andriy kateryna",
    "giorgos georgios dimitris dimitrios konstantinos yannis ioannis nikos nikolaos panagiotis "
    "eleni maria katerina vasiliki sofia angeliki christina despina",
    # Turkish; Arabic and Persian; Indian
    "mehmet mustafa ahmet ali hüseyin hasan ibrahim ismail osman yusuf murat ömer emre burak "
    "fatma ayşe emine hatice zeynep elif meryem şerife merve özlem esra büşra derya serkan",
    "muhammad mohammed mohamed ahmed omar khalid fatima aisha maryam layla leila zainab noor "
    "youssef karim tariq rashid nadia samira reza hossein",
    "rajesh sunil anil sanjay vijay suresh ramesh amit rahul arjun priya anjali sunita kavita "
    "lakshmi deepa neha pooja sushma meena",
)  # fmt: skip
_LAST = (
    "garcía rodríguez gonzález fernández lópez martínez sánchez pérez gómez jiménez ruiz hernández "
    "díaz muñoz álvarez gutiérrez domínguez vázquez ramírez suárez molina navarro ortega serrano "
    "iglesias castillo cortés herrera mendoza vargas fuentes peña núñez méndez guerrero aguilar "
    "cabrera echeverría otxoa ibáñez zamora",
    "silva ferreira pereira oliveira rodrigues costa sousa souza fernandes gonçalves lopes ribeiro "
    "carvalho almeida pinto teixeira moreira cardoso rocha nunes mendes araújo barbosa correia "
    "azevedo figueiredo magalhães nogueira",
    "rossi russo ferrari esposito bianchi colombo ricci marino greco conti "
    "mancini costa giordano rizzo lombardi moretti barbieri fontana santoro mariani rinaldi "
    "caruso ferrara galli martini longo gentile martinelli bernardi",
    "dubois durand moreau roux fournier girard bonnet dupont fontaine rousseau "
    "lefebvre lefèvre mercier blanc guérin boyer garnier chevalier faure gauthier perrin morel "
    "dumont picard roussel lemaire marchand perrot charpentier",
    "jansen janssen vries bakker visser smit meijer boer mulder degroot bos vos peters "
    "hendriks dijk dekker brouwer wit dijkstra smits graaf meer kok haan "
    "vermeulen broek schouten willems hoekstra postma peeters wouters",
    "müller schmidt schneider fischer weber meyer wagner becker schulz hoffmann schäfer koch "
    "bauer richter klein wolf schröder neumann schwarz zimmermann braun krüger hofmann hartmann "
    "lange schmitt krause meier lehmann köhler maier huber mayer keller vogel kaiser fuchs "
    "scholz möller weiß hahn schubert winkler berger albrecht brandt schreiber ",
    "andersson johansson karlsson nilsson eriksson larsson olsson persson svensson gustafsson "
    "pettersson jonsson jansson hansson bengtsson lindberg lindström lindqvist lindgren axelsson "
    "bergström lundgren lundberg berglund fredriksson sandberg forsberg nyström",
    "hansen johansen olsen larsen andersen pedersen nilsen kristiansen jensen karlsen johnsen "
    "pettersen eriksen berg haugen hagen johannessen jacobsen halvorsen lund solberg bakken moen "
    "nielsen christensen rasmussen sørensen jørgensen petersen madsen kristensen poulsen "
    "thomsen knudsen mortensen møller jónsson jónsdóttir",
    "korhonen virtanen mäkinen nieminen mäkelä hämäläinen laine heikkinen koskinen järvinen "
    "lehtonen lehtinen saarinen salminen heinonen niemi heikkilä salonen kinnunen turunen salo "
    "laitinen tuominen rantanen karjalainen jokinen mattila savolainen lahtinen ahonen ojala",
    "tamm saar sepp mägi kask kukk bērziņš kalniņš ozols liepiņš kazlauskas petrauskas jankauskas",
    "nowak kowalski kowalska wiśniewski wiśniewska wójcik kowalczyk kamiński kamińska lewandowski "
    "lewandowska zieliński zielińska szymański szymańska woźniak dąbrowski dąbrowska kozłowski "
    "jankowski mazur wojciechowski kwiatkowski krawczyk kaczmarek piotrowski grabowski zając król",
    "novák nováková svoboda svobodová novotný novotná dvořák dvořáková černý černá procházka "
    "kučera kučerová veselý veselá horák němec pokorný pospíšil hájek horváth kováč varga tóth",
    "nagy kovács szabó kiss molnár németh farkas balogh papp takács juhász lakatos mészáros oláh "
    "szűcs fekete hegedűs",
    "popa popescu ionescu dumitrescu stoica gheorghiu georgescu constantinescu munteanu",
    "horvat kovačević babić marić jurić novak petrović jovanović nikolić marković đorđević "
    "stojanović ilić kovačič krajnc zupančič",
    "ivanov ivanova smirnov smirnova kuznetsov kuznetsova popov popova vasiliev petrov petrova "
    "sokolov sokolova mikhailov novikov fedorov morozov volkov shevchenko kovalenko bondarenko "
    "tkachenko kravchenko",
    "papadopoulos papadopoulou vlachos angelopoulos nikolaidis georgiou papageorgiou "
    "dimitriou konstantinou",
    "yılmaz kaya demir çelik şahin yıldırım öztürk özdemir arslan doğan kılıç çetin "
    "koç özkan şimşek erdoğan korkmaz çakır aksoy bulut karaca",
    "elmasry haddad khoury hosseini ahmadi karimi tehrani",
    "sharma gupta verma singh patel reddy iyer iyengar nair menon mukherjee banerjee "
    "chatterjee desai joshi kulkarni agarwal mehta",
)  # fmt: skip


def _plain(lines: tuple[str, ...]) -> frozenset[str]:
    return frozenset(plain(word) for line in lines for word in line.split())


FIRST, LAST = _plain(_FIRST), _plain(_LAST)
"""Plain first names, and plain last names; none is in both."""


_ENDS_AS_LAST = re.compile(
    r".{3,}(?:sson|dottir|doettir|[^aeiouy]sen|ssen|nen|qvist|quist|strom|gren|lund|berg|gaard|stra"
    r"|[lnrw]sk[aiy]|ck[ai]|wicz|czyk|[^d]ovic|evic|ova|[^v]eva|[oe]v|enko|chuk|escu|oglu|shvili|adze"
    r"|poulos|poulou|akis|idis|adis|auskas|vicius|iene|aite|yte|[^aeiou]ez|elli|etti|ucci|otti)"
    r"|mc.{3,}"
)
"""How last names of the North and the East of Europe end, of Spain, Italy and the Caucasus.

Common practice, from memory; no usual first name ends so but those that the census knows.
"""


def ends_as_last(word: str) -> bool:
    """Whether a plain word ends as last names do, and first names do not: Lindqvist, Nováková."""
    return bool(_ENDS_AS_LAST.fullmatch(word))
