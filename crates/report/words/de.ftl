# Deutsch: die Seite zum Einstellen des Schlagwerks. Was hier fehlt, wird englisch gesagt.
#
# Werkstattwörter: übliche Praxis, ohne Quelle. <m>…</m> steht um das, was zu bewegen ist, und um die Richtung.

## Aufzählungen, Zahlen

list-and = { $rest } und { $last }
list-or = { $rest } oder { $last }

teeth =
    { $count ->
        [1] ein Zahn
        [2] zwei Zähne
        [3] drei Zähne
        [4] vier Zähne
        [5] fünf Zähne
        [6] sechs Zähne
        [7] sieben Zähne
        [8] acht Zähne
        [9] neun Zähne
        [10] zehn Zähne
        [11] elf Zähne
        [12] zwölf Zähne
       *[other] { $count } Zähne
    }

odds =
    { $kind ->
        [more] mehr{"\u00A0"}als{"\u00A0"}99{"\u00A0"}von{"\u00A0"}100
        [hundred] { $count }{"\u00A0"}von{"\u00A0"}100
        [ten] { $count }{"\u00A0"}von{"\u00A0"}10
       *[less] weniger{"\u00A0"}als{"\u00A0"}1{"\u00A0"}von{"\u00A0"}100
    }

length-millimetre = { $number }{"\u00A0"}mm
length-inch = { $number }{"\u00A0"}Zoll
