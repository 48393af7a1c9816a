# Deutsch: die Seite zum Einstellen des Schlagwerks. Was hier fehlt, wird englisch gesagt.
#
# {"\u00AD"} sagt, wo ein langes Wort auf einem Knopf getrennt werden darf. Werkstattwörter: übliche Praxis, ohne Quelle. <m>…</m> steht um das, was zu bewegen ist, und um die Richtung.

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

## Was an vielen Stellen gesagt wird

# Im Dativ: "von der vorderen Platine aus".
plate =
    { $plate ->
        [front] vorderen
       *[back] hinteren
    }

way =
    { $way ->
        [clockwise] im Uhrzeigersinn
        [counterclockwise] gegen den Uhrzeigersinn
       *[either] gleich in welche Richtung
    }

teeth-first =
    { $count ->
        [1] Ein Zahn
        [2] Zwei Zähne
        [3] Drei Zähne
        [4] Vier Zähne
        [5] Fünf Zähne
        [6] Sechs Zähne
        [7] Sieben Zähne
        [8] Acht Zähne
        [9] Neun Zähne
        [10] Zehn Zähne
        [11] Elf Zähne
        [12] Zwölf Zähne
       *[other] { $count } Zähne
    }

# Im Akkusativ: "um einen Zahn".
teeth-by =
    { $count ->
        [1] einen Zahn
       *[other] { teeth }
    }

the-arbor = die Welle { $arbor }
the-arbor-first = Die Welle { $arbor }

about = { $name }: { $what }
what-of = { $what }: { $name }
of-witness = { $what } ({ $name })

## Die Antwort

answer-done = Alles steht in seinem Fenster, { $odds }. Werk schließen und über alle Stunden prüfen.
answer-count-again = Alles Abgelesene steht in seinem Fenster, aber mit den Zahlen auf dem Blatt kann das Werk nicht aufgehen. Vor allem anderen noch einmal zählen.
answer-look = { $names } ansehen, bevor etwas geöffnet oder geschlossen wird.
answer-look-again = { $names } noch einmal ansehen, genauer, bevor etwas geöffnet oder geschlossen wird.
# The last reading is out, and all readings together have everything in.
answer-look-believed = Zuletzt stand { $names } außerhalb des Fensters; alles Abgelesene zusammen hat alles darin, { $odds }, wenn kein Hebel verbogen und nichts verdreht ist. Die letzte Ablesung gilt darum als grob. Kommt sie wieder und wieder, dann glauben Sie ihr und nicht der Chance: dann suchen, was sich verbogen oder verdreht hat, seit es zuletzt im Fenster stand.
answer-strike-on = Vorher bis zwei oder später weiterschlagen lassen: der Hebel liegt jetzt im langen Schlitz, wo { $name } nicht abzulesen ist.
answer-put-in =
    { $count ->
        [one] Die Welle { $names } einsetzen. Dann alles neu ansehen.
       *[other] Diese Wellen einsetzen, in dieser Reihenfolge: { $names }. Dann alles neu ansehen.
    }
answer-part-stuck = Bei { $names } steht es nach dem Abgelesenen draußen, und kein Umsetzen bringt es in Ordnung. Nachsehen, was es auf seiner Welle hält, seine Feder und seinen Hebel, und ob ein Zahn übersprungen wurde; dann neu hinsehen.
answer-part = Zuerst nach einem verbogenen Hebel oder einem verrutschten Teil suchen, bei { $names }: das ist wahrscheinlicher als ein um Zähne versetztes Rad, { $odds }. Nur einen weichen Hebel biegen, und zuletzt.
answer-prove = Noch einmal ansehen sagt kaum mehr, und kein Versatz ist besser. Dass alles in seinem Fenster steht: { $odds }. Nur fingerfest schließen und die Stunden prüfen, bevor eine Mutter angezogen wird.
answer-prove-blind = Auf dem Blatt steht nichts, was zeigt, wie das Laufwerk steht. Nur fingerfest schließen und die Stunden prüfen, bevor eine Mutter angezogen wird.
answer-prove-usual = Die Fenster sind nur aus üblichen Maßen bekannt. Dass alles darin steht: { $odds }. Nur fingerfest schließen und die Stunden prüfen, bevor eine Mutter angezogen wird.
windows-usual = Wie üblich, nicht gemessen: wo { $names } stehen darf.
windows-usual-measure = Wie üblich, nicht gemessen: wo { $names } stehen darf. Am meisten würde klären: { $measure }.
figure-slot = wie weit ein Schlitz der Schlossscheibe am Grund ist
figure-notch = wie weit eine Kerbe ({ $of }) am Grund ist
figure-tip = wie breit die Spitze ({ $of }) ist
figure-tail = wie breit das Ende des Rechenschwanzes ist
answer-prove-inferred = Wie weit es noch zu gehen hatte ({ $names }), ist in Ruhe nur an der Kerbe abgelesen. Dass alles in seinem Fenster steht: { $odds }. Nur fingerfest schließen und die Stunden prüfen, bevor eine Mutter angezogen wird; oder noch einmal beim Einfallen des Hebels hinsehen.
answer-no-mesh = Kein Versetzen hilft. Nach einem verbogenen Hebel oder einem verrutschten Teil suchen.

shift-lift = Die Welle <m>{ $arbor }</m> ausheben. { teeth-first } <m>{ way }</m>, so wie Sie jetzt darauf sehen.
shift-free = Die Welle <m>{ $arbor }</m> freimachen. { teeth-first } <m>{ way }</m>, so wie Sie jetzt darauf sehen.
shift-then-lift = Dann die Welle <m>{ $arbor }</m> ausheben. { teeth-first } <m>{ way }</m>.
shift-then-free = Dann die Welle <m>{ $arbor }</m> freimachen. { teeth-first } <m>{ way }</m>.

turn-square = <m>{ $part }</m> vom Vierkant ziehen und um <m>{ quarters } { way }</m> versetzt wieder aufstecken, so wie Sie jetzt darauf sehen.
turn-friction = <m>{ $part }</m> auf der Welle gegen die Reibung drehen: <m>{ $by } { way }</m>, so wie Sie jetzt darauf sehen, { $face } eines Zifferblatts.
turn-slackened = <m>{ $part }</m> lösen, auf der Welle um <m>{ $by } { way }</m> drehen, so wie Sie jetzt darauf sehen, { $face } eines Zifferblatts, und wieder festmachen.
clock-face =
    { $unit ->
        [hours] { $count } Stunden
        [minute] { $count } Minute
       *[minutes] { $count } Minuten
    }
quarters =
    { $count ->
        [1] eine Vierteldrehung
        [2] eine halbe Drehung
       *[other] eine Dreivierteldrehung
    }
turned-by =
    { $count ->
        [1] ein Viertel
        [2] eine halbe Drehung
       *[other] drei Viertel
    }
turn-teeth-stay = Die Zähne bleiben, wo sie eingreifen; was { $names } trägt, dreht sich.
turn-rest-goes = Die Zähne bleiben, wo sie eingreifen; der Rest der Welle dreht sich, mit allem, worin er eingreift.
turn-arbor-stays = Der Rest der Welle wird festgehalten; { $part } geht mit, und was darin eingreift.
turn-marks-go = Die Räder der Welle werden festgehalten; nur { $part } geht.
turn-moves = Damit: { $moves }.
turn-half-place = { $name } um einen halben Platz, den kein Zahn allein gibt
turn-by =
    { $side ->
        [back] { $name } um { $by } zurück
       *[ahead] { $name } um { $by } weiter
    }
turn-count-hands = Das Schlagwerk zählt dann von einer anderen Stunde weiter, als die Zeiger zeigen. Ist es geschlossen, nur den Stundenzeiger auf die Stunde schieben, die es zuletzt schlug; dann den Minutenzeiger vorwärts auf die richtige Zeit stellen und bei jeder vollen und halben Stunde warten. Oder den Einfallhebel anheben und es schlagen lassen, bis beide übereinstimmen.
turn-no-plates = Dafür wird keine Platine gelöst.
levers-soft = Laut Blatt sind weich und dürfen gebogen werden, zuletzt: { $levers }.
levers-hardened = Laut Blatt sind gehärtet oder gegossen und brechen beim Biegen: { $levers }.
moved-by-pins = { $names } kann durch keinen Zahn zwischen zwei Plätzen stehen: Stifte schalten weiter, je einen Platz. Nach der Reibfeder sehen, nach dem Hebel, und ob ein Platz übersprungen wurde.

question-at-rest = Es ist gesperrt und leicht angedrückt. Was sehen Sie?
question-first = Das Laufwerk bis zum Einfall weiterdrücken. Was sehen Sie?
question-after = Noch einmal bis zum Einfall weiterdrücken. Was sehen Sie jetzt?
question-locks = Was hält es an, wenn es geschlagen hat: ein Stift an einem Rad gegen einen Arm, oder ein Hebel in einer Kerbe? Auf dem Blatt steht noch nichts, woran man sieht, ob das Laufwerk stimmt: eintragen, woran.
question-no-windows = So wie es beschrieben ist, schlüge es nicht richtig; wo etwas stehen darf, ist darum nicht zu sagen. Durchsehen, was es trägt, die Zahlen und was gemessen ist.
question-nothing-wrong = Mit diesen Zahlen ist nichts abzulesen: das Werk geht so nicht auf. Erst nachzählen.
question-nothing = Noch ist nichts abzulesen. Die Wellen einsetzen.

# Einer von mehreren Versätzen: die Nummer vor seinem Satz, und wie ein Befund ihn nennt.
nth = { $n }.
shift-of = Versatz { $n } (Welle { $arbor }, { $mesh })

hold-still = Die Welle { $arbor } festhalten.
hold-keep = Im Eingriff mit { $arbor } bleiben: { $arbors }.
loose-free = Aus dem Eingriff darf: { $arbors }. Dahinter wird nichts abgelesen.
loose-outside = Sie sitzt außen: dafür wird keine Platine gelöst.
loose-cock = Ein kleiner Kloben lässt ein Rad allein heraus: die Platinen bleiben zusammen.
other-hand = Oder die Welle { $far } festhalten und die Welle { $near } um { teeth-by } { way } drehen: derselbe Versatz.

after-all = Danach sollte alles in seinem Fenster stehen: { $odds }.
after = Danach: { $stand }; { $odds }.
expected-told = Danach: { $stand }; gepunktet.
expected = Wenn es wie gesagt ging: { $stand }; gepunktet.
stand-best = { $name } steht an seinem besten Ort
stand-best-all = { $names } stehen an ihrem besten Ort
stand-look = { $name } steht { $look }
in-window-now = Alles in seinem Fenster, so wie es steht: { $odds }.
in-window-sound = Alles in seinem Fenster, so wie es steht, wenn kein Hebel verbogen und nichts verdreht ist: { $odds }.

finding-other-way = Was Sie sehen, passt dazu, dass { $mesh } andersherum ging, { $odds }.
finding-slipped = Was Sie sehen, passt dazu, dass { $mesh } um einen Zahn gerutscht ist, { $odds }.
finding-another-drop = So steht ein gesundes Laufwerk bei einem anderen Einfall als dem gemeinten: weiterlaufen lassen, { $more ->
        [one] eine Umdrehung
       *[other] { $more } Umdrehungen
    } der Welle { $arbor }, und dort noch einmal sehen, bevor etwas bewegt wird.
finding-bent = Kein Eingriff eines gesunden Werks zeigt { $witness } so: dort ist ein Hebel verbogen oder ein Teil verrutscht, { $odds }. Zuerst danach suchen.
far-off =
    { $name } ist als { $said } abgelesen, { $off ->
        [turn] mehr als eine Umdrehung der Welle
       *[places] mehr als zwei Stellen weit ab
    }, und als { $place } genommen: noch einmal ansehen, ein Komma oder eine Ziffer kann verrutscht sein.

## Wie ein Zeuge aussieht

look-rim-short = zurück, auf dem Rand
look-edge-short = zurück, auf der Kante
look-short = zurück
look-little-short = etwas zurück
look-in-short = drin, vor seinem besten Ort
look-best = drin, an seinem besten Ort
look-in-ahead = drin, über seinen besten Ort hinaus
look-little-ahead = etwas voraus
look-ahead = voraus
look-edge-ahead = voraus, auf der Kante
look-rim-ahead = voraus, auf dem Rand

reading-of = { $name }, { $look }

## Die Zeichnung, und wie man abliest

drawing =
    Das Werk, von der { plate } Platine aus gesehen{ $over ->
        [yes] , kopfüber.
       *[no] .
    }
seen-from =
    von der { plate } Platine aus{ $over ->
        [yes] , kopfüber
       *[no] {""}
    }
see-from =
    Von { $plate ->
        [front] vorn
       *[back] hinten
    } ansehen

how-first = Hebel frei und hochgehängt, keine Kraft in der Feder. Das Laufwerk mit dem Finger weiterdrücken, so wie es läuft.
held = Wie es für diesen Blick gehalten wird
held-at-rest = In Ruhe, gesperrt
held-dropping =
    { $drops ->
        [hook] Beim Einfallen der Rechenklinke
       *[lever] Beim Einfallen
    }
held-at-rest-how = Die Kraft ablassen, während der Schlag gesperrt ist, und das Bodenrad leicht in seiner Laufrichtung andrücken. Am Hebel muss nichts gehalten werden: das Laufwerk liegt, wo es sperrt, und was Sie sehen, wird zurückgerechnet.
held-dropping-how =
    { $drops ->
        [hook] Das Laufwerk mit dem Finger führen, bis der letzte Zahn geschöpft ist und die Rechenklinke gerade hinter ihm einfällt, und dort halten.
       *[lever] Das Laufwerk mit dem Finger führen, bis die Hebelspitze gerade einfällt, und dort halten.
    }
held-unknown =
    { $drops ->
        [hook] Ablesen, wenn die Rechenklinke hinter dem letzten Zahn einfällt: auf dem Blatt steht nicht, was das Laufwerk in Ruhe sperrt, oder nicht, woran man es sieht.
       *[lever] Beim Einfallen ablesen: auf dem Blatt steht nicht, was das Laufwerk in Ruhe sperrt, oder nicht, woran man es sieht.
    }
at-its-arm =
    { $drops ->
        [hook] In Ruhe liegt er an seinem Arm, von dem aus die anderen gerechnet werden: an ihm ist nichts abzulesen. Wie weit er noch zu gehen hatte, sieht man, wenn die Rechenklinke hinter dem letzten Zahn einfällt.
       *[lever] In Ruhe liegt er an seinem Arm, von dem aus die anderen gerechnet werden: an ihm ist nichts abzulesen. Wie weit er noch zu gehen hatte, sieht man beim Einfallen des Hebels.
    }
pallet-name = Schöpfer
pallet-asks =
    { $locked ->
        [tail] Sein Schwanz liegt auf dem Stift des Rechens. Ist der Schöpfer frei von den Zähnen? Die Rechenklinke mit dem Finger heben: fällt der Rechen frei?
       *[hook] Die Rechenklinke liegt hinter dem letzten Zahn. Ist der Schöpfer frei von den Zähnen? Die Klinke mit dem Finger heben: fällt der Rechen frei?
    }
pallet-free = er fällt frei
pallet-touches = er streift den Schöpfer beim Fallen
pallet-fast = er fällt nicht: der Schöpfer steht in seinen Zähnen
pallet-first = Der Schöpfer ist dem Rechen im Weg: das zuerst richten, vorher gilt nichts, was abgelesen wird. Bei entspannter Feder nachsehen, wie er auf seinem Vierkant oder Konus sitzt, seinen Schwanz und den Stift des Rechens; ihn auf seiner Welle versetzen, bis der Rechen frei fällt. Dann alles neu ansehen. Es wurde nichts eingetragen.
quarters-asks =
    { $at ->
        [tail] Oder in Vierteln von Stift zu Stift: wie weit hat der nächste Stift noch zu gehen, bis er am Schwanz des Hammers ankommt?
       *[arm] Oder in Vierteln seines Weges herum: wie weit hat der Stift noch zu gehen, bis er an seinem Arm liegt?
    }
quarters-to-go =
    { $count ->
        [0] er ist gerade da
        [1] ein Viertel
        [2] die Hälfte
       *[other] drei Viertel
    }
notch-asks = Die Hebelspitze in ihrer Kerbe: wie weit ist sie von der Kante gelaufen, über die sie einfiel?
notch-edge = noch an dieser Kante
notch-quarter = ein Viertel des Wegs
notch-half = halber Weg
notch-three-quarters = drei Viertel des Wegs
notch-end = am anderen Ende
how-first-at-rest = Den Schlag auslaufen und sperren lassen. Dann die Kraft ganz ablassen, mit einem Schlüssel oder einer Klammer, die hält.
how-second-at-rest = Das Bodenrad mit dem Finger leicht in seiner Laufrichtung andrücken, so dass jedes Rad an seinem Treiber anliegt. Keinen Hebel bewegen.
how-second-drop =
    { $drops ->
        [hook] Langsam laufen lassen, bis der letzte Zahn geschöpft ist und die Rechenklinke gerade hinter ihm einfällt. Dort die Welle { $arbor } halten, indem Sie die letzte eingesetzte Welle zurückhalten.
       *[lever] Langsam laufen lassen, bis die Spitze des Einfallhebels gerade die Kante ihrer Kerbe verlässt. Dort die Welle { $arbor } halten, indem Sie die letzte eingesetzte Welle zurückhalten.
    }
how-second = Langsam weiterlaufen lassen: { $moment }. Gehalten wird dann die Welle { $arbor }.
how-third = Ansehen: { $witness }. Ein zweiter Blick ist schnell getan.

## Was abgelesen wird, und was ein Hebel ist

# Wörter des Handwerks: aus dem Gedächtnis.
witness-kind =
    { $kind ->
        [slot] Schlitz der Schlossscheibe
        [rack-tail] Rechenschwanz
        [hammer-tail] Hammerschwanz
        [gathering-pallet] Schöpfer
        [locking-pin] Sperrstift
        [warning-pin] Anlaufstift
        [fly] Windfang
       *[plain] {""}
    }
witness-creeping =
    { $kind ->
        [slot] Von der Seite am Hebel entlang sehen: steht seine Spitze über der Mitte des Schlitzes, nahe an welcher Wand, oder auf dem Rand?
        [rack-tail] Wo fällt der Rechenschwanz auf seine Stufe: in der Mitte, nahe der vorigen oder nahe der nächsten?
        [hammer-tail] Den Hammer mit einem gebogenen Draht ein wenig anheben: er muss sich frei anfühlen. Wie weit hat der nächste Stift noch bis zum Schwanz, als Teil des Wegs von Stift zu Stift?
        [gathering-pallet] Der letzte Zahn ist eben geschöpft: wie weit hat der Schöpfer noch, wie auf einem Zifferblatt?
        [locking-pin] Wie weit hat der Stift noch bis zu seinem Arm, wie auf einem Zifferblatt um seine eigene Welle?
        [warning-pin] Wie weit ist der Stift von dem Arm, der ihn fangen wird, wie auf einem Zifferblatt um seine eigene Welle?
        [fly] Wie liegen die Flügel: frei von dem, was sie nicht berühren dürfen?
       *[plain] {""}
    }
witness-at-rest =
    { $kind ->
        [slot] Von der Seite am Hebel entlang sehen: wo liegt er in seinem Schlitz, und wie nahe an welcher Wand? Ganz unten ist er frei von beiden.
        [rack-tail] Wo liegt der Rechenschwanz auf seiner Stufe: in der Mitte, nahe der vorigen oder nahe der nächsten?
        [hammer-tail] Den Hammer mit einem gebogenen Draht ein wenig anheben: er muss sich frei anfühlen, der Schwanz frei von den Stiften. Wo zwischen zwei Stiften liegt er?
        [gathering-pallet] Sein Schwanz liegt am Stift des Rechens. Die Klinke mit dem Finger heben: fällt der Rechen frei?
        [locking-pin] Der Stift liegt an seinem Arm: sehen, wie weit die Hebelspitze von der Kante ihrer Kerbe ist.
        [warning-pin] Wo steht der Stift, von dem Arm aus, der ihn fangen wird, wie auf einem Zifferblatt um seine eigene Welle?
        [fly] Wie liegen die Flügel: frei von dem, was sie nicht berühren dürfen?
       *[plain] {""}
    }
lever-kind =
    { $kind ->
        [hook] Rechenklinke
        [hammer-tail] Hammerschwanz
        [count-lever] Hebel auf der Schlossscheibe
        [drop-lever] Einfallhebel
        [lifting-lever] Auslösehebel
        [rack-pin] Stift am Rechen
        [locking-arm] Sperrarm
        [warning-arm] Anlaufarm
        [lifting-arm] Mitnehmer
       *[plain] {""}
    }
named-kind = { $name } ({ $kind })

## Vorsicht

caution-springs = Bevor Platinen gelöst werden: jede Feder jedes Laufwerks mit dem passenden Schlüssel entspannt oder gesichert; Gewichte ab. Auch eine entspannte Feder drückt noch.
caution-lever-springs = Hebelfedern ab, bevor die Platine sich hebt.
caution-escape-teeth = Muttern und Schlüssel weg von den Zähnen des Hemmungsrads.
caution-fingers = Finger weg von Rad und Trieb, und vom Windfang.
caution-runaway = Keine Kraft im Laufwerk, solange { $arbors } draußen ist: sonst hält es nichts auf.
caution-runaway-arbor = { $arbor }
caution-hook = Nur mit dem Finger drücken. Das Laufwerk nie durch Zurückdrehen einer Feder versuchen: sie springt vom Haken ihres Kerns.
caution-click = Vor dem Aufziehen Sperrkegel, Sperrfeder und Niet ansehen: lässt er los, dreht sich der Schlüssel in Ihrer Hand.
caution-bending = Nur einen weichen Hebel biegen, und erst zuletzt.
caution-turning = Bevor ein Teil vom Vierkant gezogen, gelöst oder gedreht wird: die Feder mit passendem Schlüssel entspannen, Gewichte abnehmen, und das Laufwerk festhalten: es kann losgehen. Nie an Zähnen, Stiften oder Zeigern drehen, und nie mit Gewalt.
caution-local = Örtliche Vorschriften und anerkannte Fachpraxis gehen vor.
cautions = Vorsicht
cautions-now = Zuerst
cautions-read = { $count ->
        [one] ein Punkt, schon gelesen
       *[other] { $count } Punkte, schon gelesen
    }

## Wie es stand

stood-inside = Als es richtig schlug, stand { $name } mindestens { $degrees } innerhalb des Fensters, in neunzehn von zwanzig Fällen.
stood-near = Als es richtig schlug, stand { $name } nahe einem Rand des Fensters.
stood-outside = Als es richtig schlug, wurde { $name } außerhalb des Fensters abgelesen: noch einmal hinsehen, auch nach den Breiten auf dem Blatt. Nach dieser Ablesung richtet sich das Fenster nicht.
stood-cannot-tell = Wie weit von einem Rand { $name } stand, als es richtig schlug, lässt sich nicht sagen: dafür wurde zu grob abgelesen.

stood-page = Wie es steht, solange es noch richtig schlägt
stood-link = Ablesen, wie es steht, solange es noch richtig schlägt
stood-first = Die Kraft mit dem passenden Schlüssel ablassen, während der Schlag gesperrt ist, und keine Mutter anrühren.
stood-second = Das Bodenrad mit einem Finger leicht in seiner Laufrichtung andrücken.
stood-third = Hebel, Schlossscheibe oder Rechen, Hammerschwanz und Stifte fotografieren und unten sagen, wie jedes liegt.
stood-why = Was so abgelesen wird, liegt innerhalb seines Fensters: es sagt, wie weit man nach den üblichen Maßen gehen darf, und nichts davon, wie es später steht.
stood-photographs = Bilder
stood-readings = Wie jedes liegt, in Ruhe
stood-hours = Beobachtete Stunden, jede richtig geschlagen
stood-enter = So stand es
stood-found = Was das sagt
stood-no-sheet = Wie jedes liegt, wird gefragt, sobald jede Zahl auf dem Blatt steht. Jetzt fotografieren: so steht es nicht wieder.
stood-none-tells = Auf dem Blatt steht nicht, was das Laufwerk sperrt; was in Ruhe zu sehen ist, lässt sich nicht zurückrechnen. Trotzdem fotografieren.
stood-not-said = Niemand hat gesagt, dass sie jede Stunde richtig schlug und ganz ankam: nur was stand, als sie richtig schlug, sagt hier etwas.
stood-wrong = Als sie zuletzt probiert wurde, schlug sie falsch: wie sie da stand, zeigt keinen guten Stand.
stood-back = Weiter zur Werkbank

## Das Protokoll

log-look = Gesehen: { $seen }.
log-look-loose = Gesehen, Laufwerk lose: { $seen }.
log-look-at-rest = Gesehen in Ruhe, gesperrt: { $seen }.
log-stood = Wie es stand, als es richtig schlug, in Ruhe: { $seen }.
log-stood-hours =
    { $hours ->
        [one] Wie es stand, als es richtig schlug, in Ruhe, eine Stunde lang beobachtet: { $seen }.
       *[other] Wie es stand, als es richtig schlug, in Ruhe, { $hours } Stunden lang beobachtet: { $seen }.
    }
log-seen = { $name } { $look }
log-shift = Getan: { $shifts }.
log-shift-more = { $rest }; dann { $next }
log-shift-one = { $arbor }, { teeth } { way }
log-shift-unknown = { $mesh }, { teeth }
log-other-way = Nummer { $of } ging andersherum.
log-other-way-one = Von Nummer { $of } ging die Welle { $arbor } andersherum.
log-slipped = Gerutscht: { $shift }.
log-jumped = Die Welle { $arbor } sprang heraus und wurde wieder eingesetzt.
log-bent = Gebogen: { $moved }.
log-turned = Auf seiner Welle gedreht: { $moved }.
log-moved = { $name } um { $number }°
log-out = Die Welle { $arbor } herausgenommen.
log-in = Die Welle { $arbor } eingesetzt.
log-struck = { $hour } geschlagen.
log-undo = Nummer { $of } zurückgenommen.
log-unknown = Etwas von der Art { $kind }.
log-many = { $says } ({ $count } Einträge)
log-taken-back = zurückgenommen

seen-degrees = { $look } ({ $degrees })
seen-degrees-spread = { $look } ({ $degrees } ± { $spread }°)
seen-taken = { $said }, genommen als { $taken }
seen-number = { $number }°
seen-number-spread = { $number }° ± { $spread }°
seen-in = drin
seen-rim = auf dem Rand
seen-besides = { $look } ({ $said })
seen-quarters-to-go =
    { $count ->
        [0] der Stift gerade dort
        [1] der Stift ein Viertel des Wegs davor
        [2] der Stift den halben Weg davor
       *[other] der Stift drei Viertel des Wegs davor
    }
seen-in-notch = in seiner Kerbe { $step }
seen-quarters = { $number } Viertel des Wegs zum nächsten Ort
seen-notch = { $number }° in seiner Kerbe
seen-teeth =
    { $pinion ->
        [yes] { $number } Triebzähne von { $part }
       *[no] { $number } Zähne von { $part }
    }
seen-oclock = auf { $hour } Uhr, von der { plate } Platine aus

## Wie Wellen eingesetzt werden

put-in = die Welle { $arbor } einsetzen mit { $places }
put-in-any = die Welle { $arbor } einsetzen: jeder Zahn ist recht
put-in-later = die Welle { $arbor } vorerst an beliebigem Zahn einsetzen: was später gestellt wird, gleicht es aus
put-in-ring = die Welle { $arbor } einsetzen, wo sie passt: sie schließt einen Ring von Eingriffen
put-in-witness = { $witness } bei { $degrees } (gut ist { $least } bis { $most })
put-in-place = { $place }, während die Welle { $arbor } im Augenblick „{ $moment }“ gehalten wird
put-in-drop = { $place }, während die Welle { $arbor } beim Einfall gehalten wird
put-in-against = { $place }, während die Welle { $arbor } mit { $held } bei { $degrees } gehalten wird
put-in-closed = bei geschlossenen Platinen { $said }
put-in-at-once = { $said }; zugleich im Eingriff mit: { $arbors }, also den Zahn an jedem beim Einsetzen wählen
put-in-rest-later = { $said }; der andere Eingriff darf vorerst an jedem Zahn schließen
put-in-ring-too = { $said }; sie schließt einen Ring von Eingriffen und geht nur hinein, wo alle passen
put-in-ring-later = { $said }; damit beginnt ein Ring von Eingriffen: geht nicht hinein, was ihn schließt, diese wieder herausnehmen und einen Zahn weiter einsetzen
put-in-check = { $said }. Dann nachsehen, ob im Fenster: { $names }. Kein Zahn hier stellt sicher alles. Was draußen ist, kommt vielleicht mit derselben Welle einen Zahn weiter hinein; wenn nicht, alles ablesen und fragen, welches Rad zu versetzen ist

## Knöpfe, Beschriftungen, Felder

program = Trundle
title = { $name } — { program }
bench = Alle Arbeiten auf dem Werktisch
upside = Auf den Kopf stellen
upright = Aufrecht stellen
ask = Was tue ich?
done = Wie gesagt getan
done-all =
    { $count ->
        [2] Beide wie gesagt getan
       *[other] Alle wie gesagt getan
    }
done-only = Nur { $n } ({ $arbor }) getan
other-way-nth = { $n } ({ $arbor }) ging anders{"\u00AD"}herum
other-way = Es ging anders{"\u00AD"}herum
jumped = Etwas sprang heraus
prove-on = Schließen, und weiter zur Probe
prove-finger-tight = Fingerfest schließen, und weiter zur Probe
arbor-is-in = Die Welle { $arbor } ist drin
part-at = Bei
part-set-right = Es ist gerichtet: neu ansehen
whole-job = Der ganze Auftrag
timing-home = Die Uhr ist zurückgegeben.
timing-home-again = Soll es weitergehen, erst eintragen, dass sie wieder hereinkam.
look-again = Noch einmal ansehen
undo = Zurück{"\u00AD"}nehmen
which = Welche Welle sprang heraus? Berühren.
which-done = Der Versatz war wie gesagt gemacht, bevor sie heraussprang
which-none = Doch keine
sure = sicher
sure-fairly = ziemlich
sure-rough = grob
how-sure = Wie sicher
how = Wie ansehen
close = Zurück
how-drawing =
    { $drops ->
        [hook] Was einen Rechen sperrt, und was ihn schöpft
       *[lever] Der Einfall: die Spitze des Hebels an der Kante ihrer Kerbe
    }
number = Grad, voraus +, zurück −
number-fold = In Grad
pictures = Es sieht so aus
unread = noch nicht abgelesen
clear = Nicht ablesen
slack = Das Laufwerk hing lose
log = Bisher
log-empty = Noch nichts.
aloud = Vorlesen
slate = Schiefer
paper = Papier
keys = Leertaste, Eingabe oder Bild ab geht weiter, auch mit einem Pedal. Pfeiltasten bewegen, was unter der Lupe liegt.
more = Etwas anderes ist geschehen
arbors = Welche Wellen eingesetzt sind
take-out = herausnehmen
put-back = einsetzen
hour = Die zuletzt geschlagene Stunde
enter = Eintragen
did = Ich habe anders versetzt
did-teeth = Zähne, voraus +, zurück −
did-mesh = Am Eingriff
hold = halten
locks-here = sperrt hier
hold-for = halten für { $numbers }
seen = Wie Sie es sahen
order = Wie sie hineinkommen
order-cut-short = Es gibt mehr Reihenfolgen, als verglichen wurden: dies ist die übliche. Wo nochmals hinzusehen ist, käme eine andere vielleicht ohne das aus.
to-sheet = Zu ihrem Blatt
skip = Zur Antwort
earlier = Diese Seite ist von vorher: Seitdem wurde mehr eingetragen. Nicht danach handeln; eintragen lässt sich hier nichts.
earlier-now = Wie es jetzt steht
late = Noch keine Antwort: Das Programm hat viel zu tun, oder es steht. Was Sie eingegeben haben, ist noch da.
ask-again = Noch einmal versuchen
asking-again = Es wird noch einmal versucht.
silent = Das Programm antwortet nicht. Läuft es noch? Was vorher eingetragen wurde, ist aufgehoben.

## Wo die Wellen liegen

lie = Wo die Wellen liegen
lie-arbor = Welle { $arbor }
lie-fixed =
    { $fixing ->
        [nut] { $what }, mit Mutter
        [screw] { $what }, mit Schraube
       *[pin] { $what }, mit Stift
    }
lie-place =
    { $way ->
        [left] { $across } nach links
       *[right] { $across } nach rechts
    }, { $up ->
        [down] { $along } nach unten
       *[up] { $along } nach oben
    }
lie-none = Ziehen Sie jede Welle dorthin, wo sie liegt, vom Walzenrad an aufwärts.
lie-some = { $left } von { $all } Wellen haben noch keinen Platz.
lie-all = Jede Welle hat ihren Platz.
lie-chosen =
    { $sort ->
        [other] Wo ist { $what }?
       *[arbor] Wo liegt die { $what }?
    }
lie-new =
    { $what ->
        [pillar] Wo steht der Pfeiler?
        [square] Wo ist der Aufzugvierkant?
       *[bell] Wo ist die Glocke?
    }
lie-how = Ziehen Sie sie dorthin, berühren Sie die Stelle, oder bewegen Sie sie mit den Pfeiltasten und Enter.
lie-how-first = Oder berühren Sie eine, und dann ihren Platz. Mit Tasten bewegen die Pfeile sie, und Enter lässt sie los.
lie-how-plain = Berühren Sie die Stelle auf der Zeichnung, oder sagen Sie sie in Zahlen.
lie-schematic = Diese Zeichnung ist angeordnet wie üblich. Sie ist nicht gemessen, und nicht wie Ihr Werk liegt.
lie-about = Die Größen sind hier ungefähr, nicht gemessen: was man von dieser Zeichnung abliest, ist kein Maß.
lie-one-spot = Die Wellen { $one } und { $other } liegen an einer Stelle. Wenn sie nicht ineinander laufen, stimmt ein Platz nicht.
lie-unreached =
    { $far ->
        [yes] Die Wellen { $driver } und { $driven } liegen { $is } auseinander. Nach den Zahlen und den anderen Rädern passten etwa { $fits }, die Räder erreichen einander also nicht. Sehen Sie beide Plätze nach, oder zählen Sie noch einmal.
       *[no] Die Wellen { $driver } und { $driven } liegen { $is } auseinander. Nach den Zahlen und den anderen Rädern passten etwa { $fits }, die Räder laufen also ineinander. Sehen Sie beide Plätze nach, oder zählen Sie noch einmal.
    }
lie-no-such = { $what } gibt es hier nicht.
lie-off-plate = Das liegt neben der Platine. Eingetragen wurde nichts; berühren Sie noch einmal.
lie-meshing-spot = Die Wellen { $one } und { $other } sind im Eingriff, sie liegen also nicht an einer Stelle. Eingetragen wurde nichts; berühren Sie noch einmal.
lie-too-few =
    { $count ->
        [0] Es wurde noch nichts berührt. Berühren Sie mindestens zwei Mitten.
        [1] Nur eine Mitte wurde berührt. Berühren Sie mindestens noch eine.
       *[other] { $count } Mitten wurden berührt, und nichts sagt, wie groß das Bild ist. Berühren Sie zwei Wellen, die im Eingriff sind, oder zwei Enden, und sagen Sie ihren Abstand.
    }
lie-adrift = Nichts, was hier berührt wurde, hat schon einen Platz, andere Wellen aber. Berühren Sie zwei, die einen haben.
lie-no-picture = Dieses Bild gibt es zu diesem Auftrag nicht mehr.
lie-right = Nach rechts
lie-up-by = Nach oben
lie-in = { $what }, { $unit }
lie-put = Dort liegt sie
lie-fix = So befestigt
lie-measured-since = Seither wurde ein Abstand gemessen. Nach ihm richten sich alle Größen.
lie-size-by = Plätze danach richten
lie-away =
    { $sort ->
        [arbor] Platz wegnehmen
       *[other] wegnehmen
    }
lie-undo = zurücknehmen
lie-not-said = noch kein Platz
lie-list = Wellen, und was auf den Platinen steht
lie-link = { $what }: { $place }
lie-add = Was dort noch steht
lie-add-what =
    { $what ->
        [pillar] ein Pfeiler
        [square] ein Aufzug{"\u00AD"}vierkant
       *[bell] eine Glocke
    }
lie-fixing = Was die Platine darauf hält
lie-fixing-as =
    { $fixing ->
        [nut] eine Mutter
        [screw] eine Schraube
       *[pin] ein Stift
    }
lie-pitch = Eine Umdrehung gibt, { $unit }, wenn gemessen
lie-across = Durchmesser, { $unit }, wenn gemessen
lie-leave = lassen
lie-photographs = Auf einem Foto
lie-photographs-how = Berühren Sie die Mitten auf einem Bild des Werks. Es liegt dann unter der Zeichnung.
lie-photograph-of =
    { $plate ->
        [front] darauf berühren: vordere Platine
       *[back] darauf berühren: hintere Platine
    }
lie-photograph-nth = Bild { $n }
lie-photograph-in = Ein Bild dazulegen
lie-file = Ein Bild einer Platine, gerade von vorn
lie-touch =
    { $sort ->
        [other] Berühren Sie die Mitte von { $what }.
       *[arbor] Berühren Sie die Mitte: { $what }.
    }
lie-touch-from = Berühren Sie ein Ende eines Abstands, den Sie kennen.
lie-touch-to = Berühren Sie sein anderes Ende.
lie-touch-up = Berühren Sie die Seite des Bildes, die oben ist.
lie-touch-done = Alles, was zu sehen ist, ist berührt.
lie-touched-count = { $count } von { $all } berührt
lie-from = ein Ende
lie-to = das andere Ende
lie-up = wo oben ist
lie-unseen = nicht zu sehen
lie-touch-state =
    { $state ->
        [touched] { $what }, berührt
        [unseen] { $what }, nicht zu sehen
       *[open] { $what }
    }
lie-size = Wie groß es ist, und was oben ist
lie-distance = Von einem Ende zum anderen, { $unit }
lie-distance-set = Das ist der Abstand
lie-scale =
    { $from ->
        [places] Es ist auf die Plätze gelegt, die schon bekannt sind.
        [measured] Seine Größe folgt aus einem gemessenen Abstand zweier Wellen.
        [rule] Seine Größe folgt aus dem Abstand, den Sie gesagt haben.
       *[drawn] Nichts Gemessenes sagt seine Größe: sie ist wie auf der Zeichnung, ungefähr, nicht gemessen.
    }
lie-worst = Auf die bekannten Plätze gelegt, liegt { $what } am weitesten daneben: um { $off }.
lie-take = Diese Plätze aufs Blatt
lie-anew = alles, was hier berührt ist, auch was schon einen Platz hat
lie-left = Vom linken Rand, Hundertstel der Breite
lie-top = Vom oberen Rand, Hundertstel der Breite
lie-spot-set = Dort berühren
lie-to-drawing = Zurück zur Zeichnung
lie-to-bench = Zur Werkbank
lie-to-movement = Das Werk
lie-shown = Wie viel vom Bild zu sehen ist
lie-shown-set = so
lie-photograph = Das Bild der { $plate } Platine, mit dem, was berührt wurde.
lie-drawing = Das Werk, wie es liegt, von der { $plate } Platine aus gesehen.

## Ein Werk, das gezählt wird

counting-question =
    { $has ->
        [leaves] Welle <m>{ $arbor }</m>, { $part }: wie viele Zähne?
        [trundles] Welle <m>{ $arbor }</m>, { $part }: wie viele Triebstöcke?
        [pins] Welle <m>{ $arbor }</m>, { $part }: wie viele Stifte?
       *[teeth] Welle <m>{ $arbor }</m>, { $part }: wie viele Zähne?
    }
counting-number =
    { $has ->
        [leaves] Zähne
        [trundles] Triebstöcke
        [pins] Stifte
       *[teeth] Zähne
    }
counting-made = Wie es gemacht ist
counting-made-as =
    { $form ->
        [lantern] Laterne
       *[cut] Zähne
    }
counting-lost = verloren
counting-unsure = unsicher
counting-back = Eine Ziffer zurück
counting-next = weiter
counting-part-counted = { $part }, { $count }
counting-part-open = { $part }, nicht gezählt
counting-left =
    { $count ->
        [0] alles gezählt
       *[other] noch { $count } zu zählen
    }
counting-no-count =
    { $pins ->
        [yes] Stifte, die ein anderes Teil weiterrücken, sind es von 1 bis 1000.
       *[no] Ein Rad hat von 4 Zähnen bis 1000; noch einmal zählen.
    }
counting-part = { $arbor } { $part }
counting-undo = zurücknehmen
counting-text = Das Blatt als Text
counting-text-enter = Text eintragen
counting-whole = Der ganze Auftrag

## Wie es schlägt, und was es trägt

describe-kind =
    { $kind ->
        [count-wheel-and-cam] Schlagscheibe zwischen den Platinen, ein Herz mit Kerbe, ein Stift, der sperrt
        [count-wheel-outside] Schlagscheibe außen auf der Rückplatine, kein Herz
        [rack] Rechen und Staffel unter dem Zifferblatt
        [quarters] Viertel auf Glocken, die Stunde mit Rechen
        [ships-bell] Schiffsglocke
        [tower] Turmuhr, die Schlagscheibe von der Walze getrieben
       *[other] { $name }
    }
describe-how = Wie schlägt sie?
describe-how-about = Wählen, was so aussieht. Es wird gezeichnet und kann später geändert werden.
describe-other-kind = Eine andere Art
describe-as-text = Oder sein Blatt, als Text
describe-like = Wie eine, die schon hier war
describe-like-about = Ihre Zähnezahlen und ihr Schlagwerk werden übernommen, jede Zahl zweifelhaft, bis sie auch hier gezählt ist.
describe-as-like = Das Übrige wie bei { $like }
describe-as-like-left =
    { $count ->
        [one] Eine Zahl ist wie bei { $like }, nicht gezählt
       *[other] { $count } Zahlen sind wie bei { $like }, nicht gezählt
    }
counting-as-like = Wie bei { $like }, nicht gezählt.
describe-go-on =
    { $count ->
        [one] Weiter am Werk: eine Zahl fehlt noch
       *[other] Weiter am Werk: { $count } Zahlen fehlen noch
    }
describe-movement = Das Werk
describe-bare = Etwas anderes: Welle für Welle
bare-next = So weit gezählt. Das nächste Rad anfügen, oder sagen, wie es schlägt.
bare-next-about = Wellen, Räder und Triebe werden unten angefügt; wie es schlägt, wird darunter gefragt.
bare-strikes = Wie schlägt es?
bare-strikes-about = Berühren, was am nächsten kommt. Was dazu gehört, wird auf diese Wellen gelegt; dann wird gefragt, wo jedes sitzt.
bare-alter = Wellen, Räder und Triebe
bare-add-arbor = Eine Welle dazu
bare-name = Name der Welle
bare-has = Auf ihr
bare-has-as =
    { $part ->
        [pinion] ein Trieb
        [lantern] ein Hohltrieb
       *[wheel] ein Rad
    }
bare-meshes = Greift in
bare-nothing = noch nichts
bare-add-part = Ein Rad oder ein Trieb dazu
bare-arbor = Welle
bare-add = Dazu
bare-away = Wegnehmen
bare-no-name = Eine Welle braucht einen Namen: Buchstaben, Ziffern und Leerzeichen, zuerst ein Buchstabe.
bare-taken = Eine Welle „{ $name }“ gibt es schon. Diese braucht einen anderen Namen.
describe-way = Wie herum läuft das Rad { $arbor }, so wie man darauf sieht?
describe-way-as =
    { $way ->
        [clockwise] im Uhrzeigersinn
       *[counterclockwise] gegen den Uhrzeigersinn
    }
describe-width-how =
    { $question ->
        [slot] Mit der Schieblehre; oder wie dick ein Bohrer ist, der eben hineingeht.
       *[thick] Mit der Schieblehre; oder wie weit ein Loch der Bohrerlehre ist, in das es eben hineingeht.
    }
describe-wide = Breite, mm
describe-across =
    { $of ->
        [count-lever] Die Schlagscheibe im Durchmesser, wo er einfällt, mm
       *[other] Das Rad im Durchmesser, in dieser Tiefe, mm
    }
describe-unknown = weiß ich nicht
describe-usual = wie üblich
describe-rest = Das Übrige wie üblich
describe-pace-how = Eine lange Stunde vom ersten bis zum letzten Schlag stoppen. Daraus folgt, wie weit ein Stift geht, während der Hebel fällt; sonst steht dafür wie üblich eine Achteldrehung.
describe-pace-blows = Schläge
describe-pace-seconds = Vom ersten bis zum letzten, s
describe-pace-fall = Der Hebel fällt in, s, falls gestoppt (an verlangsamten Bildern)
describe-pace-heard = Wie gehört: { $blow } s von Schlag zu Schlag, jeder auf { $spread } s
describe-enter = Eintragen
describe-left =
    { $count ->
        [0] keine weitere Frage
        [1] die letzte Frage
       *[other] { $count } Fragen
    }
describe-done = Es ist auf dem Werktisch.
describe-pins-first = Die Hebestifte sind nicht gezählt, und was verloren ist, hängt an ihnen: erst sie zählen.
describe-count-pins = Die Hebestifte zählen
describe-again = So wie gezählt wurde, geht das Werk nicht auf.
describe-again-how = Ein Rad auf der Zeichnung berühren, um es nachzuzählen. Was nicht gezählt ist, ist wie üblich.
describe-count-again = Nachzählen: { $part }
describe-done-all =
    { $count ->
        [0] Jede Zahl steht an ihrem Ort, und was nicht gemessen ist, ist wie üblich.
        [one] Eine Zahl ist nicht sicher oder hier nicht gezählt. Was nicht gemessen ist, ist wie üblich.
       *[other] { $count } Zahlen sind nicht sicher oder hier nicht gezählt. Was nicht gemessen ist, ist wie üblich.
    }
describe-done-lost =
    { $count ->
        [one] Eine Zahl ist verloren. Sie wird ausgerechnet, bevor das Werk gesetzt wird.
       *[other] { $count } Zahlen sind verloren. Sie werden ausgerechnet, bevor das Werk gesetzt wird.
    }
describe-time = Das Schlagwerk setzen
describe-find = Ausrechnen, was verloren ist
describe-questions = Was es trägt
describe-pair =
    { $up ->
        [yes] { $near } auf { $far }
       *[no] { $near } in { $far }
    }
describe-counts =
    { $there ->
        [yes] { $counts }, mit { describe-pins }
       *[no] { describe-pins }
    }
describe-pins =
    { $by ->
        [places] { $pins } Stellen der Schlossscheibe
        [chime] { $pins } Stellen der Schlossscheibe des Viertelschlags
        [usual] den üblichen { $pins } Stiften
       *[pins] { $pins } Stiften
    }
describe-each =
    { $by ->
        [places] je Stelle
        [chime] je Stelle
       *[other] je Schlag
    }
describe-turns =
    { $how ->
        [one] eine Umdrehung der Welle { $arbor } { describe-each }
        [half] eine halbe Umdrehung der Welle { $arbor } { describe-each }
        [yes] { $number } Umdrehungen der Welle { $arbor } { describe-each }
       *[no] { $number } einer Umdrehung der Welle { $arbor } { describe-each }
    }
describe-blows =
    { $by ->
        [chime] { $blows } Stellen auf eine Umdrehung der Welle { $arbor }
       *[other] { $blows ->
            [1] ein Schlag auf eine Umdrehung der Welle { $arbor }
           *[other] { $blows } Schläge auf eine Umdrehung der Welle { $arbor }
        }
    }
describe-right = { $counts }: { $what }. Stimmt.
describe-wrong =
    { $known ->
        [yes] { describe-wrong-must } Vielleicht { $perhaps }.
       *[no] { describe-wrong-must }
    }
describe-wrong-must =
    { $want ->
        [one] { $counts }: { $what }. Es muss auf einen Platz je Schlag kommen und hat { $must } in einer Umdrehung: nochmals zählen.
        [whole] { $counts }: { $what }. Es muss in ganzen Umdrehungen herumkommen: nochmals zählen.
       *[blows] { $counts }: { $what }, und sie hat { $must }: nochmals zählen.
    }
describe-perhaps = { $part } { $perhaps }, nicht { $counted }
describe-perhaps-lifters = { $perhaps } Stifte, nicht { $counted }
describe-no-pace = Das ist kein Tempo: es braucht zwei Schläge oder mehr und etwas Zeit dazwischen, höchstens eine Minute.
describe-no-width = Das ist keine Breite: sie muss mehr als nichts sein und weniger als das Rad im Durchmesser.
describe-no-answer = Das ist keine Antwort auf diese Frage. Eine der gezeigten wählen.
describe-does-not-go = Das passt nicht zu dem, was vorher geantwortet wurde: was es nennt, ist nicht da. Erst jene Antwort ändern.
describe-no-kind = Eine Art „{ $got }“ gibt es nicht.
describe-no-work =
    { $of ->
        [lifters] Nichts auf dem Blatt hebt den Hammer.
       *[other] Wonach gefragt ist, steht nicht mehr auf dem Blatt.
    }
describe-no-edit = Das Blatt steht, wie es stand: { $fault }.

## Die Liste der Arbeiten

jobs = Auf dem Werktisch
another = Eine weitere Uhr auf den Werktisch legen
sheet = Ihr Blatt, als Text
put-on = Auf den Werktisch legen
in-hand = Dieses Blatt ist schon in Arbeit, als Auftrag { $n }: { $name }.
in-hand-home = Dieses Blatt war schon einmal hier, als Auftrag { $n }: { $name }. Die Uhr ist zurückgegeben.
in-hand-open = Auftrag { $n } öffnen
in-hand-another = Als weitere annehmen

## Einstellungen

settings = Wörter und Maße
settings-short = Wörter
settings-language = Sprache
settings-english = English
settings-german = Deutsch
settings-stretched = Prüfsprache
settings-usage = Werkstattwörter, im Englischen
settings-british = britisch (bush, millimetre)
settings-american = amerikanisch (bushing, millimeter)
settings-lengths = Längen
settings-millimetre = Millimeter
settings-inch = Zoll
settings-keep = So behalten

## Der gedruckte Bericht für den Besitzer

record-title = { $name }: { $title }
record-owner = Bericht über die Überholung
record-complaint = Was beanstandet wurde
record-found = Was gefunden wurde
record-found-none = Nichts ist aufgeschrieben.
record-done = Was getan wurde
record-done-none = Nichts ist aufgeschrieben.
record-timed =
    { $openings ->
        [0] Das Schlagwerk wurde eingestellt, ohne die Platinen noch einmal zu öffnen.
        [one] Das Schlagwerk wurde mit einem Öffnen der Platinen eingestellt.
       *[other] Das Schlagwerk wurde mit { $openings } Öffnungen der Platinen eingestellt.
    }
record-in-time = Das Schlagwerk wurde angesehen und steht richtig.
record-out-of-time = Das Schlagwerk wurde angesehen und steht noch nicht richtig: nichts ist aufgeschrieben, was es seither gerichtet hätte.
record-not-looked = Es ist nicht aufgeschrieben, dass das ganze Schlagwerk angesehen wurde, seit zuletzt etwas daran bewegt oder zusammengesetzt wurde.
record-not-sure = Das Schlagwerk wurde angesehen: was abgelesen wurde, stand richtig, aber es ist nicht sicher, dass alles richtig steht.
record-ran = Wie sie lief
record-ran-none = Kein Probelauf ist aufgeschrieben.
record-plot = Was sie in jedem von { $count } Probeläufen am Tag gewann oder verlor
record-plot-gains = gewinnt
record-plot-loses = verliert
record-plot-unit = Sekunden am Tag, Probelauf für Probelauf.
record-wind = Wie man sie aufzieht und stellt
record-oil = Wann sie wieder zu ölen ist
record-oil-next = Geölt bis { $from }. Ansehen lassen nach { $look }, reinigen und neu ölen lassen nach { $again }, eher, wo es staubig oder feucht ist; trockenes oder schmutziges Öl verschleißt die Löcher.
record-oil-none = Kein Ölen ist aufgeschrieben: vor dem Laufen fragen.
record-picture = Die Uhr: { $says }
record-back = Zurück zum Auftrag
record-local = Gewichte, Federn und was auf einem alten Zifferblatt ist, können verletzen. Örtliche Vorschriften und anerkannte Fachpraxis gehen vor.
occasion =
    { $when ->
        [before] wie sie kam
        [after] wie sie ging
       *[during] zwischendurch
    }
work-found = Gefunden an { $part }: { $says }.
work-fitted = Eingesetzt: { $part }.
work-oil = Geölt: { $place }, { $oil }.
work-ran = Lief { $hours } Stunden.
work-rate =
    { $way ->
        [gains] Gewinnt { $number } Sekunden am Tag.
        [loses] Verliert { $number } Sekunden am Tag.
       *[keeps] Geht weder vor noch nach.
    }
work-beat = Um { $number } ms aus dem Takt.
work-arc = Schwingt { $number }° nach einer Seite.
work-struck =
    { $struck ->
        [right] Alles, was sie schlug, war richtig.
       *[wrong] Sie schlug falsch.
    }
removed = (entfernt)
way-remove = Entfernen, was jemanden nennt
way-remove-about = Von diesen Einträgen werden Namen, Anschriften und Bilder für immer geleert (ein solches Bild auch in einem anderen Auftrag), im Buch, daneben und in seinen eigenen Sicherungen. Die Einträge bleiben. Was von Hand weggetragen wurde, ist nicht zu erreichen.
way-remove-sure = Ich meine es so: das lässt sich nicht zurücknehmen
way-remove-do = Entfernen
way-not-swept = Was von diesem Auftrag entfernt wurde, ist aus dem Buch fort, aber noch nicht aus allem daneben; mit der nächsten Sicherung wird es wieder versucht.
removal-back = Zurück zu { $name }
removal-entry = { $name }, Eintrag { $n }:
removal-beginning = { $name }, womit er begann (Name oder erstes Blatt)
removal-kind = { $kind }: { $says }
removal-point = Ein Punkt, der getan wurde
removal-show = Zeigen
removal-show-of = Eintrag { $n } von { $name } zeigen
removal-clock = (Der Name der Uhr geht mit.)
removal-whole = Es steht auch in diesen Einträgen
removal-whole-about = Der ganze Name, die ganze Nummer oder Anschrift steht darin. Was angekreuzt ist, dessen Text wird mit geleert, für immer, überall, wohin das Entfernen reicht. Nicht angekreuzt sind der Besitzer einer Uhr, die noch hier ist, und ein anderer Besitzer mit derselben Nummer.
removal-part = Es steht vielleicht in diesen
removal-part-about = Nur ein Teil davon steht darin, etwa ein Nachname, und das kann jemand oder etwas anderes sein. Kreuzen Sie an, was mit zu leeren ist.
removal-more =
    { $count ->
        [one] Ein weiterer Eintrag hat einen solchen Teil; suchen Sie ihn mit der Suche.
       *[other] { $count } weitere Einträge haben einen solchen Teil; suchen Sie sie mit der Suche.
    }
removal-fixed = Hier steht es auch, und bleibt
removal-fixed-about = Ein Blatt, oder wie ein Eintrag heißt, wird nicht geleert; ein neues Blatt lässt das vorige im Buch.
removal-point-of-shop = Ein eigener Punkt der Werkstatt lautet „{ $says }“. Er steht bei jedem Auftrag; nennt er diese Person, ist er an seiner Station von der Liste zu nehmen.
removal-after = Was vielleicht noch jemanden nennt
removal-after-about = In diesen Einträgen steht vielleicht noch etwas von dem, was entfernt wurde. Niemand weiß mehr, was es war: sehen Sie jeden an, und kreuzen Sie an, was für immer zu leeren ist.
removal-empty = Leeren, was angekreuzt ist
removal-stay-about = Dürfen sie bleiben, wie sie sind, so wird dies nicht mehr gesagt.
removal-stay = Sie dürfen bleiben
removal-nothing = Nichts, was jemanden nennt, ist hier noch zu entfernen.
removal-left =
    { $count ->
        [one] In einem Eintrag steht vielleicht noch etwas von dem, was von diesem Auftrag entfernt wurde.
       *[other] In { $count } Einträgen steht vielleicht noch etwas von dem, was von diesem Auftrag entfernt wurde.
    }
removal-look = Ansehen
removal-again = Jetzt noch einmal versuchen
enter-intake = Sie kam herein
enter-measurement = Eine Zahl oder ein Maß
enter-found = Etwas wurde gefunden
enter-fitted = Ein Teil wurde eingesetzt
enter-oil = Öl kam daran
enter-trial-run = Sie lief zur Probe
enter-note = Eine Notiz
enter-handed-back = Sie ging zurück
enter-picture = Ein Bild
enter-sheet = Das Blatt

## Wie man sie aufzieht und stellt

wind-all = Jedes Werk mit einem Aufzugsvierkant aufziehen, behutsam bis zum Anschlag, jede Woche oder jeden Monat am selben Tag.
wind-set =
    { $waits ->
        [hours] Mit dem Minutenzeiger stellen, nur vorwärts, und bei jeder Stunde warten, bis sie geschlagen hat.
        [halves] Mit dem Minutenzeiger stellen, nur vorwärts, und bei jeder vollen und halben Stunde warten, bis sie geschlagen hat.
       *[quarters] Mit dem Minutenzeiger stellen, nur vorwärts, und bei jedem Viertel warten, bis sie geschlagen hat.
    }
wind-set-silent = Mit dem Minutenzeiger stellen, nur vorwärts.
wind-lever = der Hebel, der auf dem Rand der Schlossscheibe liegt
wind-count-wheel = Das Schlagwerk zählt für sich, mit einer Schlossscheibe. Den Minutenzeiger weiterzudrehen bringt Schlag und Zeiger nie zusammen: beide gehen um eins weiter. { wind-count-wheel-apart }
wind-count-wheel-apart =
    { $waits ->
        [hours] Schlägt sie eine andere Stunde, als die Zeiger zeigen: nur den Stundenzeiger sacht auf die Stunde schieben, die zuletzt geschlagen hat; dann den Minutenzeiger vorwärts auf die richtige Zeit führen und bei jeder Stunde warten. { wind-count-wheel-hand }
       *[halves] Schlägt sie eine andere Stunde, als die Zeiger zeigen: nur den Stundenzeiger sacht auf die Stunde schieben, die zuletzt geschlagen hat; dann den Minutenzeiger vorwärts auf die richtige Zeit führen und bei jeder vollen und halben Stunde warten. { wind-count-wheel-hand }
    }
wind-count-wheel-hand = Geht der Stundenzeiger nicht mit leichtem Druck, ihn lassen. Oder, wenn man daran kommt, ohne etwas abzunehmen ({ $lever }): den Hebel anheben und loslassen, während der Minutenzeiger weit von dort ist, wo geschlagen wird; jedes Mal schlägt sie das Nächste. So oft, bis sie die Stunde geschlagen hat, die die Zeiger zeigen. Geht beides nicht, fragen.
wind-half = Schlägt sie zur halben Stunde die volle und zur vollen eins: einmal ebenso anheben und schlagen lassen ({ $lever }).
wind-bells = Die Glasen zählen für sich. Schlägt sie andere, als dran sind, und kommt man daran, ohne etwas abzunehmen ({ $lever }): den Hebel anheben und loslassen, während der Minutenzeiger weit von der vollen und der halben Stunde ist; jedes Mal schlägt sie das Nächste. So oft, bis sie die geschlagen hat, die dran sind: acht um vier, um acht und um zwölf. Kommt man nicht daran, fragen.
wind-rack = Das Schlagwerk liest die Stunde vom Rad hinter dem Stundenzeiger ab. Schlägt sie eine andere, als die Zeiger zeigen, hat sich der Stundenzeiger verschoben: wenn der Minutenzeiger gerade über die volle Stunde ist, nur den Stundenzeiger sacht auf die geschlagene Stunde schieben. Geht er nicht mit leichtem Druck, ihn lassen und fragen.
wind-chime-rights = Stimmen die Viertel nicht, nichts tun: sie stellen sich in ein bis zwei Stunden von selbst richtig und schweigen vielleicht so lange.
wind-chime = Stimmen die Viertel nicht, dafür nicht die Zeiger bewegen: den Hebel des Viertelschlags anheben, wenn man daran kommt, ohne etwas abzunehmen, und schlagen lassen, bis das Viertel geschlagen hat, das der Minutenzeiger zuletzt überschritten hat. Kommt man nicht daran, fragen.
wind-back = Den Minutenzeiger nie zurückdrehen: das kann verbiegen, was den Schlag auslöst.
wind-rate = Hat sie ein Pendel und geht vor, die Linse mit der Mutter darunter ein wenig senken; geht sie nach, heben.

## Abgelehnt

refused-does-not-fit = Damit passt das Werk nicht zusammen: { $typed }. Noch einmal zählen oder messen; es wurde nichts eingetragen.
refused-read-twice = { $what }: auf zwei Arten zugleich gesagt, mit Bild oder Zahl und in Vierteln. Eine davon weglassen.
refused-unread = Noch ist nichts abgelesen: wenigstens eine Lupe so einstellen, wie Sie es sehen, oder ein Bild wählen.
refused-busy = Das wird gerade ausgerechnet, oder etwas anderes, das seine Zeit braucht. Die Seite fragt gleich noch einmal.
refused-broke-off = Was geschickt wurde, brach unterwegs ab oder ist kein Formular dieser Seite. Nichts wurde eingetragen; noch einmal schicken.
refused-full = Das Protokoll dieses Auftrags ist voll: Es fasst höchstens { $most } Megabyte. Nichts wurde eingetragen, und alles, was darin steht, bleibt. Um weiterzumachen, die Uhr als neuen Auftrag aufnehmen.
refused-long = { $field }: { $got } Zeichen sind mehr als die { $most }, die angenommen werden. Nichts wurde eingetragen.
clock-odd = Die Uhr dieses Rechners sagt { $day }: stellen, denn danach werden Einträge datiert.
refused-behind = Das Protokoll ist weitergegangen, seit diese Seite gezeichnet wurde, vielleicht aus einem anderen Fenster. So steht es jetzt; nichts wurde eingetragen.
refused-foreign = Abgelehnt: diese Seite antwortet nur sich selbst.
refused-nothing = Hier ist nichts.

why-no-equals = in der Ablesung { $written } fehlt `=`; erwartet wird ZEUGE=GRAD, etwa `slot=-1.2` oder `slot=-1.2~0.1`
why-unknown-witness = die Ablesung { $written } nennt { $got }, und das ist kein Zeuge dieses Blatts; { $hint }
why-unreadable = die Ablesung { $written } hat { $got } nach `=`; erwartet werden Grad (`-1.2`), ein Aussehen (`in`, `edge-short`, `edge-ahead`, `rim`), Zähne (`-2teeth:second.wheel`) oder eine Stunde (`7:30oclock`)
why-bad-spread = die Ablesung { $written } hat { $got } nach `~`; erwartet wird eine einfache Dezimalzahl, eine Standardabweichung in Grad
why-unknown-part = die Ablesung { $written } zählt Zähne von { $got }; erwartet wird ein Teil dieses Blatts, WELLE.TEIL
why-bad-hour = die Ablesung { $written } hat { $got }; erwartet wird eine Stunde des Zifferblatts, etwa `4oclock` oder `7:30oclock`
why-spread = die Ablesung { $written } hat eine Streuung von { $got }°; erwartet wird mehr als 0 und weniger als { $most }°, ein Viertel des Wegs zum nächsten Ort
why-no-look = die Ablesung { $written } sagt, wie es aussieht, aber das Blatt hat dafür kein `slot_deg` und `tip_deg`; in Grad sagen
why-no-hour = die Ablesung { $written } sagt eine Stunde, aber das Blatt hat dafür kein `arm_oclock`; in Grad sagen
why-no-teeth = die Ablesung { $written } zählt Zähne, aber auf der Welle sitzt kein verzahntes Teil; eines nennen, wie in `-2teeth:second.wheel`
why-other-train = die Ablesung { $written } zählt Zähne von { $part }, und das ist in einem anderen Laufwerk
why-no-notch = die Ablesung { $written } sagt, wie weit die Spitze in ihrer Kerbe ist; das sagt nur, wie weit das, was sperrt, noch hatte, und nur in Ruhe
why-at-its-arm = die Ablesung { $written } ist von dem, was sperrt, und das steht in Ruhe an seinem Arm, was auch falsch ist; sagen, wie weit die Hebelspitze in ihre Kerbe gelaufen ist, wie in `pin=9.5notch`, oder beim Einfallen ablesen
why-not-at-rest = die Ablesung { $written } ist in Ruhe, und das Blatt sagt nicht, was dort sperrt, oder hat dafür keinen Zeugen; beim Einfallen ablesen
why-too-coarse = die Ablesung { $written } ist so nur auf { $spread }° genau, und die Orte liegen so nah beieinander, dass { $most } nötig ist; in Grad sagen
why-of-entry = { $witness } (Eintrag { $n })
why-read-twice = { $id } ist zweimal abgelesen; erwartet wird jeder Zeuge einmal in einem Blick
why-nothing-read = keine Ablesung; erwartet wird wenigstens eine von { $all }
why-no-window = { $written }: { $id } hat auf dem Blatt kein `window_deg`, darum lässt sich nicht beurteilen, wie es steht; tragen Sie eines ein
why-no-windows = für { $all } ist kein `window_deg` eingetragen: was davon abhängt, lässt sich nicht raten; tragen Sie eines ein
why-windows-wrong =
    für { $all } ist kein `window_deg` eingetragen, und aus den Hebeln folgt keines: wie das Blatt sie hat, schlägt es nicht richtig{ $at ->
        [none] {""}
       *[some] {" "}um { $at }
    } ({ $point }); `trundle strike` sagt alles dazu
why-windows-edge = für { $all } ist kein `window_deg` eingetragen, und aus den Hebeln folgt keines: wie das Blatt es hat, steht { $witness } auf einer Kante; `trundle strike` sagt, wie knapp alles ist
why-windows-together = für { $all } ist kein `window_deg` eingetragen, und aus den Hebeln folgt keines: wie das Blatt sie hat, haben { $witnesses } zusammen keinen Spielraum; `trundle strike` sagt, wie knapp alles ist
why-windows-long = für { $all } ist kein `window_deg` eingetragen, und es aus den Hebeln auszurechnen dauert zu lange; tragen Sie eines ein
why-windows-unfit = für { $all } ist kein `window_deg` eingetragen, und aus den Hebeln folgt keines: { $why }
why-no-witness = keine Ablesung; das Blatt hat keinen Zeugen, der abzulesen wäre
why-unknown-arbor = { $got } ist keine Welle dieses Blatts; { $hint }
hint-meant = ist { $near } gemeint?
hint-has = das Blatt hat { $all }
hint-no-witness = das Blatt hat keinen Zeugen

why-too-many-places = die Räder dieses Laufwerks können auf mehr als { $most } Arten ineinandergreifen, zu viele, um sie von Blick zu Blick zu verfolgen{ $asked ->
    [option] ; ein einzelner Blick wird ohne Protokoll beantwortet (`trundle remesh SHEET --saw …`)
   *[field] {""}
  }
why-count-again = so wie gezählt kann dieses Laufwerk nicht aufgehen: noch einmal zählen. Seine Räder könnten auf mehr als { $most } Arten ineinandergreifen, zu viele, um sie von Blick zu Blick zu verfolgen
why-nothing-advised = jetzt wird kein Versatz geraten, also kann keiner wie gesagt getan sein; mit `--did DRIVER:DRIVEN=TEETH` sagen, was getan wurde
why-no-shift = im Protokoll steht noch kein Versatz, der andersherum gegangen sein könnte
why-not-as-it-stood = seit Eintrag { $n } steht es nicht mehr, wie es kam (entspannt, zerlegt oder etwas bewegt); was jetzt zu sehen ist, ist ein Blick in Ruhe
why-nothing-to-undo = im Protokoll steht nichts, was zurückzunehmen wäre
why-no-entry = einen Eintrag { $n } gibt es im Protokoll nicht, es hat { $all }
why-no-such-shift =
    { $all ->
        [1] einen Versatz { $n } gibt es nicht: es war nur einer
       *[other] einen Versatz { $n } gibt es nicht: sie hatten die Nummern 1 bis { $all }
    }
why-not-out = die Welle { $arbor } ist eingesetzt; erwartet wird eine, die herausgenommen wurde
why-bad-mesh = { $written } ist kein Eingriff mit Zähnen; erwartet wird DRIVER:DRIVEN=TEETH, die Zähne eine ganze Zahl außer 0, der Eingriff einer von { $all }
why-degrees-only = { $written } ist nicht zu lesen; erwartet wird ZEUGE=GRAD oder ZEUGE=GRAD~STREUUNG in einfachen Dezimalzahlen
why-other-sheet = das Protokoll gehört zu einem anderen Blatt, { $log }, oder dieses, { $sheet }, wurde seither geändert: erwartet wird das Blatt, mit dem es begann
why-sheet-changed = das Blatt wurde geändert, seit das Protokoll ihm folgte. { $changes } Erwartet wird das Blatt, mit dem das Protokoll begann, oder ein Protokoll, das mit diesem begann

recall-unknown-kind = Eintrag { $n } des Protokolls ist von einer Art { $kind }, die dieses Programm nicht kennt; was er sagt, kann wichtig sein, also wird nichts gesagt; ein neueres Programm kennt sie vielleicht
recall-unknown-name = Eintrag { $n } des Protokolls nennt { $name }, und das steht nicht auf diesem Blatt
recall-on-a-loop = Eintrag { $n } des Protokolls versetzt { $mesh }, was einen Kreis schließt und nicht allein versetzt werden kann
recall-arbor-out = Eintrag { $n } liest { $witness } ab, während die Welle { $arbor } draußen ist; erwartet wird ein Zeuge, dessen Wellen eingesetzt sind
recall-long-slot = Eintrag { $n } liest { $witness } ab, nachdem { $hour } geschlagen wurde: der Hebel liegt dann im langen Schlitz für zwölf und eins, dessen Mitte woanders ist; bis zwei weiterschlagen lassen oder die anderen ablesen

fault-of-log = { $place } { $what }
fault-place = das Protokoll
fault-place-line = das Protokoll, Zeile { $line },
fault-place-column = das Protokoll, Zeile { $line }, Spalte { $column },
fault-place-field = das Protokoll, Zeile { $line }, Spalte { $column }, { $field }
fault-too-long = hat { $bytes } Bytes; erwartet werden höchstens { $most }: ist das die richtige Datei?
fault-empty = ist leer; erwartet wird eine erste Zeile, die ihr Blatt nennt
fault-no-header = beginnt nicht wie ein Protokoll; ist das die richtige Datei?
fault-header-torn = bricht in der ersten Zeile ab: nie wurde etwas eingetragen; die Datei entfernen und neu beginnen
fault-other-version = ist von der Fassung { $got }; erwartet wird 1; ein neueres Programm hat es geschrieben
fault-not-utf8 = ist von hier an kein UTF-8; erwartet wird Text, wie dieses Programm ihn schreibt
fault-not-json = ist von hier an kein JSON; erwartet wird eine Zeile, wie dieses Programm sie schreibt
fault-blank = ist leer; erwartet wird ein Eintrag in jeder Zeile
fault-not-an-object = ist kein Objekt; erwartet wird ein Eintrag in geschweiften Klammern
fault-missing = fehlt; erwartet wird es in einem Eintrag dieser Art
fault-not-seen = sagt nichts, was gesehen wurde; erwartet wird `deg`, `look`, `teeth` mit `of`, oder `oclock` mit `from`
fault-stray = gehört nicht in einen Eintrag dieser Art und könnte wichtig sein; erwartet wird nur, was diese Art hat
fault-doubled = steht zweimal da; erwartet wird es einmal
fault-wrong = ist { $got }; erwartet wird { $expected }
fault-twice = nennt { $name } zweimal; erwartet wird jeder einmal in einem Eintrag
fault-out-of-order = hat die Nummer { $got }; erwartet wird { $expected }: wurde eine Zeile von Hand entfernt, verdoppelt oder verschoben?
fault-points-nowhere = ist { $of } in Eintrag { $n }; erwartet wird ein früherer Eintrag
fault-not-corrected = stellt Eintrag { $of } nicht richtig; erwartet wird dieselbe Art, und eine, die nicht ohnehin neu gesagt wird
fault-not-emptied = nennt { $field } von Eintrag { $of }; erwartet wird ein Feld, das da war und geleert ist
fault-not-undone = ist { $of }, eine Löschung; was gelöscht ist, kommt nicht wieder
fault-not-in-shift = ist { $mesh }, und dieser Eingriff wurde in Eintrag { $of } nicht versetzt; erwartet wird einer der Eingriffe dieses Versatzes
fault-not-a-shift = ist { $of }, und das ist kein Versatz; erwartet wird die Nummer eines Versatzes
expected-text = Text
expected-decimal = eine einfache Dezimalzahl in Anführungszeichen
expected-spread = eine einfache Dezimalzahl über 0 in Anführungszeichen
expected-oclock = ein Ort auf dem Zifferblatt, etwa `"7:30"`
expected-count = eine ganze Zahl ab 0
expected-hour = eine Stunde von 1 bis 12
expected-hours = beobachtete Stunden, eine ganze Zahl über 0
expected-teeth = eine ganze Zahl von Zähnen außer 0
expected-day = ein Tag wie `"2026-03-01"`
expected-digest = der Name eines Bildes, 64 kleine hexadezimale Ziffern
expected-names = eine Liste mit Wörtern darin
expected-list = eine Liste mit etwas darin
expected-object = ein Objekt in geschweiften Klammern

## Was außen schiefgehen kann

trouble-folder = der Ordner { $path } für das Werkbuch lässt sich nicht anlegen: { $detail }
trouble-is-folder = { $path } ist ein Ordner; erwartet wird eine Datei, oder ein Name für eine neue
trouble-not-there = bei { $path } ist kein Buch; sagen Sie mit `--book PATH`, wo es ist
trouble-gone-backed-up = bei { $path } ist kein Werkbuch, aber seine Sicherungen sind da: es wurde entfernt, umbenannt oder geleert. Ein neues wurde nicht angelegt. Liegt es anderswo, legen Sie es zurück; oder holen Sie die letzte Sicherung zurück: `trundle book --book "{ $path }" restore "{ $backup }"`
trouble-gone = bei { $path } ist kein Werkbuch, aber, was zu einem gehörte: { $left }. Es wurde entfernt, umbenannt oder geleert, und ein neues wurde nicht angelegt. Legen Sie es zurück; oder räumen Sie, um neu zu beginnen, dies zuerst anderswohin
trouble-not-its-own = neben dem Werkbuch { $path } liegt { $beside }, das zu einem anderen Buch gehört oder zu einem anderen Tag von diesem. Keines wurde angerührt. Haben Sie dieses Buch aus einer Kopie hierher gelegt, räumen Sie { $beside } anderswohin und öffnen Sie es noch einmal
trouble-no-plain-file = { $what } ist keine gewöhnliche Datei, sondern ein Ordner, eine Röhre oder ein Gerät, und unter diesem Namen hat das Werkbuch { $path } eine eigene Datei. Nichts wurde angerührt. Schieben Sie es anderswohin und tun Sie dies noch einmal
trouble-other-names = mehrere Namen führen zu der Datei { $path } (harte Verknüpfungen), so könnten zwei Werkbänke darin arbeiten, ohne voneinander zu wissen. Sie wurde nicht angerührt. Behalten Sie einen Namen, oder machen Sie eine Kopie
trouble-went-away = { $what } ist nicht mehr da, wo es beim Öffnen des Buches war, darum wird nichts geschrieben: es wurde verschoben, umbenannt oder entfernt. Was vorher eingetragen wurde, steht darin; was Sie jetzt getippt haben, noch nicht. Legen Sie es zurück und tun Sie dies noch einmal; oder schließen Sie die Werkbank und öffnen Sie sie wieder, sie sagt dann, was da ist
trouble-replaced = an der Stelle von { $what } liegt etwas anderes als beim Öffnen des Buches, darum wird nichts geschrieben. Was Sie jetzt getippt haben, steht in keinem von beiden. Legen Sie zurück, was da war, und tun Sie dies noch einmal; oder schließen Sie die Werkbank und öffnen Sie sie wieder
trouble-cut = { $what } wurde geleert, während das Buch offen war, darum wird nichts geschrieben. Was Sie jetzt getippt haben, steht nicht darin. Schließen Sie die Werkbank; öffnen Sie sie wieder, sagt sie, welche Sicherung zurückzuholen ist
trouble-written-over = über { $what } wurde eine andere Kopie geschrieben, während das Buch offen war, darum wird nichts mehr geschrieben. Was Sie jetzt getippt haben, steht nicht darin, und was Sie vorher eingetragen haben, vielleicht nur noch in den Sicherungen. Schließen Sie die Werkbank und legen Sie das Buch, das Sie haben wollen, an diese Stelle: die Kopie, die jetzt da liegt, oder die letzte Sicherung, an einen anderen Ort zurückgeholt
trouble-open = das Werkbuch { $path } lässt sich nicht öffnen: { $detail }
trouble-read-only = das Werkbuch { $path } lässt sich lesen, aber nicht schreiben ({ $detail }); mit `--book PATH` einen Ordner wählen, in den Sie schreiben dürfen
trouble-full = auf der Platte ist kein Platz mehr für { $path }; Platz schaffen und noch einmal tun: was vorher eingetragen wurde, ist aufgehoben
trouble-no-book = { $path } ist kein Werkbuch ({ $detail }); es wurde nicht angerührt
trouble-newer = das Werkbuch { $path } wurde von einer neueren Fassung dieses Programms geschrieben (Form { $version }); es wurde nicht angerührt
trouble-damaged = das Werkbuch { $path } ist beschädigt ({ $detail }); lassen Sie es, wie es ist, und holen Sie die letzte Sicherung an einen anderen Ort zurück
trouble-busy = ein anderes Programm schreibt ständig in das Werkbuch { $path } ({ $detail }); warten Sie darauf oder schließen Sie es, und tun Sie dies noch einmal
trouble-no-job = diese Arbeit gibt es in diesem Werkbuch nicht
trouble-other = { $path } weigert sich: { $detail }
trouble-no-picture = das ist kein Bild, das behalten werden kann ({ $detail }); erwartet wird eine Datei als JPEG, PNG oder WebP
trouble-large-picture = dieses Bild ist zu groß; erwartet werden höchstens 40 MB und 50 Millionen Punkte
trouble-picture-unknown = ein solches Bild gibt es in diesem Buch nicht
trouble-picture-lost = das Bild { $path } ist nicht zu lesen ({ $detail }); `trundle book verify` sagt, was sonst noch fehlt, und eine Sicherung hat es vielleicht
trouble-already = { $path } ist schon da, und nichts wird je überschrieben; wählen Sie einen anderen Ort
trouble-no-backup = { $path } ist keine Sicherung eines Werkbuchs ({ $detail }); nichts wurde zurückgeholt
trouble-half-backup = { $path } ist nur eine halbe Sicherung ({ $detail }); wählen Sie eine andere; nichts wurde zurückgeholt
trouble-no-export = { $path } ist keine Ausfuhr eines Werkbuchs ({ $detail }); nichts wurde eingelesen
trouble-not-swept = was entfernt oder abgebrochen wurde, ist aus dem Buch fort, aber noch nicht aus allem daneben; mit der nächsten Sicherung wird es wieder versucht. Was sich sperrt: { $each }
trouble-not-gone = { $path } lässt sich nicht entfernen ({ $detail }); entfernen Sie es von Hand
trouble-resists-all = im Ordner der Sicherungen { $backup } konnte nichts geleert werden, denn er ist nicht zu lesen ({ $detail }); lassen Sie, wer dies ausführt, dort lesen und schreiben
trouble-resists-unread = in der Sicherung { $backup } konnte nichts geleert werden, denn sie ist nicht zu lesen ({ $detail }); lassen Sie, wer dies ausführt, dort lesen und schreiben. Steht sie danach immer noch hier und enthält vielleicht, was entfernt wurde, werfen Sie diesen Ordner weg
trouble-resists-read-only = in der Sicherung { $backup } konnte nichts geleert werden, denn dort lässt sich nicht schreiben ({ $detail }); lassen Sie, wer dies ausführt, dort schreiben. Steht sie danach immer noch hier und enthält vielleicht, was entfernt wurde, werfen Sie diesen Ordner weg
trouble-resists-damaged = in der Sicherung { $backup } lässt sich nichts leeren, denn sie ist beschädigt ({ $detail }), und auch kein Buch aus ihr zurückholen; werfen Sie diesen Ordner weg
trouble-resists-other = die Sicherung { $backup } lässt sich nicht durchgehen: { $why }. Enthält sie vielleicht, was entfernt wurde, werfen Sie diesen Ordner weg
trouble-not-known = die Sicherung { $backup } war nicht durchzugehen, als etwas entfernt wurde; jetzt kann in ihr nichts mehr geleert werden. Steht vielleicht darin, was entfernt wurde, werfen Sie diesen Ordner weg
trouble-other-lines =
    was zu entfernen war, ist fort; doch { $count ->
        [one] die Sicherung { $backups } hat an einigen dieser Stellen andere Einträge: sie ist von einem anderen Buch, oder von Tagen, die dieses nicht mehr hat. Sie blieb, wie sie ist, unter diesem Namen. Steht auch darin, was entfernt werden sollte, werfen Sie diesen Ordner weg
       *[other] die Sicherungen { $backups } haben an einigen dieser Stellen andere Einträge: sie sind von einem anderen Buch, oder von Tagen, die dieses nicht mehr hat. Sie blieben, wie sie sind, unter diesen Namen. Steht auch darin, was entfernt werden sollte, werfen Sie diese Ordner weg
    }
trouble-altered = das Buch { $path } wurde anders als an dieser Werkbank verändert: `trundle book verify` sagt, welche Einträge. Die heutige Sicherung ist gemacht, und keine ältere wird entfernt; was vorher dort stand, ist in einer von ihnen
trouble-torn = was einzutragen war, bricht mitten in einer Zeile ab; nichts davon wurde eingetragen

## Was der Rechner verweigert

machine-not-there = es ist nicht da
machine-may-not = wer dies aufruft, darf es nicht
machine-read-only = worauf es liegt, lässt sich nur lesen
machine-full = es ist kein Platz mehr
machine-folder = dort ist ein Ordner
machine-no-folder = auf dem Weg dorthin ist etwas, das kein Ordner ist
machine-there-already = dort ist schon etwas
machine-not-empty = der Ordner ist nicht leer
machine-no-plain-file = es ist keine gewöhnliche Datei
machine-name = dort kann keine Datei so heißen
machine-not-as-expected = es ist größer, als es sein darf, oder kein Text
machine-cut = es bricht ab
machine-nobody-reads = niemand liest es mehr
machine-in-use = ein anderes Programm hat es
machine-too-slow = es hat zu lange gedauert
machine-memory = es ist zu wenig Speicher da
machine-else = der Rechner weigert sich: { $said }
store-open = seine Dateien lassen sich dort nicht öffnen oder anlegen
store-none = es hat nicht die Form eines Werkbuchs
store-pages = seine Seiten passen nicht zusammen
store-disk = die Platte lässt sich nicht lesen oder beschreiben
store-else = der Speicher des Werkbuchs weigert sich: { $said }
form-cut = es bricht ab
form-odd = es ist nicht so, wie dieses Programm es schreibt
detail-within = { $name }: { $said }

## Ein Laufwerk, das nicht aufgeht

again-each = { $of }: { $places } auf eine Umdrehung der Welle { $on } verlangen { $wanted } Umdrehungen der Welle { $per }; { $way } ergibt { $given }: noch einmal zählen
again-back =
    { $of }: ein Schlag dreht die Welle { $on } { $given } Mal und muss sie zurückbringen auf { $places ->
        [1] dieselbe Stelle
       *[other] eine von { $places } gleichen Stellen
    }; { $way }: noch einmal zählen
again-seconds = die Sekunden je Umdrehung verlangen { $wanted } Umdrehungen der Welle { $per } auf eine der Welle { $on }; { $way } ergibt { $given }: noch einmal zählen
again-beats = das Laufwerk verlangt an der Welle { $on } { $train } Schläge in der Stunde, ein Pendel von der Länge auf dem Blatt schlägt etwa { $pendulum }: noch einmal zählen oder das Pendel noch einmal messen
again-miscount = { $of } hat { $would } und nicht { $written }
again-likely =
    Ein Zählfehler um eins oder zwei würde es erklären: { $all }{ $left ->
        [0] {""}
       *[other] {", "}und { $left } weitere sind ebenso möglich
    }. Zählen Sie zuerst nach, was zuerst genannt ist.
again-none =
    Kein einzelner Zählfehler um eins oder zwei würde es erklären: mehr als eine Zahl ist falsch, oder eine um mehr{ $measured ->
        [yes] ; oder was gestoppt oder gemessen wurde, ein `turn_s` oder das Pendel.
       *[no] .
    }

## Wie sie schlägt, und was gefragt wird

# Wörter des Handwerks: aus dem Gedächtnis.
kind-name =
    { $kind ->
        [count-wheel-and-cam] Schlossscheibe, Herzscheibe und Stifte
        [count-wheel-outside] Schlossscheibe außen auf der Platine, ohne Herzscheibe
        [rack] Rechen und Staffel
        [quarters] Viertel auf Glocken, die Stunde mit Rechen
        [ships-bell] Schiffsglocke
        [tower] Turmuhr, die Schlossscheibe vom Walzenrad getrieben
       *[other] {""}
    }
kind-asks =
    { $question ->
        [halves] Was schlägt sie zur halben Stunde?
        [lifting_wheel] Welches Rad hebt den Hammer?
        [lifters] Wie viele Stifte oder Sternspitzen heben den Hammer?
        [cam_arbor] Auf welcher Welle sitzt die Herzscheibe?
        [notches] Wie viele Einschnitte hat die Herzscheibe?
        [stopped_by] Wenn sie geschlagen hat, was hält sie an?
        [locking_wheel] Welches Rad trägt den Stift, der angehalten wird?
        [warned_at] Welchen Stift fängt der Anlauf?
        [warning_wheel] Welches Rad trägt den Anlaufstift?
        [count_moved] Wie wird die Schlossscheibe bewegt?
        [count_wheel_on] Auf welcher Welle sitzt die Schlossscheibe?
        [count_held] Wie ist die Schlossscheibe auf ihrer Welle befestigt?
        [drum_held] Wie ist die Walze, die die Viertel spielt, auf ihrer Welle befestigt?
        [count_turns] Wie lange braucht die Schlossscheibe zu einer Umdrehung?
        [runs] Wie herum läuft das große Rad, wenn man darauf sieht?
        [lever] Ist der Einfallhebel weicher Draht oder gehärtet?
        [as_it_came] Hat sie jede Stunde richtig geschlagen, als sie zuletzt ganz war?
        [pace] Wie schnell schlägt sie?
        [slot] Wie breit ist ein Schlitz der Schlossscheibe an seinem Grund?
        [tip] Wie dick ist der Einfallhebel dort, wo er in den Schlitz fällt, den Rand entlang?
        [blade] Wie dick ist die Klinge, die in den Schlitz fällt, den Rand entlang?
        [power] Was treibt das Schlagwerk?
        [going] Sollen auch die Räder gezählt werden, die die Zeiger treiben, das Gehwerk?
        [ring] Wie ist das große Rad verzahnt?
        [fly] Muss der Windfang frei von etwas stehen, wenn er gehalten wird?
        [locking_pins] Wie viele Stifte hat das Sperrrad?
        [voices] Was erklingt bei einem Schlag?
        [plates] Was hält die Platine, die abgehoben wird?
        [cock] Lässt ein kleiner Kloben ein Rad für sich heraus?
        [locked_by] Was sperrt das Schlagwerk?
        [at_will] Lässt es sich abstellen oder zum Wiederholen bringen?
        [pallet_arbor] Auf welcher Welle sitzt der Schöpfer?
        [pallet_held] Wie ist der Schöpfer befestigt?
        [rack_teeth] Wie viele Zähne hat der Rechen?
        [rack_tail] Gibt der Rechenschwanz nach, oder ist er starr?
        [snail] Worauf sitzt die Staffel?
        [hour_hand] Wie ist der Stundenzeiger befestigt?
        [chime] Soll das Viertelwerk aufgenommen werden?
        [correction] Stellt sich das Viertelwerk zur Stunde selbst richtig?
       *[other] {""}
    }
kind-choice =
    { $choice ->
        [halves-passing] einen Schlag, von einer Scheibe, die den Hammer selbst hebt
        [halves-halves] einen Schlag, vom Schlagwerk
        [halves-ten] einen Schlag, um halb eins und halb zwei keinen
        [halves-none] nichts
        [notches-one] einen
        [notches-two] zwei
        [stopped_by-pin] ein Stift an einem Rad, von einem Arm
        [stopped_by-notch] der Hebel, im eckigen Einschnitt der Herzscheibe
        [stopped_by-hoop] der Hebel, in der Lücke eines Reifrads
        [warned_at-same] denselben Stift
        [warned_at-other] einen anderen Stift
        [count_moved-pinion] von einem Trieb auf der Welle der Hammerstifte
        [count_moved-great] von der Welle des großen Rads
        [count_moved-pins] von einem Stift, einen Zahn je Schlag
        [count_moved-train] sie sitzt auf einer Welle des Laufwerks
        [count_held-fast] fest
        [count_held-square] auf einem Vierkant
        [count_held-friction] durch Reibung
        [count_held-screw] mit einer Schraube
        [drum_held-fast] fest
        [drum_held-friction] durch Reibung
        [drum_held-screw] mit einer Schraube
        [count_turns-half_day] zwölf Stunden
        [count_turns-day] einen Tag
        [lever-soft] weicher Draht
        [lever-hard] gehärtet
        [as_it_came-yes] ja
        [as_it_came-apart] ja, aber sie kam zerlegt
        [as_it_came-no] nein
        [power-spring] eine Feder im Federhaus
        [power-open_spring] eine offene Feder
        [power-fusee] eine Feder mit Schnecke
        [power-weight] ein Gewicht
        [going-left_out] nein, nur das Schlagwerk
        [going-there] ja, beide Werke
        [ring-outside] außen
        [ring-inside] innen in einem Ring
        [fly-free] nein
        [fly-clear] ja, von einem Draht oder Arm
        [locking_pins-one] einen
        [locking_pins-two] zwei, gegenüber
        [voices-one] ein Hammer
        [voices-two] zwei Hämmer
        [voices-bellows] ein Hammer und zwei Bälge
        [plates-pins] Stifte
        [plates-nuts] Muttern
        [plates-screws] Schrauben
        [cock-none] nein
        [cock-warning] ja, das Anlaufrad
        [cock-locking] ja, das Sperrrad
        [locked_by-tail] der Schwanz des Schöpfers, am Stift des Rechens
        [locked_by-hook] der Arm des Einfallhakens, an einem Stift
        [at_will-none] keins von beiden
        [at_will-silent] es lässt sich abstellen
        [at_will-repeat] es wiederholt auf Zug
        [at_will-both] beides
        [pallet_held-square] auf einem Vierkant
        [pallet_held-taper] auf einem Kegel, mit Stift
        [rack_tail-solid] starr
        [rack_tail-sprung] er gibt zur Seite nach
        [snail-hour_wheel] auf dem Stundenrad
        [snail-star] auf einem Stern von zwölf
        [hour_hand-square] auf einem Vierkant
        [hour_hand-pinned] mit einem Stift
        [hour_hand-friction] durch Reibung
        [chime-there] ja
        [chime-left_out] jetzt nicht
        [correction-there] ja
        [correction-none] nein
       *[other] {""}
    }
not-described-kind = { $got } ist keine Art von Schlagwerk; `trundle sheet` nennt sie
not-described-question = { $got } ist keine Frage dieser Art; `trundle sheet` nennt sie
not-described-answer = { $question } hat keine solche Antwort; `trundle sheet` nennt sie
not-described-does-not-go = diese Antwort auf { $question } passt nicht zu den anderen: was sie nennt, ist nicht da
not-described-work = wonach gefragt ist, steht nicht auf diesem Blatt
not-described-width = keine Breite, oder breiter als das Rad; erwartet BREIT/DURCHMESSER, etwa `1.2mm/48mm`
not-described-part = { $got } ist kein Teil der Welle { $arbor }; { $hint }
not-described-arbor = { $got } ist keine Welle dieses Blatts; { $hint }
not-described-mesh = kein Eingriff von { $driver } und { $driven } auf diesem Blatt
not-described-table = { $id } ist nicht auf diesem Blatt
not-described-taken = { $name } gibt es schon
not-described-name = { $got } ist kein Name; erwartet kleine Buchstaben, Ziffern und `_`, ein Buchstabe zuerst
not-described-key = { $got } ist dort kein Schlüssel; { $hint }
not-described-carries = { $name } kann nicht fort: { $carries } sitzt darauf oder greift hinein
not-described-list = siehe `trundle keys`
not-set = { $written } kann nicht gesetzt werden; erwartet ORT=WERT, etwa `second.wheel=72`, `second.wheel=72?`, `third.pinion=lantern`, `track.slots.slot_deg=2.8` oder, bei einer Frage, `halves=none`

## Was an einem Blatt auffällt

odd-heading =
    { $count ->
        [1] Auf dem Blatt fällt eines auf, und ist genommen, wie es dasteht
       *[other] Auf dem Blatt fallen { $count } Dinge auf, und sind genommen, wie sie dastehen
    }
odd-at = Zeile { $line }: { $what }
odd-meant = ; ist { $near } gemeint?
odd-unread = { $key } wird als Maß aufgehoben, und nichts liest es hier
sheet-many-keys = { $count } Schlüssel in einer Tabelle
sheet-many-keys-expected = höchstens { $most }; die weiteren werden nicht gelesen
odd-unmeshed =
    { $key } wurde für ein gezahntes Teil{ $teeth ->
        [0] {""}
       *[other] {" "}mit { $teeth } Zähnen
    } gehalten, und nichts greift in { $part } ein
odd-unmeshed-why = ; ein `[[mesh]]` fehlt, oder es ist ein Maß, dessen Schlüssel auf seine Einheit endet
odd-no-part = { $key } ist die Größe eines Teils { $part }, und auf dieser Welle ist keines
odd-unusual =
    { $got } für { $key }, genommen, wie es dasteht; üblich ist { $least } bis { $most }{ $unit ->
        [mm] {" "}mm
        [um] {" "}µm
        [deg] °
        [g] {" "}g
        [n] {" "}N
        [nm] {" "}N m
        [turns] {" "}Umdrehungen
        [s] {" "}s
        [teeth] {" "}Zähne
       *[none] {""}
    }: ein Komma, eine Ziffer oder die Einheit kann falsch sein
odd-not-whole = ein Schlag rückt { $witness } um { $blow } weiter, { $places } seiner Stellen von { $period }: keine ganze Zahl, so kann es nicht bei jedem Schlag dasselbe zeigen; die Zähne noch einmal zählen
odd-no-window = { $witness } hat kein `window_deg`, so wird nichts dazu gesagt, wo es steht, und keine Hebel auf dem Blatt sagen, wie es schlägt
odd-doubtful = { $part } ist zweifelhaft und wird als { $teeth } genommen
odd-wider = das Fenster von { $witness } ist { $from } bis { $to }, aber Schlitz und Spitze lassen nur { $least } bis { $most } zu: { $all } Spiel im Ganzen

## Kästchen für das, was gemessen wird

box-heading = Was gemessen wird
box-how = Trage ein, was du hast; lass den Rest. Eine Einheit darf dabeistehen: mm, cm, in, g, kg, oz, lb, °. Brüche auch (2 3/16 in, ¼"), und mehrere Messungen einer Sache mit einem Leerzeichen dazwischen (2,51 2,53 2,50): es gilt ihr Mittel.
box-arbor = Die Welle { $arbor }
box-mesh = { $driver } in { $driven }
# $part ist leer, außer bei einem von mehreren Teilen.
box-thing =
    { $thing ->
        [spring_width] Breite der Feder
        [spring_thick] Dicke der Feder
        [spring_long] Länge der Feder, ausgelegt
        [spring_arbor] Federkern, Durchmesser
        [spring_opens] Offene Feder abgelaufen, Durchmesser
        [barrel_inside] Federhaus innen, Durchmesser
        [barrel_high] Federhaus innen, Höhe
        [winding_turns] Umdrehungen des Schlüssels, abgelaufen bis aufgezogen
        [weight] Gewicht
        [drum] Walze, Durchmesser
        [cord] Seil, Dicke
        [double_cord] Seil über einer Rolle, Dicke
        [fall] Fallhöhe des Gewichts
        [pendulum] Vom Knick der Aufhängung bis zur Mitte der Linse
        [pendulum_half_arc] Ausschlag nach einer Seite
        [pendulum_bob] Linse und Stange zusammen
        [pendulum_nut] Eine Umdrehung der Reguliermutter hebt die Linse um (oder Gänge auf den Zoll: 40 tpi)
        [suspension] Aufhängefeder, frei von Backe zu Backe
        [suspension_wide] Breite der Aufhängefeder, alle Bänder zusammen
        [suspension_thick] Dicke der Aufhängefeder, ein Band
        [pivot] Zapfen, Durchmesser
        [hole] Sein Loch, Durchmesser
        [centre] Von Mitte zu Mitte
        [lash] Spiel des getriebenen Teils, in Teilen eines Zahns
       *[outside] { $part } über die Zähne
    }
box-stands = Jetzt { $amount }
box-measured = Schon gemessen
box-unknown = Weiß ich nicht
box-sure = Es ist so
box-put-in = Eintragen
box-unit-mm = In Millimetern
box-unit-in = In Zoll
box-drives = Was treibt die Welle { $arbor }?
box-drive =
    { $drive ->
        [barrel] Eine Feder im Federhaus
        [open] Eine offene Feder
        [weight] Ein Gewicht
       *[pulley] Ein Gewicht mit Rolle
    }
box-nothing = Es wurde nichts eingetragen: schreib zuerst ein Maß in ein Kästchen.
box-wrong = Es ist noch nichts eingetragen: sieh nach, was bei den Kästchen steht.
box-drawing = Von wo bis wo: { $thing }
box-not-positive = Nichts oder weniger als nichts: ein Maß ist mehr als 0.
box-absurd = Das hat keine Uhr: üblich ist { $least } bis { $most }. Ein verrutschtes Komma oder eine andere Einheit?
box-unusual = Weit vom Üblichen, { $least } bis { $most }. Wenn es so ist, sag es darunter und trage es noch einmal ein.
box-unit =
    { $wanted ->
        [length] „{ $got }“ ist keine Einheit der Länge: hierher gehört eine Länge, in mm, cm, m oder in.
        [mass] „{ $got }“ ist keine Einheit des Gewichts: hierher gehört ein Gewicht, in g, kg, oz oder lb.
        [angle] „{ $got }“ ist keine Einheit eines Winkels: hierher gehören Grad, etwa 2,5 oder 2° 30'.
       *[number] „{ $got }“: hierher gehört eine bloße Zahl.
    }
box-thousands = Das kann { $point } oder { $whole } sein: schreib es so oder so.
box-apart = Diese liegen zu weit auseinander, um Messungen einer Sache zu sein.
box-too-much = Mehr, als irgendetwas an einer Uhr hat.
box-spread = Was hinter ~ steht, ist kein Maß von 0 an.
box-unread =
    { $wanted ->
        [length] Nicht verstanden: hierher gehört eine Länge, etwa 2,51 oder 3/8 in.
        [mass] Nicht verstanden: hierher gehört ein Gewicht, etwa 250 oder 2 lb 3 oz.
        [angle] Nicht verstanden: hierher gehören Grad, etwa 2,5 oder 2° 30'.
       *[number] Nicht verstanden: hierher gehört eine Zahl, etwa 7,5.
    }
box-counts-missing = Es fehlen Zähnezahlen, und hier braucht es alle: trage sie zuerst ein.
box-no-counts = Es ist noch nichts gezählt: zähle zuerst das Laufwerk.
box-count-found = Diese Zahlen eintragen
box-not-put-in = Auf dem Blatt ist dafür kein Platz mehr: sieh die Seite noch einmal an.
