"""Mails in which everything is approved in other words than yes, and mails that only look so.

Made up here, from memory of how people write in each language. The rows of a mail are parted by
``|``; the answers stand between them and say yes to every cup.
"""

PLAIN = {
    "en": (
        "Good morning,|The proofs look fantastic. Please proceed.|Kind regards|Katharina Roth",
        "Approved, thank you.|Katharina", "All approved.", "Happy with everything.|Best, Katharina",
        "We love them!|Thank you|Katharina Roth|Treasurer", "Perfect!", "Good to go!|K. Roth",
        "No corrections from our side.|Kind regards", "Nothing to change. Many thanks!",
        "These are all lovely, thanks.|Katharina", "Please go ahead and engrave them.|Regards",
        "Signed off.|Katharina Roth|Managing Director|Mobile: 07700 900123",
        "What beautiful work!|Sent from my Galaxy", "They all look great. Yes to everything!|Best",
        "|On 27 Nov 2026, at 10:02, The Workshop wrote:", "Yes to all of them.|Cheers",
        "|On Fri, 27 Nov 2026 at 10:00, Engraved Mugs & Cups <hello@mugs.example> wrote:",
    ),
    "de": (
        "Guten Morgen,|die Entwürfe sehen wunderbar aus.|Viele Grüße", "Perfekt, danke!",
        "Alles freigegeben.|Mit freundlichen Grüßen|Katharina Roth|Geschäftsführerin",
        "Wir sind sehr zufrieden. Bitte so gravieren.|Beste Grüße", "Keine Korrekturen.|LG",
        "Freigabe erteilt.|Gruß|Katharina Roth|Vorsitzende|Mobil 0171 5550100",
        "Das sieht super aus!|Danke", "Passt alles so, danke.",
        "Von meinem Samsung Galaxy gesendet",
        "Nichts zu ändern.|Herzliche Grüße",
    ),
    "fr": (
        "Bonjour,|Tout nous convient.|Bien à vous", "C'est parfait, merci !",
        "Bon pour accord.|Katharina Roth|Trésorière", "Aucune modification.|Cordialement",
        "Nous validons tout.|Merci", "Vous pouvez lancer la gravure.|Bonne journée",
        "Les maquettes sont superbes.|Merci beaucoup", "Magnifique travail, bravo !",
    ),
    "es": (
        "Buenos días:|Nos encantan.|Un saludo", "Todo aprobado, gracias.", "Quedan perfectos.",
        "Pueden grabar.|Saludos", "Ningún cambio por nuestra parte.|Gracias",
        "Damos el visto bueno.|Atentamente|Katharina Roth|Presidenta", "¡Qué bonitos!|Gracias",
        "Está todo perfecto, muchas gracias.",
    ),
    "pl": (
        "Dzień dobry,|Akceptuję wszystko.|Pozdrawiam", "Idealnie, dziękuję!", "Bez uwag.|Dziękuję",
        "Wyglądają pięknie.|Z poważaniem|Katharina Roth|Prezes", "Można grawerować.|Pozdrawiam",
        "Wysłano z iPada", "Wszystko zaakceptowane.",
    ),
    "cy": (
        "Bore da,|Maen nhw'n edrych yn wych.|Cofion", "Perffaith, diolch!",
        "Dim newidiadau.|Diolch",
        "Ewch ymlaen os gwelwch yn dda.|Cofion gorau", "Popeth yn berffaith.|Diolch",
        "Anfonwyd o fy iPad",
    ),
    "ar": (
        "صباح الخير|نوافق على كل شيء.|شكرا", "ممتاز، شكرا!", "لا تعديلات.|مع التحية",
        "التصاميم جميلة جدا.|شكرا", "يمكنكم البدء بالنقش.|تحياتي", "كل شيء ممتاز.",
    ),
}  # fmt: skip

HIDING = {
    "en": (
        "Approved once Bo has seen them.|Best", "Please go ahead, but not before Friday.",
        "All approved apart from the oboe.|Thanks", "Perfect if Zoe keeps her dots.",
        "They look fantastic. Is Klein with a K?", "No changes yet.",
        "No changes to number 3 only.",
        "We love them, Thom too.|Best", "Please go ahead with the first five.", "Not approved.",
        "Please do not go ahead.", "Happy with everything except Tom.", "Nearly perfect!",
        "Good to go?", "Good to go when the committee says so.", "Please proceed with caution.",
        "Lovely work, pity about the viola.", "Nothing to change for Anne.",
        "We loved the old ones.",
        "Yes to all but one.", "They all look great in gold.", "Approved: 1 to 4.",
        "Please go ahead and engrave them larger.", "Almost all lovely, thanks.",
        "On 27 Nov 2026 I wrote: Anne, not Anna",
        "On 27 Nov 2026, stop cup 3 <katharina@roth.example> wrote:",
        "At 10:00, please stop cup 3 <katharina@roth.example>",
    ),
    "de": (
        "Freigegeben, sobald Herr Klein zustimmt.", "Die Entwürfe sehen wunderbar aus, fast.",
        "Bitte so nicht gravieren.", "Nicht freigegeben.", "Keine Korrekturen außer bei Tom.",
        "Perfekt wäre Anne.", "Passt alles so weit.", "Noch nichts zu ändern?",
        "Bitte erst am Montag gravieren.", "Wir sind sehr zufrieden mit 1 bis 4.",
    ),
    "fr": (
        "Tout nous convient sauf un.", "Presque parfait, merci !", "Nous ne validons pas.",
        "Aucune modification pour Anna.", "Vous pouvez graver les cinq premiers.",
        "Bon pour accord sous réserve.", "Vous ne pouvez pas graver.",
    ),
    "es": (
        "Nos encantan, menos uno.", "No aprobado.", "Casi perfectos.", "No pueden grabar.",
        "Pueden grabar desde el lunes.", "Ningún cambio salvo Tom.",
    ),
    "pl": (
        "Nie akceptuję.", "Prawie idealnie!", "Bez uwag oprócz trzeciej.", "Nie można grawerować.",
        "Można grawerować po piątku.", "Akceptuję wszystko prócz Tom.",
    ),
    "cy": (
        "Perffaith heblaw un.", "Peidiwch â mynd ymlaen.", "Dim newidiadau ond Anne.",
        "Ewch ymlaen ddydd Llun.",
    ),
    "ar": (
        "لا نوافق على كل شيء.", "ممتاز ما عدا الثالث", "لا يمكنكم البدء بالنقش.",
        "نوافق بعد الجمعة.",
    ),
}  # fmt: skip
