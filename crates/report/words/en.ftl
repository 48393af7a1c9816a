# English: every sentence of the pages.
#
# $usage is "british" or "american"; it is given to every message. Where the trade has two words, both stand here; where no
# source is named, they are common practice, no source. <m>…</m> marks what is to be moved, or which way.

## Lists, numbers

# a, b and c: $rest is all but the last, with commas.
list-and = { $rest } and { $last }
list-or = { $rest } or { $last }

teeth =
    { $count ->
        [1] one tooth
        [2] two teeth
        [3] three teeth
        [4] four teeth
        [5] five teeth
        [6] six teeth
        [7] seven teeth
        [8] eight teeth
        [9] nine teeth
        [10] ten teeth
        [11] eleven teeth
        [12] twelve teeth
       *[other] { $count } teeth
    }

# A chance; its spaces do not break.
odds =
    { $kind ->
        [more] more{"\u00A0"}than{"\u00A0"}99{"\u00A0"}in{"\u00A0"}100
        [hundred] { $count }{"\u00A0"}in{"\u00A0"}100
        [ten] { $count }{"\u00A0"}in{"\u00A0"}10
       *[less] less{"\u00A0"}than{"\u00A0"}1{"\u00A0"}in{"\u00A0"}100
    }

length-millimetre = { $number }{"\u00A0"}mm
length-inch = { $number }{"\u00A0"}in

## What is said in many places

plate =
    { $plate ->
        [front] front
       *[back] back
    }

way =
    { $way ->
        [clockwise] clockwise
        [counterclockwise] counterclockwise
       *[either] either way
    }

# A count of teeth that begins a sentence.
teeth-first =
    { $count ->
        [1] One tooth
        [2] Two teeth
        [3] Three teeth
        [4] Four teeth
        [5] Five teeth
        [6] Six teeth
        [7] Seven teeth
        [8] Eight teeth
        [9] Nine teeth
        [10] Ten teeth
        [11] Eleven teeth
        [12] Twelve teeth
       *[other] { $count } teeth
    }

# An arbor in a list; the first of a list that begins a sentence.
the-arbor = the { $arbor } arbor
the-arbor-first = The { $arbor } arbor

# What a button or a field is about: "great: take it out", "Leave it unread: slot", "How sure (slot)".
about = { $name }: { $what }
what-of = { $what }: { $name }
of-witness = { $what } ({ $name })

## The answer

answer-done = All is in its window, { $odds }. Close up, and prove it through the hours.
answer-count-again = All that was read is in its window, but with the counts on the sheet the train cannot come out. Count again before anything else.
answer-look = Look at { $names } before anything is opened or closed.
answer-look-again = Look again at { $names }, closer, before anything is opened or closed.
# The last reading is out, and all readings together have everything in.
answer-look-believed = The last reading of { $names } is outside its window; all that was read, taken together, has everything in, { $odds }, if no lever is bent and no part has slipped. So that last reading is held for a rough one. If it comes again and again, believe it, and not the odds: then look for what was bent or slipped since it last read in.
# After an hour at which the lever lies in the long slot.
answer-strike-on = Let it strike on to two first, or later: the lever lies in the long slot now, where { $name } cannot be read.
answer-put-in =
    { $count ->
        [one] Put the { $names } arbor in. Then look at everything afresh.
       *[other] Put these arbors in, in this order: { $names }. Then look at everything afresh.
    }
answer-part = Look for a bent lever or a slipped part first, at { $names }: likelier than a wheel that is out by some teeth, { $odds }. Bend only a soft lever, and last.
# What was read lies between two places, or stays outside by all looks, and nothing that can be shifted or turned moves it in. Common practice, no source.
answer-part-stuck = At { $names } it stands outside by what was read, and no shift puts that right. Look at what holds it on its arbor, at its spring and its lever, and whether a tooth was skipped; then look afresh.
# Nothing that can be read or moved would tell more. "Finger-tight" must stay in it.
answer-prove = Looking again would hardly tell more, and no shift does better. That all is in its window: { $odds }. Close up finger-tight, and prove the hours before any nut is tightened.
answer-prove-blind = The sheet names nothing that shows how the train stands. Close up finger-tight, and prove the hours before any nut is tightened.
answer-prove-usual = The windows are known from usual proportions alone. That all is in them: { $odds }. Close up finger-tight, and prove the hours before any nut is tightened.
# Where windows that were worked out rest on what is usual; of it one is best measured first.
windows-usual = As usual, not measured: where { $names } may stand.
windows-usual-measure = As usual, not measured: where { $names } may stand. Measured first, this would settle most: { $measure }.
figure-slot = how wide a slot of the count wheel is at its bottom
figure-notch = how wide a notch of the { $of } is at its bottom
figure-tip = how wide the { $of } is at its tip
figure-tail = how wide the rack’s tail is at its tip
# At rest a pin lies at its arm, and only its notch shows how far it had to go. "Finger-tight" must stay in it.
answer-prove-inferred = How far { $names } had to go was only inferred from the notch, at rest. That all is in its window: { $odds }. Close up finger-tight, and prove the hours before any nut is tightened; or look once more as the lever drops.
answer-no-mesh = No re-mesh cures this. Look for a bent lever or a slipped part.

shift-lift = Lift the <m>{ $arbor }</m> arbor. { teeth-first } <m>{ way }</m>, as you look at it now.
shift-free = Free the <m>{ $arbor }</m> arbor. { teeth-first } <m>{ way }</m>, as you look at it now.
shift-then-lift = Then lift the <m>{ $arbor }</m> arbor. { teeth-first } <m>{ way }</m>.
shift-then-free = Then free the <m>{ $arbor }</m> arbor. { teeth-first } <m>{ way }</m>.

# A part turned on its arbor, by what holds it there.
turn-square = Pull the <m>{ $part }</m> off its square and put it back <m>{ quarters } { way }</m>, as you look at it now.
turn-friction = Turn the <m>{ $part }</m> on its arbor against its friction: <m>{ $by } { way }</m>, as you look at it now, { $face } of a clock face.
turn-slackened = Slacken the <m>{ $part }</m>, turn it on its arbor <m>{ $by } { way }</m>, as you look at it now, { $face } of a clock face, and make it fast.
clock-face =
    { $unit ->
        [hours] { $count } hours
        [minute] { $count } minute
       *[minutes] { $count } minutes
    }
quarters =
    { $count ->
        [1] a quarter of a turn
        [2] half a turn
       *[other] three quarters of a turn
    }
# At its arrow on the drawing.
turned-by =
    { $count ->
        [1] a quarter
        [2] half a turn
       *[other] three quarters
    }
turn-teeth-stay = Its teeth stay where they mesh; what carries { $names } goes.
turn-rest-goes = Its teeth stay where they mesh; the rest of its arbor goes, with what that meshes with.
turn-arbor-stays = Hold the rest of its arbor still; the { $part } goes, and what it meshes with.
turn-marks-go = Hold the wheels of its arbor still; the { $part } alone goes.
turn-moves = By that { $moves }.
turn-half-place = { $name } goes half a place, which no tooth gives it by itself
turn-by =
    { $side ->
        [back] { $name } goes back by { $by }
       *[ahead] { $name } goes on by { $by }
    }
# Common practice, no source.
turn-count-hands = The strike then counts on from another hour than the hands show. Once it is closed up, push the hour hand alone round to the hour that it struck last; then move the minute hand forward to the right time, and wait at each hour and half. Or lift the count lever and let it strike round until both agree.
turn-no-plates = No plates are spread for it.
levers-soft = By the sheet these are soft, and may be bent, last: { $levers }.
levers-hardened = By the sheet these are hardened or cast, and break if they are bent: { $levers }.
moved-by-pins = { $names } cannot be between two places by any tooth: pins move it on, a place each. Look at its friction spring, at the lever, and whether it skipped a place.

question-at-rest = It is locked, and pressed lightly on. What do you see?
question-first = Press the train on to the drop. What do you see?
question-after = Press it on to the drop again. What do you see now?
question-locks = When it has struck, what stops it: a pin on a wheel against an arm, or a lever in a notch? Nothing on the sheet shows yet whether the train is in time: put in what shows it.
question-nothing = Nothing can be read yet. Put the arbors in.
question-no-windows = As it was described it would not strike right, so where things may stand cannot be told. Look through what it carries, its counts and what was measured.
question-nothing-wrong = Nothing can be read by these counts: with them the train cannot come out. Count again first.

# One of several shifts: its number before its sentence, and how a finding names it.
nth = { $n }.
shift-of = shift { $n } ({ $arbor } arbor, { $mesh })

hold-still = Hold the { $arbor } arbor still.
hold-keep = Keep { $arbors } in mesh with the { $arbor }.
loose-free = { $arbors } may come out of mesh: nothing is read beyond.
loose-outside = It sits outside: no plate is spread for it.
loose-cock = A small cock lets one wheel out alone: the plates stay together.
other-hand = Or hold the { $far } and turn the { $near } { teeth } { way }: the same shift.

after-all = Then all should be in its window: { $odds }.
after = Then { $stand }: { $odds }.
expected-told = After that, { $stand }: dotted.
expected = If it went as said, { $stand }: dotted.
stand-best = { $name } stands at its best
stand-best-all = { $names } stand at their best
stand-look = { $name } stands { $look }
in-window-now = All in its window as it stands: { $odds }.
in-window-sound = All in its window as it stands, if no lever is bent and no part has slipped: { $odds }.

finding-other-way = What you see fits { $mesh } having gone the other way, { $odds }.
finding-slipped = What you see fits { $mesh } having slipped a tooth, { $odds }.
finding-another-drop = So a sound train stands at another drop than the one that is meant: let it run on, { $more ->
        [one] one turn
       *[other] { $more } turns
    } of the { $arbor } arbor, and look again there before anything is moved.
finding-bent = No meshing of a sound movement shows { $witness } so: a bent lever or a slipped part there, { $odds }. Look for it first.
far-off =
    { $name } was read as { $said }, { $off ->
        [turn] more than a turn of its arbor
       *[places] more than two of its places off
    }, and was taken as { $place }: look at it again, a point or a figure may have slipped.

## How a witness looks

look-rim-short = short, on the rim
look-edge-short = short, on the edge
look-short = short
look-little-short = a little short
look-in-short = in, short of its best
look-best = in, at its best
look-in-ahead = in, ahead of its best
look-little-ahead = a little ahead
look-ahead = ahead
look-edge-ahead = ahead, on the edge
look-rim-ahead = ahead, on the rim

reading-of = { $name }, { $look }

## The drawing, and how to look

drawing =
    The movement, seen from the { plate } plate{ $over ->
        [yes] , upside down.
       *[no] .
    }
seen-from =
    from the { plate } plate{ $over ->
        [yes] , upside down
       *[no] {""}
    }
see-from = See it from the { plate }

how-first = Levers free and hooked up, no power in the spring. Press the train on with a finger, the way it runs.
held = How it is held for this look
held-at-rest = At rest, locked
held-dropping =
    { $drops ->
        [hook] As the hook drops
       *[lever] As the lever drops
    }
held-at-rest-how = Let the power down with the strike locked, and press the great wheel lightly on, the way it runs. Nothing has to be held at the lever: the train lies where it locks, and what you see is reckoned back.
held-dropping-how =
    { $drops ->
        [hook] Lead the train on by a finger until the last tooth is gathered and the hook just drops behind it, and hold it there.
       *[lever] Lead the train on by a finger until the lever's tip just drops, and hold it there.
    }
held-unknown =
    { $drops ->
        [hook] Read as the hook drops behind the last tooth: the sheet does not say what locks the train at rest, or has no place to be seen for it.
       *[lever] Read as the lever drops: the sheet does not say what locks the train at rest, or has no place to be seen for it.
    }
at-its-arm =
    { $drops ->
        [hook] At rest it lies at its arm, which is where the others are reckoned from: nothing is to be read of it. How far it had to go is seen as the hook drops behind the last tooth.
       *[lever] At rest it lies at its arm, which is where the others are reckoned from: nothing is to be read of it. How far it had to go is seen as the lever drops.
    }
# The first that is looked at of every rack. Common practice, no source.
pallet-name = gathering pallet
pallet-asks =
    { $locked ->
        [tail] Its tail lies on the pin of the rack. Is the pallet clear of the teeth? Lift the hook with a finger: does the rack drop freely?
       *[hook] The hook lies behind the last tooth. Is the pallet clear of the teeth? Lift the hook with a finger: does the rack drop freely?
    }
pallet-free = it drops freely
pallet-touches = it touches the pallet as it drops
pallet-fast = it does not drop: the pallet stands in its teeth
pallet-first = The gathering pallet is in the way of the rack: set that right first, as nothing that is read holds before. With the power let down, look at how it sits on its square or its taper, at its tail and at the pin of the rack; move it on its arbor until the rack drops freely. Then look at everything afresh. Nothing was entered.
quarters-asks =
    { $at ->
        [tail] Or in quarters of the way from pin to pin: how far has the next pin still to go until it reaches the tail?
       *[arm] Or in quarters of its way round: how far has the pin still to go until it lies at its arm?
    }
quarters-to-go =
    { $count ->
        [0] it is just there
        [1] a quarter
        [2] half
       *[other] three quarters
    }
notch-asks = The lever's tip in its notch: how far has it gone from the edge that it fell over?
notch-edge = still at that edge
notch-quarter = a quarter of the way
notch-half = half way
notch-three-quarters = three quarters of the way
notch-end = at the other end
how-first-at-rest = Let the strike run out and lock. Then let the power down, all of it, with a key or a clamp that holds.
how-second-at-rest = Press the great wheel lightly on with a finger, the way it runs, so that every wheel lies back against its driver. Move no lever.
how-second-drop =
    { $drops ->
        [hook] Let it creep until the last tooth is gathered and the hook just drops behind it, and hold the { $arbor } arbor there by holding back the last arbor that is in.
       *[lever] Let it creep until the drop lever's tip just leaves the edge of its notch, and hold the { $arbor } arbor there by holding back the last arbor that is in.
    }
how-second = Let it creep on: { $moment }. The { $arbor } arbor is what is held then.
how-third = Look at { $witness }. A second look is soon made.

## What a witness and a lever are

# A row for each kind, by the sheet's own word for it with - for a blank. Where British and American handbooks differ, both
# stand here: common practice, no source.
witness-kind =
    { $kind ->
        [slot] { $usage ->
            [american] count wheel slot
           *[british] locking plate slot
        }
        [rack-tail] rack tail
        [hammer-tail] hammer tail
        [gathering-pallet] gathering pallet
        [locking-pin] { $usage ->
            [american] stop pin
           *[british] locking pin
        }
        [warning-pin] warning pin
        [fly] fly
       *[plain] {""}
    }
# How it is read as the train creeps to its moment. Common practice, no source.
witness-creeping =
    { $kind ->
        [slot] Look along the lever, from the side: its tip over the middle of the slot, near which wall, or on the rim?
        [rack-tail] Where does the tail come down on its step: in the middle, near the step before, or near the next?
        [hammer-tail] Lift the hammer a little with a bent wire: it should feel free. How far has the next pin to go to its tail, as a part of the way from pin to pin?
        [gathering-pallet] The last tooth is just gathered: how far has the pallet still to go, as on a clock face?
        [locking-pin] How far has the pin still to go to its arm, as on a clock face round its own arbor?
        [warning-pin] How far is the pin from the arm that will catch it, as on a clock face round its own arbor?
        [fly] How do the vanes lie: clear of what they must miss?
       *[plain] {""}
    }
# How it is read when the train has locked and the power is let down. Common practice, no source.
witness-at-rest =
    { $kind ->
        [slot] Look along the lever, from the side: where does it lie in its slot, and how near which wall? Right in, it is clear of both.
        [rack-tail] Where does the tail lie on its step: in the middle, near the step before, or near the next?
        [hammer-tail] Lift the hammer a little with a bent wire: it should feel free, its tail clear of the pins. Where between two pins does it lie?
        [gathering-pallet] Its tail lies on the rack's pin. Lift the hook with a finger: does the rack drop freely?
        [locking-pin] The pin lies on its arm: see how far the lever's tip is from the edge of its notch.
        [warning-pin] Where does the pin stand from the arm that will catch it, as on a clock face round its own arbor?
        [fly] How do the vanes lie: clear of what they must miss?
       *[plain] {""}
    }
lever-kind =
    { $kind ->
        [hook] rack hook
        [hammer-tail] hammer tail
        [count-lever] { $usage ->
            [american] count lever
           *[british] detent
        }
        [drop-lever] drop lever
        [lifting-lever] { $usage ->
            [american] lift lever
           *[british] lifting piece
        }
        [rack-pin] rack pin
        [locking-arm] locking arm
        [warning-arm] { $usage ->
            [american] warning lever
           *[british] warning piece
        }
        [lifting-arm] lifting arm
       *[plain] {""}
    }
# A name of the sheet, and what it is.
named-kind = { $name } ({ $kind })

## Cautions

# Common practice, no source; local rules and licensed practice come first.
caution-springs = Before plates are spread: every spring of every train let down with a proper key, or clamped; weights off. A spring that is let down still pushes.
caution-lever-springs = Lever springs off before the plate lifts.
caution-escape-teeth = Nuts and key clear of the escape wheel's teeth.
caution-fingers = Fingers clear of wheel and pinion, and of the fly.
caution-runaway = No power in the train while { $arbors } is out: nothing else stops it.
caution-runaway-arbor = the { $arbor }
caution-hook = Press with a finger only. Never try the train by turning a spring back: it comes off its arbor's hook.
caution-click = Before you wind, look at the click, its spring and its rivet: if it lets go, the key spins in your hand.
caution-bending = Bend only a soft lever, and last.
caution-turning = Before a part is pulled off its square, slackened or turned: let the power down with a proper key and take weights off, and hold the train: it may run on. Never turn a part by its teeth, its pins or a hand, and never force one that does not move.
caution-local = Local rules and licensed practice come first.
cautions = Cautions
cautions-now = First
cautions-read = { $count ->
        [one] one thing, read before
       *[other] { $count } things, read before
    }

## As it stood

stood-inside = While it struck right { $name } stood at least { $degrees } inside its window, at odds of nineteen in twenty.
stood-near = While it struck right { $name } stood near an edge of its window.
stood-outside = While it struck right { $name } was read outside its window: look at it again, and at the widths on the sheet. Its window is not gone by that reading.
stood-cannot-tell = How far from an edge { $name } stood while it struck right cannot be told: that was read too roughly.

stood-page = As it stood, while it still strikes right
stood-link = Read it as it stands, while it still strikes right
stood-first = Let the power down with the strike locked, with the proper key, and touch no nut.
stood-second = Press the great wheel lightly on with a finger, the way it runs.
stood-third = Photograph levers, count wheel or rack, hammer tail and pins, and say below how each lies.
stood-why = What is read so is inside its window: it tells how far the usual proportions may be gone by, and nothing of how it stands later.
stood-photographs = Photographs
stood-readings = How each lies, at rest
stood-hours = Hours watched, each struck right
stood-enter = It stood so
stood-found = What that tells
stood-no-sheet = How each lies is asked once every count stands on the sheet. Photograph it now: it does not stand so again.
stood-none-tells = The sheet does not say what locks the train, so that nothing seen at rest can be reckoned back. Photograph it all the same.
stood-not-said = Nobody said that it struck every hour right, and came whole: only what stood while it struck right tells anything here.
stood-wrong = When it was last tried it struck wrong: how it stood then shows no good place.
stood-back = On to the bench

## The log

log-look = Seen: { $seen }.
log-look-loose = Seen, the train loose: { $seen }.
log-look-at-rest = Seen at rest, locked: { $seen }.
log-stood = As it stood while it struck right, at rest: { $seen }.
log-stood-hours =
    { $hours ->
        [one] As it stood while it struck right, at rest, one hour watched: { $seen }.
       *[other] As it stood while it struck right, at rest, { $hours } hours watched: { $seen }.
    }
log-seen = { $name } { $look }
log-shift = Done: { $shifts }.
log-shift-more = { $rest }; then { $next }
log-shift-one = { $arbor }, { teeth } { way }
log-shift-unknown = { $mesh }, { teeth }
log-other-way = Number { $of } went the other way.
log-other-way-one = Of number { $of } the { $arbor } arbor went the other way.
log-slipped = Slipped: { $shift }.
log-jumped = The { $arbor } arbor jumped out and was put back.
log-bent = Bent: { $moved }.
log-turned = Turned on its arbor: { $moved }.
log-moved = { $name } by { $number }°
log-out = The { $arbor } arbor taken out.
log-in = The { $arbor } arbor put in.
log-struck = Struck { $hour }.
log-undo = Number { $of } taken back.
log-unknown = Something of a kind { $kind }.
log-many = { $says } ({ $count } entries)
log-taken-back = taken back

seen-degrees = { $look } ({ $degrees })
seen-degrees-spread = { $look } ({ $degrees } ± { $spread }°)
seen-taken = { $said }, taken as { $taken }
seen-number = { $number }°
seen-number-spread = { $number }° ± { $spread }°
seen-in = in
seen-rim = on the rim
seen-besides = { $look } ({ $said })
seen-quarters = { $number } quarters of the way to its next place
seen-quarters-to-go =
    { $count ->
        [0] the pin just there
        [1] the pin a quarter of the way to go
        [2] the pin half the way to go
       *[other] the pin three quarters of the way to go
    }
seen-in-notch = in its notch { $step }
seen-notch = { $number }° into its notch
seen-teeth =
    { $pinion ->
        [yes] { $number } leaves of { $part }
       *[no] { $number } teeth of { $part }
    }
seen-oclock = at { $hour } o'clock from the { plate }

## How arbors go in

put-in = put the { $arbor } arbor in with { $places }
put-in-any = put the { $arbor } arbor in: any tooth will do
put-in-later = put the { $arbor } arbor in at any tooth for now: what is set later makes up for it
put-in-ring = put the { $arbor } arbor in where it fits: it closes a ring of meshes
put-in-witness = { $witness } at { $degrees } ({ $least } to { $most } is good)
put-in-place = { $place } while the { $arbor } arbor is held at the moment “{ $moment }”
put-in-drop = { $place } while the { $arbor } arbor is held at the drop
put-in-against = { $place } while the { $arbor } arbor is held with { $held } at { $degrees }
put-in-closed = with the plates closed, { $said }
put-in-at-once = { $said }; it meshes with { $arbors } at once, so choose its tooth at each as it goes in
put-in-rest-later = { $said }; its other mesh may close at any tooth for now
put-in-ring-too = { $said }; it closes a ring of meshes, and goes in only where all of them fit
put-in-ring-later = { $said }; a ring of meshes begins with it: if what closes the ring does not go in, take this one out again and put it in a tooth on
put-in-check = { $said }. Then look at { $names } in their windows: no tooth here is sure to set all of it. What is out may come in with the same arbor a tooth on; if not, read all and ask which wheel to move

## Buttons, captions, fields

program = Trundle
title = { $name } — { program }
bench = All jobs on the bench
upside = Turn it upside down
upright = Turn it upright
ask = What do I do?
done = Done as said
done-all =
    { $count ->
        [2] Both done as said
       *[other] All done as said
    }
done-only = Only { $n } ({ $arbor }) done
other-way-nth = { $n } ({ $arbor }) went the other way
other-way = It went the other way
jumped = Something jumped out
prove-on = Close up, and go on to prove it
prove-finger-tight = Close up finger-tight, and go on to prove it
arbor-is-in = The { $arbor } arbor is in
part-at = At
part-set-right = It is set right: look afresh
whole-job = The whole job
timing-home = It has been handed back.
timing-home-again = To go on with it, enter that it came in again.
look-again = Look again
undo = Undo
which = Which arbor jumped out? Touch it.
which-done = The shift was made as said before it jumped
which-none = None did
sure = sure
sure-fairly = fairly
sure-rough = rough
how-sure = How sure
how = How to look
close = Back to the bench
how-drawing =
    { $drops ->
        [hook] What locks a rack, and what gathers it
       *[lever] The drop: the lever's tip at the edge of its notch
    }
number = Degrees, ahead +, short −
number-fold = In degrees
pictures = It looks like
unread = not read yet
clear = Leave it unread
slack = The train hung loose
log = So far
log-empty = Nothing yet.
aloud = Read aloud
slate = Slate
paper = Paper
keys = Space, Enter or Page Down goes on, from a pedal too. Arrow keys move what is under the glass.
more = Something else happened
arbors = Which arbors are in
take-out = take it out
put-back = put it in
hour = The hour it struck last
enter = Enter
did = I made another shift
did-teeth = Teeth, ahead +, back −
did-mesh = At the mesh
hold = hold
locks-here = locks here
hold-for = hold for { $numbers }
seen = As you saw it
order = How they go in
order-cut-short = There are more orders than were compared: this is the usual one. Where it says to look again, another might spare that.
to-sheet = To its sheet
skip = To the answer
earlier = This page is from before: more was entered since. Do not work by it; nothing can be entered here.
earlier-now = How it stands now
late = No answer yet: the program has much to do, or has stopped. What you typed is still here.
ask-again = Try again
asking-again = Trying again.
silent = No answer from the program. Is it still running? What was entered before is kept.

## A movement that is counted

# $has is what is counted: "teeth", "leaves", "trundles" or "pins".
counting-question =
    { $has ->
        [leaves] The <m>{ $arbor }</m> arbor’s { $part }: how many leaves?
        [trundles] The <m>{ $arbor }</m> arbor’s { $part }: how many trundles?
        [pins] The <m>{ $arbor }</m> arbor’s { $part }: how many pins?
       *[teeth] The <m>{ $arbor }</m> arbor’s { $part }: how many teeth?
    }
counting-number =
    { $has ->
        [leaves] Leaves
        [trundles] Trundles
        [pins] Pins
       *[teeth] Teeth
    }
counting-made = How it is made
counting-made-as =
    { $form ->
        [lantern] lantern
       *[cut] leaves
    }
counting-lost = lost
counting-unsure = not sure
counting-back = Take back a figure
counting-next = next
counting-part-counted = { $part }, { $count }
counting-part-open = { $part }, not counted
counting-left =
    { $count ->
        [0] all counted
       *[other] { $count } still to count
    }
counting-no-count =
    { $pins ->
        [yes] Pins that move another part on are from 1 to 1000.
       *[no] A wheel has from 4 teeth to 1000; count again.
    }
counting-part = { $arbor } { $part }
counting-undo = undo
counting-text = The sheet as text
counting-text-enter = Enter the text
counting-whole = The whole job

## How it strikes, and what it carries

# A row for each kind of strike, by its name on a sheet.
describe-kind =
    { $kind ->
        [count-wheel-and-cam] { $usage ->
            [american] Count wheel between the plates, a cam with a notch, a pin that locks
           *[british] Locking plate between the plates, a cam with a notch, a pin that locks
        }
        [count-wheel-outside] { $usage ->
            [american] Count wheel outside the back plate, no cam
           *[british] Locking plate outside the back plate, no cam
        }
        [rack] Rack and snail under the dial
        [quarters] Quarters on bells, the hour by a rack
        [ships-bell] Ship’s bell
        [tower] { $usage ->
            [american] Tower clock, its count wheel driven from the barrel
           *[british] Tower clock, its locking plate driven from the barrel
        }
       *[other] { $name }
    }
describe-how = How does it strike?
describe-how-about = Choose what looks like it. It is drawn, and can be altered later.
describe-like = Like one that was here
describe-like-about = Its counts and works are taken over, each count in doubt until it is counted here too.
describe-as-like = The rest as on { $like }
describe-as-like-left =
    { $count ->
        [one] One count is as on { $like }, not counted
       *[other] { $count } counts are as on { $like }, not counted
    }
counting-as-like = As on { $like }, not counted.
describe-go-on =
    { $count ->
        [one] Go on with the movement: one count is not there yet
       *[other] Go on with the movement: { $count } counts are not there yet
    }
describe-movement = The movement
describe-bare = Something else: arbor by arbor
bare-next = Counted so far. Add the next arbor, or say how it strikes.
bare-next-about = Arbors, wheels and pinions are added below; how it strikes is asked below them.
bare-strikes = How does it strike?
bare-strikes-about = Touch what comes nearest. What it has is laid upon these arbors, and then it is asked where each thing is.
bare-alter = Arbors, wheels and pinions
bare-add-arbor = Add an arbor
bare-name = Name of the arbor
bare-has = On it
bare-has-as =
    { $part ->
        [pinion] a pinion
        [lantern] a lantern pinion
       *[wheel] a wheel
    }
bare-meshes = Meshes with
bare-nothing = nothing yet
bare-add-part = Add a wheel or a pinion
bare-arbor = Arbor
bare-add = Add
bare-away = Take away
bare-no-name = An arbor needs a name: letters, figures and blanks, a letter first.
bare-taken = There is already an arbor “{ $name }”. Give this one another name.
describe-other-kind = Another kind
describe-as-text = Or its sheet, as text
describe-way = Which way does the { $arbor } wheel run, as you look at it?
describe-way-as =
    { $way ->
        [clockwise] clockwise
       *[counterclockwise] { $usage ->
            [american] counterclockwise
           *[british] anticlockwise
        }
    }
describe-width-how =
    { $question ->
        [slot] With a calliper; or say how thick a drill is that just goes in.
       *[thick] With a calliper; or say how wide a hole of a drill gauge is that it just goes into.
    }
describe-wide = Width, mm
describe-across =
    { $of ->
        [count-lever] The count wheel across where it falls, mm
       *[other] The wheel across, at that depth, mm
    }
describe-unknown = don’t know
describe-usual = as usual
describe-rest = The rest as usual
describe-pace-how = Time a long hour from its first blow to its last. From that follows how far a pin goes while the lever falls; as usual an eighth of a turn stands for it.
describe-pace-blows = Blows
describe-pace-seconds = From the first to the last, s
describe-pace-fall = The lever falls in, s, if you timed it (on slowed pictures)
describe-pace-heard = As it was heard: { $blow } s from blow to blow, each good to { $spread } s
describe-enter = Enter
describe-left =
    { $count ->
        [0] no other question
        [1] the last question
       *[other] { $count } questions
    }
describe-done = It is on the bench.
describe-pins-first = The pins that lift the hammer were not counted, and what is lost hangs by them: count them first.
describe-count-pins = Count the pins
describe-again = As it was counted, the train cannot come out.
describe-again-how = Touch a wheel on the drawing to count it again. What was not counted is as usual.
describe-count-again = Count the { $part } again
describe-done-all =
    { $count ->
        [0] Every count is in its place, and what was not measured is as usual.
        [one] One count is not sure, or was not counted here. What was not measured is as usual.
       *[other] { $count } counts are not sure, or were not counted here. What was not measured is as usual.
    }
describe-done-lost =
    { $count ->
        [one] One count is lost. Have it worked out before its train is timed.
       *[other] { $count } counts are lost. Have them worked out before the train is timed.
    }
describe-time = Time the strike
describe-find = Work out what is lost
describe-questions = What it carries
describe-pair =
    { $up ->
        [yes] { $near } over { $far }
       *[no] { $near } into { $far }
    }
describe-counts =
    { $there ->
        [yes] { $counts }, with { describe-pins }
       *[no] { describe-pins }
    }
describe-pins =
    { $by ->
        [places] { $pins } places of the count wheel
        [chime] { $pins } places of the chime’s count wheel
        [usual] the usual { $pins } pins
       *[pins] { $pins } pins
    }
# What the train goes on by: a blow, or in a chime a place of its count wheel.
describe-each =
    { $by ->
        [places] a place
        [chime] a place
       *[other] a blow
    }
describe-turns =
    { $how ->
        [one] one turn of the { $arbor } { describe-each }
        [half] half a turn of the { $arbor } { describe-each }
        [yes] { $number } turns of the { $arbor } { describe-each }
       *[no] { $number } of a turn of the { $arbor } { describe-each }
    }
describe-blows =
    { $by ->
        [chime] { $blows } places to a turn of the { $arbor }
       *[other] { $blows ->
            [1] one blow to a turn of the { $arbor }
           *[other] { $blows } blows to a turn of the { $arbor }
        }
    }
describe-right = { $counts }: { $what }. Right.
describe-wrong =
    { $known ->
        [yes] { describe-wrong-must } Perhaps { $perhaps }.
       *[no] { describe-wrong-must }
    }
describe-wrong-must =
    { $want ->
        [one] { $counts }: { $what }. It must come to one place a blow, and has { $must } in a turn: count again.
        [whole] { $counts }: { $what }. It must come round in whole turns: count again.
       *[blows] { $counts }: { $what }, and it has { $must }: count again.
    }
describe-perhaps = { $part } { $perhaps }, not { $counted }
describe-perhaps-lifters = { $perhaps } pins, not { $counted }
describe-no-pace = That is no pace: it takes two blows or more, and some time between them, a minute at most.
describe-no-width = That is no width: it must be more than nothing, and less than the wheel across.
describe-no-answer = That is no answer to this question. Choose one of those shown.
describe-does-not-go = That does not go with what was answered before: what it names is not there. Alter that answer first.
describe-no-kind = There is no kind of strike “{ $got }”.
describe-no-work =
    { $of ->
        [lifters] Nothing on the sheet lifts the hammer.
       *[other] What was asked about is not on the sheet any more.
    }
describe-no-edit = The sheet stands as it was: { $fault }.

## Where the arbors lie

lie = Where the arbors lie
lie-arbor = { $arbor } arbor
lie-fixed =
    { $fixing ->
        [nut] { $what }, with a nut
        [screw] { $what }, with a screw
       *[pin] { $what }, with a pin
    }
lie-place =
    { $way ->
        [left] { $across } to the left
       *[right] { $across } to the right
    }, { $up ->
        [down] { $along } down
       *[up] { $along } up
    }
lie-none = Drag each arbor to where it lies, from the great wheel up.
lie-some = { $left } of { $all } arbors have no place yet.
lie-all = Every arbor has its place.
lie-chosen =
    { $sort ->
        [other] Where is { $what }?
       *[arbor] Where does the { $what } lie?
    }
lie-new =
    { $what ->
        [pillar] Where does the pillar stand?
        [square] Where is the winding square?
       *[bell] Where is the bell?
    }
lie-how = Drag it there, touch the place, or move it with the arrow keys and Enter.
lie-how-first = Or touch one, and then its place. With keys the arrows move it, and Enter lets it go.
lie-how-plain = Touch the place on the drawing, or say it in figures.
lie-schematic = This drawing is laid out as is usual. It is not measured, and not as your movement lies.
lie-about = Sizes here are about, not measured: what is read off this drawing is no measure.
lie-one-spot = The { $one } and the { $other } arbor are on one spot. If they do not run one in the other, one place is wrong.
lie-unreached =
    { $far ->
        [yes] The { $driver } and the { $driven } arbor are { $is } apart. By their counts and the other wheels about { $fits } would fit, so the two wheels do not reach each other. Look at both places, or count again.
       *[no] The { $driver } and the { $driven } arbor are { $is } apart. By their counts and the other wheels about { $fits } would fit, so the two wheels run into each other. Look at both places, or count again.
    }
lie-no-such = There is no { $what } here.
lie-off-plate = That is off the plate. Nothing was entered; touch again.
lie-meshing-spot = The { $one } and the { $other } arbor are in mesh, so they are not on one spot. Nothing was entered; touch again.
lie-too-few =
    { $count ->
        [0] Nothing was touched yet. Touch at least two centres.
        [1] Only one centre was touched. Touch at least one more.
       *[other] { $count } centres were touched, and nothing tells how large the picture is. Touch two arbors that are in mesh, or two ends and say their distance.
    }
lie-adrift = Nothing that was touched here has a place yet, and other arbors do. Touch two that have one.
lie-no-picture = There is no such picture of this job any more.
lie-right = To the right
lie-up-by = Up
lie-in = { $what }, { $unit }
lie-put = Put it there
lie-fix = Fixed so
lie-measured-since = A distance was measured since. It sizes them all.
lie-size-by = Size the places by it
lie-away =
    { $sort ->
        [arbor] take its place away
       *[other] take it away
    }
lie-undo = undo
lie-not-said = no place yet
lie-list = Arbors, and what stands on the plates
lie-link = { $what }: { $place }
lie-add = What stands there besides
lie-add-what =
    { $what ->
        [pillar] a pillar
        [square] a winding square
       *[bell] a bell
    }
lie-fixing = What fixes the plate on it
lie-fixing-as =
    { $fixing ->
        [nut] a nut
        [screw] a screw
       *[pin] a pin
    }
lie-pitch = One turn gives, { $unit }, if measured
lie-across = Across, { $unit }, if measured
lie-leave = leave it
lie-photographs = On a photograph
lie-photographs-how = Touch the centres on a picture of the movement. It then lies under the drawing.
lie-photograph-of =
    { $plate ->
        [front] touch on it: the front plate
       *[back] touch on it: the back plate
    }
lie-photograph-nth = Picture { $n }
lie-photograph-in = Put a picture in
lie-file = A picture of a plate, straight from before it
lie-touch =
    { $sort ->
        [other] Touch the centre of { $what }.
       *[arbor] Touch the centre of the { $what }.
    }
lie-touch-from = Touch one end of a distance that you know.
lie-touch-to = Touch its other end.
lie-touch-up = Touch the side of the picture that is up.
lie-touch-done = All that can be seen is touched.
lie-touched-count = { $count } of { $all } touched
lie-from = one end
lie-to = the other end
lie-up = where up is
lie-unseen = cannot be seen
lie-touch-state =
    { $state ->
        [touched] { $what }, touched
        [unseen] { $what }, cannot be seen
       *[open] { $what }
    }
lie-size = How large it is, and which way up
lie-distance = From one end to the other, { $unit }
lie-distance-set = That is the distance
lie-scale =
    { $from ->
        [places] It is laid on the places that are known already.
        [measured] Its size follows from a measured distance between two arbors.
        [rule] Its size follows from the distance that you gave.
       *[drawn] Nothing measured tells its size: it is taken as the drawing has it, about, not measured.
    }
lie-worst = Laid on the places that are known, this is off most: { $what }, by { $off }.
lie-take = Put these places on the sheet
lie-anew = all that is touched here, also what has a place already
lie-left = From the left edge, hundredths of the width
lie-top = From the upper edge, hundredths of the width
lie-spot-set = Touch there
lie-to-drawing = Back to the drawing
lie-to-bench = To the bench
lie-to-movement = The movement
lie-shown = How much of the picture is seen
lie-shown-set = set
lie-photograph = The picture of the { $plate } plate, with what was touched.
lie-drawing = The movement as it lies, seen from the { $plate } plate.

## The list of jobs

jobs = On the bench
another = Put another clock on the bench
sheet = Its sheet, as text
put-on = Put it on the bench
in-hand = This sheet is in hand already, as job { $n }: { $name }.
in-hand-home = This sheet was here before, as job { $n }: { $name }. It has been handed back.
in-hand-open = Open job { $n }
in-hand-another = Take it in as another

## Settings

settings = Words and units
settings-short = Words
settings-language = Language
settings-english = English
settings-german = German
settings-stretched = Test language
settings-usage = Trade words, in English
# British and American handbooks of clock repair differ so: common practice, no source.
settings-british = British (bush, millimetre)
settings-american = American (bushing, millimeter)
settings-lengths = Lengths
settings-millimetre =
    { $usage ->
        [american] Millimeters
       *[british] Millimetres
    }
settings-inch = Inches
settings-keep = Keep these

## Refused

refused-does-not-fit = With that the movement does not go together: { $typed }. Count or measure it again; nothing was entered.
refused-read-twice = { $what }: it was told in two ways at once, by a picture or a figure and by quarters. Leave one of them.
refused-unread = Nothing is read yet: make at least one close-up look like what you see, or choose a picture.
refused-busy = This is being worked out, or something else that takes its time. The page asks again in a moment.
refused-broke-off = What was sent broke off on its way, or is no form of this page. Nothing was entered; send it again.
refused-full = This job's log is full: it holds { $most } megabytes at most. Nothing was entered, and all that stands in it stays. Take the clock in as another job to go on.
refused-long = { $field }: { $got } characters are more than the { $most } that are taken. Nothing was entered.
clock-odd = This machine's clock says { $day }: set it, as entries are dated by it.
refused-behind = The log has moved on since this page was drawn, from another window perhaps. This is how it stands; nothing was entered.
refused-foreign = Refused: this page answers only to itself.
refused-nothing = There is nothing here.

why-no-equals = the reading { $written } has no `=`; expected WITNESS=DEGREES, such as `slot=-1.2` or `slot=-1.2~0.1`
why-unknown-witness = the reading { $written } names { $got }, which is no witness of this sheet; { $hint }
why-unreadable = the reading { $written } has { $got } after `=`; expected degrees (`-1.2`), a look (`in`, `edge-short`, `edge-ahead`, `rim`), teeth (`-2teeth:second.wheel`) or an hour (`7:30oclock`)
why-bad-spread = the reading { $written } has { $got } after `~`; expected a plain decimal, one standard deviation in degrees
why-unknown-part = the reading { $written } counts teeth of { $got }; expected a part of this sheet, ARBOR.PART
why-bad-hour = the reading { $written } has { $got }; expected an hour of the clock face such as `4oclock` or `7:30oclock`
why-spread = the reading { $written } has a spread of { $got }°; expected more than 0 and less than { $most }°, a quarter of the way to the next place
why-no-look = the reading { $written } says how it looks, but the sheet has no `slot_deg` and `tip_deg` for it; say it in degrees
why-no-hour = the reading { $written } says an hour, but the sheet has no `arm_oclock` for it; say it in degrees
why-no-teeth = the reading { $written } counts teeth, but no toothed part sits on its arbor; name one, as in `-2teeth:second.wheel`
why-other-train = the reading { $written } counts teeth of { $part }, which is in another train
why-no-notch = the reading { $written } says how far the tip is into its notch, which tells only how far what locks had still to go, and only at rest
why-at-its-arm = the reading { $written } is of what locks, and at rest that stands at its arm whatever is wrong; say how far the lever's tip went into its notch, as in `pin=9.5notch`, or read it as the lever drops
why-not-at-rest = the reading { $written } is at rest, and the sheet does not say what locks there, or has no witness for it; read it as the lever drops
why-too-coarse = the reading { $written } is good only to { $spread }° that way, and its places lie so near each other that { $most } is needed; say it in degrees
why-of-entry = { $witness } (entry { $n })
why-read-twice = { $id } is read twice; expected each witness once in one look
why-nothing-read = no reading; expected at least one of { $all }
why-no-window = { $written }: { $id } has no `window_deg` on the sheet, so where it stands cannot be judged; write one
why-no-windows = no `window_deg` is written for { $all }: nothing can be advised that rests on where it stands; write one
why-windows-wrong =
    no `window_deg` is written for { $all }, and none follows from the levers: as the sheet has them it does not strike right{ $at ->
        [none] {""}
       *[some] {" "}at { $at }
    } ({ $point }); `trundle strike` tells all of it
why-windows-edge = no `window_deg` is written for { $all }, and none follows from the levers: as the sheet has it { $witness } stands on an edge; `trundle strike` tells how near all is
why-windows-together = no `window_deg` is written for { $all }, and none follows from the levers: as the sheet has them { $witnesses } have no room together; `trundle strike` tells how near all is
why-windows-long = no `window_deg` is written for { $all }, and to work it out from the levers would take too long; write one
why-windows-unfit = no `window_deg` is written for { $all }, and none follows from the levers: { $why }
why-no-witness = no reading; the sheet has no witness that could be read
why-unknown-arbor = { $got } is no arbor of this sheet; { $hint }
hint-meant = did you mean { $near }?
hint-has = the sheet has { $all }
hint-no-witness = the sheet has no witness

why-too-many-places = the wheels of this train can go together in more than { $most } ways, too many to be followed from look to look{ $asked ->
    [option] ; one look at a time is answered without a log (`trundle remesh SHEET --saw …`)
   *[field] {""}
  }
why-count-again = as it was counted this train cannot come out: count it again. Its wheels could go together in more than { $most } ways, too many to be followed from look to look
why-nothing-advised = no shift is advised now, so none can have been done as said; say what was done with `--did DRIVER:DRIVEN=TEETH`
why-no-shift = no shift is in the log yet that could have gone the other way
why-not-as-it-stood = since entry { $n } it does not stand as it came (power let down, taken apart or something moved); what is seen now is a look at rest
why-nothing-to-undo = nothing is in the log that could be taken back
why-no-entry = there is no entry { $n } in the log, which has { $all }
why-no-such-shift =
    { $all ->
        [1] there is no shift { $n }: it was one shift alone
       *[other] there is no shift { $n }: they were numbered 1 to { $all }
    }
why-not-out = the { $arbor } arbor is in; expected one that was taken out
why-bad-mesh = { $written } is no mesh with teeth; expected DRIVER:DRIVEN=TEETH, teeth a whole number other than 0, the mesh one of { $all }
why-degrees-only = { $written } cannot be read; expected WITNESS=DEG or WITNESS=DEG~SPREAD in plain decimals
why-other-sheet = the log is of another sheet, { $log }, or this one, { $sheet }, was changed since: expected the sheet it was begun with
why-sheet-changed = the sheet was changed since the log went by it. { $changes } Expected the sheet that the log was begun with, or a log begun with this one

recall-unknown-kind = entry { $n } of the log is of a kind { $kind } that this program does not know; what it tells may matter, so nothing is said; a newer program may know it
recall-unknown-name = entry { $n } of the log names { $name }, which is not on this sheet
recall-on-a-loop = entry { $n } of the log shifts { $mesh }, which closes a loop and cannot be shifted alone
recall-arbor-out = entry { $n } reads { $witness } while the { $arbor } arbor is out; expected a witness whose arbors are in
recall-long-slot = entry { $n } reads { $witness } after { $hour } was struck: the lever then lies in the long slot that serves twelve and one, whose middle is elsewhere; let it strike on to two, or read the others

# A fault of the log: where, and what.
fault-of-log = { $place } { $what }
fault-place = the log
fault-place-line = the log, line { $line },
fault-place-column = the log, line { $line }, column { $column },
fault-place-field = the log, line { $line }, column { $column }, { $field }
fault-too-long = has { $bytes } bytes; expected at most { $most }: is this the right file?
fault-empty = is empty; expected a first line that names its sheet
fault-no-header = does not begin as a timing log does; is this the right file?
fault-header-torn = breaks off in its first line: nothing was ever entered; remove the file and begin again
fault-other-version = is of version { $got }; expected 1; a newer program wrote it
fault-not-utf8 = is not UTF-8 from here on; expected text as this program writes it
fault-not-json = is no JSON from here on; expected a line as this program writes it
fault-blank = is blank; expected an entry on each line
fault-not-an-object = is no object; expected an entry in braces
fault-missing = is missing; expected it in an entry of this kind
fault-not-seen = says nothing that was seen; expected `deg`, `look`, `teeth` with `of`, or `oclock` with `from`
fault-stray = does not belong in an entry of this kind, and might matter; expected only what this kind has
fault-doubled = is there twice; expected it once
fault-wrong = is { $got }; expected { $expected }
fault-twice = names { $name } twice; expected each once in one entry
fault-out-of-order = has the number { $got }; expected { $expected }: was a line taken out, doubled or moved by hand?
fault-points-nowhere = is { $of } in entry { $n }; expected an earlier entry
fault-not-corrected = does not put entry { $of } right; expected the same kind, and one that is not told anew instead
fault-not-emptied = names { $field } of entry { $of }; expected a field that was there and has been emptied
fault-not-undone = is { $of }, a removal; what was removed does not come back
fault-not-in-shift = is { $mesh }, which was not moved in entry { $of }; expected one of the meshes of that shift
fault-not-a-shift = is { $of }, which is no shift; expected the number of a shift
expected-text = text
expected-decimal = a plain decimal in quotation marks
expected-spread = a plain decimal above 0 in quotation marks
expected-oclock = a place on a clock face such as `"7:30"`
expected-count = a whole number from 0
expected-hour = an hour from 1 to 12
expected-hours = hours that were watched, a whole number above 0
expected-teeth = a whole number of teeth other than 0
expected-day = a day such as `"2026-03-01"`
expected-digest = a picture's name, 64 small hexadecimal figures
expected-names = a list with words in it
expected-list = a list with something in it
expected-object = an object in braces

## What may go wrong outside

trouble-folder = cannot make the folder { $path } for the book: { $detail }
trouble-is-folder = { $path } is a folder; expected a file, or a name for a new one
trouble-not-there = there is no book at { $path }; say where it is with `--book PATH`
trouble-gone-backed-up = there is no book at { $path }, but its backups are there: it was removed, renamed, or cut to nothing. No new one was made. If it lies elsewhere, put it back; or bring back the latest backup: `trundle book --book "{ $path }" restore "{ $backup }"`
trouble-gone = there is no book at { $path }, but what belonged to one: { $left }. It was removed, renamed, or cut to nothing, and no new one was made. Put it back; or, to begin anew, move these elsewhere first
trouble-not-its-own = beside the book { $path } lies { $beside }, which belongs to another book or to another day of this one. Neither was touched. If you put this book here from a copy, move { $beside } elsewhere, and open it again
trouble-no-plain-file = { $what } is no plain file but a folder, a pipe or a device, and the book { $path } keeps a file of its own under that name. Nothing was touched. Move it elsewhere, and do this again
trouble-other-names = several names lead to the file { $path } (hard links), so two benches could work in it without knowing of each other. It was not touched. Keep one name, or make a copy
trouble-went-away = { $what } is no longer where it was when the book was opened, so nothing is written: it was moved, renamed or removed. What you entered before is in it; what you typed now is not yet. Put it back and do this again; or close the bench and open it again, which says what is there
trouble-replaced = in the place of { $what } lies another than when the book was opened, so nothing is written. What you typed now is not in either. Put the one that was there back and do this again; or close the bench and open it again
trouble-cut = { $what } was cut to nothing while the book was open, so nothing is written. What you typed now is not in it. Close the bench; opening it again says which backup to bring back
trouble-written-over = another copy was written over { $what } while the book was open, so nothing more is written. What you typed now is not in it, and what you entered before may be only in the backups. Close the bench, and put the book that you want in this place: the copy that lies there now, or the latest backup, restored to another place
trouble-open = cannot open the book { $path }: { $detail }
trouble-read-only = { $path } can be read but not written ({ $detail }); choose a place you may write in, the book's with `--book PATH`
trouble-full = no room left on the disk for { $path }; make room and do it again: what was entered before is kept
trouble-no-book = { $path } is no bench book ({ $detail }); it was not touched
trouble-newer = { $path } was written by a newer version of this program (form { $version }); it was not touched
trouble-damaged = the book { $path } is damaged ({ $detail }); leave it as it is, and restore the latest backup to another place
trouble-busy = another program keeps writing in the book { $path } ({ $detail }); wait for it or close it, and do this again
trouble-no-job = there is no such job in this book
trouble-other = { $path } refuses: { $detail }
trouble-no-picture = this is no picture that can be kept ({ $detail }); expected a JPEG, PNG or WebP file
trouble-large-picture = this picture is too large; expected at most 40 MB and 50 million points
trouble-picture-unknown = there is no such picture in this book
trouble-picture-lost = the picture { $path } cannot be read ({ $detail }); `trundle book verify` says what else is missing, and a backup may have it
trouble-already = { $path } is there already, and nothing is ever overwritten; choose another place
trouble-no-backup = { $path } is no backup of a bench book ({ $detail }); nothing was restored
trouble-half-backup = { $path } is only half a backup ({ $detail }); choose another one; nothing was restored
trouble-no-export = { $path } is no export of a bench book ({ $detail }); nothing was imported
trouble-not-swept = what was removed or broken off is gone from the book, but not yet from everything beside it; it is tried again with the next backup. What resists: { $each }
trouble-not-gone = { $path } cannot be taken away ({ $detail }); take it away by hand
trouble-resists-all = nothing could be emptied in the folder of backups { $backup }, as it cannot be read ({ $detail }); let whoever runs this read it and write there
trouble-resists-unread = nothing could be emptied in the backup { $backup }, as it cannot be read ({ $detail }); let whoever runs this read it and write there. If it is named here after that too, and may hold what was removed, throw that folder away
trouble-resists-read-only = nothing could be emptied in the backup { $backup }, as it may not be written ({ $detail }); let whoever runs this write there. If it is named here after that too, and may hold what was removed, throw that folder away
trouble-resists-damaged = nothing can be emptied in the backup { $backup }, as it is damaged ({ $detail }), nor can a book be restored from it; throw that folder away
trouble-resists-other = the backup { $backup } cannot be gone over: { $why }. If it may hold what was removed, throw that folder away
trouble-not-known = the backup { $backup } could not be gone over when something was removed, so nothing can be emptied in it now. If it may hold what was removed, throw that folder away
trouble-other-lines =
    what was to be removed is gone; but { $count ->
        [one] the backup { $backups } has other entries in some of those places: it is of another book, or of days that this one no longer has. It was left as it is, under this name. If it holds what was to be removed as well, throw that folder away
       *[other] the backups { $backups } have other entries in some of those places: they are of another book, or of days that this one no longer has. They were left as they are, under these names. If they hold what was to be removed as well, throw those folders away
    }
trouble-altered = the book { $path } was altered otherwise than on this bench: `trundle book verify` tells which entries. Today's backup is made, and no older one is taken away; what stood there before is in one of them
trouble-torn = what was to be entered breaks off within a line; nothing of it was entered

## What the machine refuses

machine-not-there = it is not there
machine-may-not = whoever runs this may not
machine-read-only = what it lies on can only be read
machine-full = there is no room left
machine-folder = there is a folder
machine-no-folder = on the way to it there is something that is no folder
machine-there-already = there is something already
machine-not-empty = the folder is not empty
machine-no-plain-file = it is no plain file
machine-name = no file can have this name there
machine-not-as-expected = it is larger than it may be, or no text
machine-cut = it breaks off
machine-nobody-reads = nobody reads it any more
machine-in-use = another program has it
machine-too-slow = it took too long
machine-memory = there is too little memory
machine-else = the machine refuses: { $said }
store-open = its files cannot be opened or made there
store-none = it has not the form of a book
store-pages = its pages do not fit together
store-disk = the disk cannot be read or written
store-else = the store refuses: { $said }
form-cut = it breaks off
form-odd = it is not as this program writes it
detail-within = { $name }: { $said }

## A train that cannot come out

again-each = { $of }: { $places } in a turn of the { $on } arbor want { $wanted } turns of the { $per } arbor; { $way } gives { $given }: count again
again-back =
    { $of }: a blow turns the { $on } arbor { $given } times, and must bring it back to { $places ->
        [1] the same place
       *[other] one of { $places } alike places
    }; { $way }: count again
again-seconds = the seconds of a turn want { $wanted } turns of the { $per } arbor for one of the { $on } arbor; { $way } gives { $given }: count again
again-beats = the train asks for { $train } beats an hour at the { $on } arbor, and a pendulum as long as the one on the sheet beats about { $pendulum }: count again, or measure the pendulum again
again-miscount = { $of } has { $would } and not { $written }
again-likely =
    One miscount by one or two would explain it: { $all }{ $left ->
        [0] {""}
       *[other] {", "}and { $left } more are no less possible
    }. Count first what is told first.
again-none =
    No single count that is one or two out would explain it: more than one is wrong, or one by more{ $measured ->
        [yes] ; or what was timed or measured is, a `turn_s` or the pendulum.
       *[no] .
    }

## What is odd on a sheet

odd-heading =
    { $count ->
        [1] One thing is odd on the sheet, and was taken as it stands
       *[other] { $count } things are odd on the sheet, and were taken as they stand
    }
odd-at = Line { $line }: { $what }
odd-meant = ; did you mean { $near }?
odd-unread = { $key } is kept as a measurement, and nothing here reads it
odd-unmeshed =
    { $key } was taken for a toothed part{ $teeth ->
        [0] {""}
       *[other] {" "}of { $teeth } teeth
    }, and nothing meshes with { $part }
odd-unmeshed-why = ; a `[[mesh]]` is missing, or it is a measurement, whose key ends in its unit
odd-no-part = { $key } is the size of a part { $part }, and there is none on this arbor
odd-unusual =
    { $got } for { $key }, taken as it is written; from { $least } to { $most }{ $unit ->
        [mm] {" "}mm
        [um] {" "}µm
        [deg] °
        [g] {" "}g
        [n] {" "}N
        [nm] {" "}N m
        [turns] {" "}turns
        [s] {" "}s
        [teeth] {" "}teeth
       *[none] {""}
    } is usual: a point, a figure or the unit may be wrong
odd-not-whole = a blow moves { $witness } { $blow }, { $places } of its places of { $period }: no whole number, so it cannot show the same thing at every blow; count the teeth again
odd-no-window = { $witness } has no `window_deg`, so nothing is said of where it stands, and no levers on the sheet tell how it strikes
odd-doubtful = { $part } is doubtful, and is taken as { $teeth }
odd-wider = the window of { $witness } is { $from } to { $to }, but slot and tip allow only { $least } to { $most }: { $all } of play in all

## Faults of a sheet (English only)

sheet-fault = got { $got }; expected { $expected }
sheet-more-faults = and { $count } more faults, told once these are mended
sheet-meant = did you mean { $near }?

sheet-too-long = more than { $most } KiB
sheet-too-long-expected = a sheet: a page or two of text
sheet-too-long-hint = is this the right file?
sheet-empty = a file with nothing in it
sheet-empty-hint = begin with a sample sheet and change its counts
sheet-not-utf8 = the byte 0x{ $byte }
sheet-not-utf8-expected = text in UTF-8
sheet-not-utf8-hint = save the sheet as UTF-8 in your editor
sheet-not-toml = text that is no TOML from here on ({ $says })
sheet-not-toml-expected = TOML
sheet-not-toml-hint = reading stopped here; what follows was not looked at
sheet-slip =
    { $slip ->
        [comma] { $got } for { $key }, with a comma for its point
        [minus] { $got } for { $key }, with a stroke that is no minus (`-`)
        [degree] { $got } for { $key }, with a degree sign: the key tells the unit
        [unit] { $got } for { $key }, with its unit: the key tells the unit
        [letter] { $got } for { $key }, with a letter among its figures
        [quotes] { $got } for { $key }, in quotes that are not straight ones
        [unquoted] { $got } for { $key }, without its quotes
       *[unclosed] { $got } for { $key }, a text of which one quote is missing
    }
sheet-doubled = { $key } a second time
sheet-doubled-expected = each name once
sheet-unknown-key-expected = one of the keys of { $table }
sheet-unknown-key-hint = the keys are { $keys }
sheet-missing = { $table } without { $key }
sheet-missing-expected = { $key } in it
sheet-none-of = { $table } with none of { $keys }
sheet-together = { $table } with { $keys } together
sheet-just-one = just one of { $keys }
sheet-out-of-place = { $key } beside { $beside }
sheet-out-of-place-expected = only what goes with { $beside }
sheet-value = { $got } for { $key }

table-sheet = the sheet
table-arbor = an `[arbor.…]`
table-part = a part
table-mesh = a `[[mesh]]`
table-strike = `[strike]`
table-moment = a `[[moment]]`
table-witness = a `[[witness]]`
table-track = a `[[track]]`
table-pin = a `[[pin]]`
table-lever = a `[[lever]]`
table-rack = `[rack]`
table-chime = `[chime]`
table-pillar = a `[[pillar]]`
table-pivot = a `[[pivot]]`
table-fixture = a `[[fixture]]`
table-plates = `[plates]`

got-empty = an empty text
got-text = the text { $text }
got-list = a list of { $count }
got-table = a table
got-nth = { $got }, number { $nth } of { $of }

value-text = a text
value-yes-no = `true` or `false`
value-table = a table
value-tables = tables headed `[[…]]`
value-count = a whole number from { $least } to { $most }
value-part = a count of teeth, { value-count }, or `{"{"} teeth = …, form = "lantern" {"}"}`
value-number = a decimal number
value-positive = a decimal number above 0
value-lash = a number of teeth from 0 to 1
value-hold = a number of degrees from 0 to 90
value-oclock = an hour of the clock face from 0 to 12
value-not-negative = a decimal number not below 0
value-part-of-tooth = a part of a tooth, from 0 to less than 1
value-numbers = a list of decimal numbers, from one to five hundred
value-heights = a list of heights above 0, 1 at most
value-counts = a list of whole numbers from { $least }, together at most { $most }
value-outline = a list of places with their heights, `[[DEGREES, 0 to 1], …]`
value-minute = a minute from 0 to less than 60
value-pair = two decimal numbers, `[from, to]`
value-point = two decimal numbers, `[right, up]`
value-held = one of `"square"`, `"friction"`, `"screw"`, `"collet"`, `"pressed"`, or a table of them by part
value-names = a list of names, `["…"]`
value-keys-beside = a list of keys that stand beside it, `["…"]`
value-measure-spreads = a table of measurements that stand beside it, each with a number above 0, `{"{"} pivot_mm = 0.01 {"}"}`
value-spreads = a table of keys in degrees that stand beside it and are not usual, each with a number above 0, `{"{"} tip_deg = 0.2 {"}"}`
value-arbor-part = `"ARBOR.PART"`
value-name = a name of small letters, digits and `_`, a letter first, at most 40 long
value-version = `1`, the only form of sheet there is

# Where the first of two stands; empty where that is not known.
sheet-on-line = {" "}on line { $line }
sheet-uncounted =
    { $more ->
        [0] no count for { $part }
        [one] no count for { $part } and one more part
       *[other] no count for { $part } and { $more } more parts
    }
sheet-uncounted-expected = the teeth of every part: this needs them all
sheet-uncounted-hint = `trundle count` finds the counts that fit; write one in
sheet-doubled-witness = a second witness { $id }
sheet-doubled-moment = a second moment { $id }
sheet-once = each id once; it is already{ $place }
sheet-drop-given = a moment `drop`
sheet-drop-given-expected = another id
sheet-drop-given-hint = the drop is always there, on `read_at`
sheet-unknown-arbor-expected = an arbor of this sheet
sheet-unknown-part-expected = a part of the arbor { $arbor }
sheet-misspelt-part = { $got } for a part of the arbor { $arbor }, which no mesh has
sheet-misspelt-part-expected = { $meant }, as its mesh has it
sheet-unknown-moment-expected = `drop` or a moment of this sheet
sheet-one-arbor = a mesh of two parts of { $arbor }
sheet-one-arbor-expected = parts of two arbors
sheet-meshed-twice = the same two parts in mesh a second time
sheet-meshed-twice-expected = each pair once; it is already{ $place }
sheet-driven-twice = { $part } driven a second time
sheet-driven-twice-expected = one driver for it; it has one{ $place }
sheet-in-no-mesh = { $arbor } in no mesh
sheet-in-no-mesh-expected = each arbor in mesh with another
sheet-in-no-mesh-hint = add the `[[mesh]]` it belongs to, or leave the arbor out
sheet-two-undriven = { $other } driven by nothing, as is { $one }{ $place } in the same train
sheet-none-undriven = a train, that of { $arbor }, in which each arbor is driven by another
sheet-undriven-expected = one arbor in each train that the others take their power from
sheet-two-undriven-hint = is a `driver` written for a `driven`?
sheet-loop-open = a loop of meshes that does not close: one turn of { $start } turns { $end } { $way } by one path and { $other } by the other
sheet-loop-open-expected = the same both ways
sheet-loop-open-hint = count the teeth of these wheels again
sheet-loop-way = { $product } = { $ratio } (the same way)
sheet-loop-way-back = { $product } = { $ratio } (the other way)
sheet-loop-once = once
sheet-no-runs = no `runs` on any of { $arbors }
sheet-no-runs-expected = `runs = "clockwise"` or `"counterclockwise"` on one arbor of each train
sheet-runs-contradict = `runs` on { $other } that does not go with `runs` on { $one }{ $place }
sheet-runs-contradict-expected = ways round that the meshes allow together
sheet-runs-contradict-hint = arbors next to each other in external mesh run opposite ways
sheet-no-strike = a witness of the drop on a sheet without `[strike]`
sheet-no-strike-expected = `[strike]` with `read_at`, or another `at`
sheet-not-joined = { $on }, which no path of meshes joins to { $arbor }
sheet-not-joined-expected = an arbor of the train that is fixed at { $moment }
sheet-upside-down = a window from { $from } to { $to }
sheet-upside-down-expected = the smaller number first, and some width
sheet-too-wide = a window { $width } wide
sheet-too-wide-expected = at most { $period }, for its places repeat after that
sheet-best-outside = `best_deg` at { $best }
sheet-best-outside-expected = a place in the window, { $from } to { $to }
sheet-slot-without-tip = only one of `slot_deg` and `tip_deg`
sheet-slot-without-tip-expected = both, or neither
sheet-slot-misfit = a slot { $slot } wide with a tip of { $tip }
sheet-slot-misfit-expected = a tip narrower than its slot, and both together less than { $period } from slot to slot
sheet-kind =
    { $kind ->
        [track] track
        [pin] pin
        [lever] lever
        [pillar] pillar
        [pivot] pivot or arbor
        [fixture] fixture
       *[lever-arbor] lever arbor
    }
sheet-doubled-id = a second { $kind } { $id }
sheet-unknown-id-expected = a { $kind } of this sheet
sheet-no-room = { $takes } for each place
sheet-no-room-expected = less than { $room }, for the next place comes after that
sheet-heights-miscounted = { $count } heights
sheet-heights-miscounted-expected = as many as places, { $places }
sheet-outline-back = an outline with { $at } where it does not go on
sheet-outline-back-expected = places from 0 to less than 360, each as far on as the one before it or further
sheet-lifts-round = lever arbors that lift each other in a circle, by way of { $arbor }
sheet-lifts-round-expected = no lever arbor that lifts itself
sheet-rack-driven = a lever that would move the rack
sheet-rack-driven-expected = only arms on the rack's arbor; its tail on the snail moves it
sheet-no-rack = `rack` on a sheet without `[rack]`
sheet-no-rack-expected = `[rack]`, or another name
sheet-not-a-snail = the track { $track }
sheet-not-a-snail-expected = a track with `steps` for the rack's tail, and any other for a lever
sheet-many-keys = { $count } keys in one table
sheet-many-keys-expected = at most { $most }; those after are not read
sheet-too-many =
    { $kind ->
        [arbors] { $count } arbors
        [meshes] { $count } meshes
        [witnesses] { $count } witnesses
        [tracks] { $count } tracks
        [pins] { $count } pins
        [levers] { $count } levers
        [pillars] { $count } pillars
        [pivots] { $count } pivots
        [fixtures] { $count } fixtures
       *[moments] { $count } moments
    }
sheet-too-many-expected = at most { $most } on one sheet

## The way of a job (English only)

stage =
    { $stage ->
        [in] Received
        [down] Taken apart
        [look] Cleaned and inspected
        [together] Assembled
        [prove] Strike tested
        [rate] On test
       *[out] Ready
    }
stage-about =
    { $stage ->
        [in] received, tried as it came, counted and measured, agreed with its owner
        [down] let down, taken apart
        [look] cleaned, inspected, repaired
        [together] oiled as it goes together, the strike timed, closed up
        [prove] every hour struck, by finger first and then with power
        [rate] in beat in its case, brought to time, run to the end of its winding
       *[out] photographed as it goes, to be handed back
    }
stage-home = Handed back

# What is to be done: the sentence of the next step, and the point on its list.
do-picture-before = Photograph it as it came.
do-complaint = Write down what is said to be wrong with it.
do-together = Keep weights, pendulum, key and hands together, named.
do-counted = Count and measure it: the sheet.
do-tried = Try it as it came: does it go, does it strike, and what is wrong. Not with a click, line or spring that looks unsound.
do-agreed = Tell the owner what it wants, and be told yes.
do-power = Let the power down: a spring with a key, a weight taken off and held.
do-power-of = Let the power of the { $arbor } arbor down: a spring with a key, a weight taken off and held.
do-let-down = Let the spring on the { $arbor } arbor down with a proper key.
do-weight-off = Take the weight of the { $arbor } arbor off, and hold it as it comes.
do-as-it-stood = If it struck every hour right as it came, read it as it stands: let the power down with the strike locked, touch no nut, press the great wheel lightly on, and photograph levers, count wheel or rack, hammer tail and pins at rest.
do-apart = Take the lever springs off, then the plates apart.
do-clean = Clean and dry everything.
# British workshops fit a bush, American ones a bushing: common practice, no source.
do-pivots =
    { $usage ->
        [american] Look over every pivot and its hole, polish pivots first, and mark which holes want a bushing.
       *[british] Look over every pivot and its hole, polish pivots first, and mark which holes want a bush.
    }
do-teeth = Look over wheels, pinions and pins.
do-spring-looked = Look over the spring of the { $arbor } arbor, its click and the click's rivet.
do-line-looked = Look over the line of the { $arbor } arbor, its drum and its click.
do-levers = Look over levers, hammer and their springs.
do-repaired = Put right what was found.
do-oiled = Oil it as it goes together: nobody tests a dry clock.
do-timed = Time the strike train.
do-end-shake = With the nuts finger-tight, feel the end shake of every arbor before any nut is tightened.
do-spun = Spin each train: it must run free.
do-hammer-at-rest = See that the hammer lies on its stop, its tail clear of every pin.
do-by-finger = Lead it through one hour by finger.
do-powered-up = Two clicks of power first, or a hand on the line; then all of it.
do-hours = Let it strike every hour, and count.
do-cased = Case it, level, where it is to be tested.
do-beat = Set it in beat again, in its case.
do-rate = Bring it to time.
do-last-hours = Let it run to the end of its winding: it must go and strike in the last hours too, not only in the first twelve.
do-picture-after = Photograph it as it goes.
do-handed-back = Hand it back.
do-go-on = Go on to the next stage.
do-home = It has been handed back.
do-home-open =
    { $count ->
        [one] It has been handed back, with one point open.
       *[other] It has been handed back, with { $count } points open.
    }
do-after-closing = After every closing up, in this order

## What can hurt, at each stage (English only)

# Each names the public authority whose rules to follow. What hurts and how is common practice, no source, unless it says otherwise.
# Rules on stored energy, lifting, guards and heights, and the years of limits: from memory. Limits: OSHA chemical data and NIOSH Pocket Guide, as in outside/hazards.toml.
danger-weights = Weights off first, and held as they come: a dropped weight goes through a foot or a case. (Lifting: HSE Manual Handling Operations Regulations; NIOSH lifting equation.)
danger-tower = A tower clock has rules of its own: weights blocked or lowered, the train locked out before a hand goes in, and a second person there. (OSHA 29 CFR 1910.147; HSE Work at Height Regulations.)
danger-springs = A wound mainspring can break a hand. Let it down with a proper key, or clamp it, before plates are spread; an open spring that is let down still pushes. Eyes covered. (Stored energy: OSHA 29 CFR 1910.147; HSE PUWER.)
danger-fusee = A fusee keeps its set-up when the train has run down: let that down at the click too, and mind the chain or gut. (Stored energy: OSHA 29 CFR 1910.147; HSE PUWER.)
danger-edges = Plates, strips and old glass have edges. Gloves where the hand does not have to feel. (HSE Personal Protective Equipment at Work Regulations; OSHA 29 CFR 1910.138.)
danger-mercury = Mercury in a pendulum: keep the jar upright and closed. A spill is never swept, vacuumed or sent down a drain. (OSHA, 29 CFR 1910.1000 of 1971, 0.1 mg/m³; NIOSH, 2007, 0.05 mg/m³; spills: EPA, and your local authority.)
danger-radium = Hands or dial that ever glowed may carry radium: no scraping, no brushing, no ultrasonic bath; wrap it and ask. (NRC 10 CFR 31.12, or the state's or country's own licensing body.)
danger-chemicals = Cleaning fluids: open air or an extractor, no flame, gloves and eyes covered, and the maker's data sheet read. (OSHA 29 CFR 1910.1200; NIOSH, 2007: Stoddard solvent 350 mg/m³; HSE COSHH.)
danger-ammonia =
    { $usage ->
        [american] Ammonia cracks brass that is under strain, and hurts eyes and lungs: short dips, rinsed and dried, never a spring barrel or a tight bushing left in it. { danger-ammonia-air }
       *[british] Ammonia cracks brass that is under strain, and hurts eyes and lungs: short dips, rinsed and dried, never a spring barrel or a tight bush left in it. { danger-ammonia-air }
    }
danger-ammonia-air = (Test: ASTM B858. Air: OSHA, 29 CFR 1910.1000 of 1971, 50 ppm; NIOSH, 2007, 25 ppm.)
danger-lathe = At a lathe: sleeves and hair tied back, eyes covered, chuck key out, no gloves. (OSHA 29 CFR 1910.212; HSE PUWER.)
danger-click = { caution-click } (Stored energy: OSHA 29 CFR 1910.147; HSE PUWER.)
danger-running = Fingers clear of the fly and the hammer while the train runs. (OSHA 29 CFR 1910.212; HSE PUWER.)
danger-local = Local codes and licensed practice come first.

## What was seen and done to a clock as a whole (English only)

work-intake = Came in: { $clock }.
work-owner = Of { $owner }.
work-complaint = “{ $says }”
work-promised = Promised for { $day }.
work-picture =
    { $here ->
        [yes] A picture, { occasion }.
       *[no] A picture, { occasion }; removed.
    }
occasion =
    { $when ->
        [before] as it came
        [after] as it went
       *[during] meanwhile
    }
work-measured = { $what }: { $value }.
work-found = Found at { $part }: { $says }.
work-fitted = Fitted: { $part }.
work-oil = Oiled: { $place }, { $oil }.
work-ran = Ran { $hours } hours.
work-rate =
    { $way ->
        [gains] Gains { $number } seconds a day.
        [loses] Loses { $number } seconds a day.
       *[keeps] Neither gains nor loses.
    }
work-beat = Out of beat by { $number } ms.
work-arc = Swings { $number }° to a side.
work-struck =
    { $struck ->
        [right] All it struck was right.
       *[wrong] It struck wrong.
    }
work-correction = Number { $of } put right: { $to }
work-check = Done, { stage }: { $item }.
work-stage = Now: { stage }.
work-sheet = The sheet as it is known from here on.
work-sheet-asked = On the sheet: questions answered, or how it lies. Nothing that turns or is read is otherwise.
changed-nothing = Nothing that turns or is read is otherwise than before.
changed = Otherwise than before: { $changes }.
changed-more = and { $count } more
changed-value = { $what } { $now }, was { $was }
changed-new-value = { $what } { $now }, new
changed-new = { $what } new
changed-gone = { $what } gone
changed-otherwise = { $what } otherwise
changed-uncounted = not counted
changed-window = { $from } to { $to }
changed-window-of = the window of { $witness }
changed-name = the name
changed-seen-from = the plate it is seen from
changed-runs = the { $arbor } arbor runs
changed-mesh = the mesh of { $driver } with { $driven }
changed-strike = how it strikes
changed-works = rack or chime
work-handed-back = Handed back.
work-handed-back-to = Handed back to { $to }.
work-lesson = Mis-timed on purpose, to be put right.
work-removal = Removed for good from { $numbers }.
removed = (removed)
unit-teeth = teeth
unit-turns = turns
unit-s-per-day = s a day

## The printed record (English only)

record-title = { $name }: { $title }
record-owner = Record of the overhaul
record-repairer = The whole record
record-complaint = What was said to be wrong
record-found = What was found
record-found-none = Nothing is written down.
record-done = What was done
record-done-none = Nothing is written down.
record-timed =
    { $openings ->
        [0] The strike train was put in time without spreading the plates again.
        [one] The strike train was put in time in one opening of the plates.
       *[other] The strike train was put in time in { $openings } openings of the plates.
    }
record-in-time = The strike train was looked at and stands in time.
record-out-of-time = The strike train was looked at and is not in time yet: nothing is written down that has put it right since.
record-not-looked = It is not written down that the whole strike was looked at since it was last moved or put together.
record-not-sure = The strike train was looked at: what was read stood where it should, but it is not sure that all of it is in time.
record-ran = How it ran
record-ran-none = No trial is written down.
record-plot = What it gained or lost a day in each of { $count } trials
record-plot-gains = gains
record-plot-loses = loses
record-plot-unit = Seconds a day, trial by trial.
record-wind = How to wind and set it
record-oil = When to oil it next
# Common practice, no source.
record-oil-next = Oiled by { $from }. Have it looked at after { $look }, and cleaned and oiled again after { $again }, sooner where it stands in dust or damp; dry or dirty oil wears the holes.
record-oil-plan = Where the oil goes
record-oil-none = No oiling is written down: ask before you run it.
record-picture = The clock: { $says }
record-picture-of = Picture of entry { $n }
record-pictures = Pictures, by number of entry
record-log = All that was seen and done
record-sheet = The sheet
record-scale = Scale { $drawn } : { $real }.
record-no-scale = Schematic: not to scale, as the distance between arbors is not known at every mesh.
record-bar = This bar is { $long } long.
record-back = Back to the job
record-local = Weights, springs and what is on an old dial can hurt. Local codes and licensed practice come first.

## The pages of a whole job (English only)

jobs-all = All jobs, those gone home too
jobs-more = More
jobs-nameless = (name removed)
another-sheet = Its sheet, if it was counted already
search = Look for words
search-do = Look
search-sheet = On its sheet:
search-old-sheet = On a sheet before the one that counts:
search-most = Found more than { $count } times; these are the latest.
search-found =
    { $count ->
        [0] Nothing was found.
        [one] Found once.
       *[other] Found { $count } times.
    }

left-open = Left open
left-open-hand-back = Hand it back all the same
left-open-not-yet = Not yet
way-stages = The stages of this job
way-here = (here now)
way-left = { $count } left
way-none-left = all done
way-on = Go on to: { stage }
way-to-here = The job is here now
way-time = Time the strike train
way-points = What is left here
way-no-points = Nothing on this sheet asks for anything here.
way-tick = Done
way-untick = Not done after all
way-shown = done, as the record shows
way-own = A point of your own, for every job
way-own-add = Add it
way-own-drop = Drop it from the list
way-known = What is known
way-papers = On paper
way-by = The job as it stood on the evening of
way-by-show = Show it
way-then = As it stood on the evening of { $day }.
way-then-now = Show it as it stands now
way-take-back = Take it back
way-put-right = Put it right
log-mended = put right since
way-number = { $what }: number { $n }
way-remove = Remove what names a person
way-remove-about = Of these entries names, addresses and pictures are emptied for good (such a picture in another job too), in the book, beside it and in its own backups. The entries stay. What was carried off by hand is out of reach.
way-remove-sure = I mean it: this cannot be taken back
way-remove-do = Remove
removal-back = Back to { $name }
removal-entry = { $name }, entry { $n }:
removal-beginning = { $name }, what it began with (name or first sheet)
removal-kind = { $kind }: { $says }
removal-point = A point that was done
removal-show = Show it
removal-show-of = Show entry { $n } of { $name }
removal-clock = (The clock’s name goes with it.)
removal-whole = It stands in these entries too
removal-whole-about = The whole name, number or address stands in them. What is ticked has its text emptied along, for good, everywhere that a removal reaches. Not ticked are the owner of a clock that is still here, and another owner who has the same number.
removal-part = It may stand in these
removal-part-about = Only a part of it stands in them, such as a surname, and that may be somebody or something else. Tick what is to be emptied along.
removal-more =
    { $count ->
        [one] One more entry has such a part in it; look for it with the search.
       *[other] { $count } more entries have such a part in them; look for them with the search.
    }
removal-fixed = It stands here too, and stays
removal-fixed-about = A sheet, or what an entry is called by, is not emptied; a new sheet leaves the one before it in the book.
removal-point-of-shop = A point of the shop’s own says “{ $says }”. It stands on every job; if it names that person, drop it from the list at its stage.
removal-after = What may still name a person
removal-after-about = In these entries something of what was removed may still stand. Nobody knows any more what was removed, so look at each, and tick what is to be emptied for good.
removal-empty = Empty what is ticked
removal-stay-about = If they may stay as they are, this is told no longer.
removal-stay = They may stay
removal-nothing = Nothing that names a person is left here to be removed.
removal-left =
    { $count ->
        [one] In one entry something of what was removed from this job may still stand.
       *[other] In { $count } entries something of what was removed from this job may still stand.
    }
removal-look = Look at them
removal-again = Try it again now
way-not-swept = What was removed from this job is gone from the book, but not yet from everything beside it; it is tried again with the next backup.

known-no-sheet = There is no sheet yet: what follows from counts and measures is not known.
known-counted =
    { $trains ->
        [one] On the sheet: 1 train, { $arbors } arbors, { $meshes } meshes.
       *[other] On the sheet: { $trains } trains, { $arbors } arbors, { $meshes } meshes.
    }
known-centres =
    { $measured ->
        [0] The distance between arbors is not measured at any mesh, so drawings are schematic. Enter it as a measure of { $mesh }.
       *[other] The distance between arbors is measured at { $measured } of { $all } meshes; until all are, drawings are schematic.
    }
known-no-scale = The distances measured between arbors do not fit together with the counts, so drawings are schematic: measure or count again.
known-to-scale = The distance between arbors is measured at every mesh: drawings are to scale.
known-wound = How far a spring is wound now is not known.
known-down = How many turns and how much energy are still in a spring is not known.
known-look = How deep wheels mesh, and what wear has done to the timing, is not known: look, feel, and write it down.
known-together = { $witnesses } witnesses show whether the strike train is in time.
known-no-strike = No strike is on the sheet.
known-prove = By the sheet, { $blows } blows in twelve hours.
known-by-sheet = By the sheet, as it is meant to stand, and not as it was seen or heard:
known-rate = What pendulum the train wants is not known.
known-out = Which oil goes where is not known.

entered = Entered as number { $n }: { $says }
enter-right = Put number { $n } right
enter-intake = It came in
enter-clock = What the clock is called
enter-complaint = What is said to be wrong
enter-owner = Whose it is
enter-reach = How to reach them
enter-promised = Promised for
enter-measurement = A count or a measure
enter-what = What was measured
enter-value = The figure
enter-unit = Of what
enter-spread = Give or take
enter-found = Something was found
enter-part = The part
enter-found-says = What was found
enter-fitted = A part was fitted
enter-fitted-says = What was done
enter-oil = Oil was put on
enter-place = Where
enter-oil-kind = Which oil
enter-trial-run = It ran on trial
enter-hours = Hours it ran
enter-rate = Seconds gained a day; lost −
enter-beat = Out of beat, milliseconds
enter-arc = Swing to one side, degrees
enter-struck = What it struck
enter-struck-unheard = was not heard
enter-struck-right = was all right
enter-struck-wrong = was not all right
enter-note = A note
enter-says = What to remember
enter-handed-back = It was handed back
enter-to = To whom
enter-picture = A picture
enter-picture-file = The picture
enter-picture-when = When
enter-picture-says = What it shows
enter-sheet = The sheet
refused-empty = { $field }: nothing was written there.
refused-odd = { $field }: “{ $got }” cannot be entered there.
picture-cut-short = This picture is cut short: its end is missing. Send it again, from the camera itself if that helps.
picture-too-much = This picture takes more room to unpack than there is. Save it smaller, or as a JPEG that is not progressive, and send it again.
refused-home = It has been handed back already. To go on with it, enter that it came in again.
refused-left-open = It has not been handed back yet: the points below are open.
refused-no-lesson = This movement cannot be put wrong so that it shows. Choose one with witnesses, and fewer wheels.

lesson = Learn to time a train
lesson-about = A movement is mis-timed where nobody sees it. Put it right in as few openings as you can.
lesson-which = With the movement of
lesson-wheels = Wheels put wrong
lesson-begin = Begin
lesson-name = Lesson: { $name }
lesson-question = Which wheel, how many teeth, and which way?
lesson-not-yet = Not yet. Look, and open it again.
lesson-right =
    { $count ->
        [0] All is in its window.
        [one] All is in its window, in one opening.
       *[other] All is in its window, in { $count } openings. One would have done.
    }
lesson-openings =
    { $count ->
        [0] The plates were not spread yet.
        [one] The plates were spread once.
       *[other] The plates were spread { $count } times.
    }
lesson-wheel = Lift the arbor
lesson-arbor = { $arbor } ({ $mesh })
lesson-teeth = Teeth
lesson-way = Which way, as you look at it now
lesson-clockwise = clockwise
lesson-counterclockwise = counterclockwise
lesson-also = In the same opening
lesson-open = Open it and turn
lesson-solution = What was put wrong
lesson-give-up = Show what was put wrong
lesson-line = A lesson

## How an owner winds and sets it

# All of it is common practice, no source. Nothing here may bend or break something in a hand that does not know the clock.
wind-all = Wind every train that has a winding square, gently to the stop, on the same day each week or month.
wind-set =
    { $waits ->
        [hours] Set it by the minute hand, forward only, and wait at each hour until it has struck.
        [halves] Set it by the minute hand, forward only, and wait at each hour and half hour until it has struck.
       *[quarters] Set it by the minute hand, forward only, and wait at each quarter until it has chimed and struck.
    }
wind-set-silent = Set it by the minute hand, forward only.
# The lever that lies on the count wheel.
wind-lever =
    { $usage ->
        [american] the count lever on the edge of the count wheel
       *[british] the lever on the edge of the locking plate
    }
wind-count-wheel =
    { $usage ->
        [american] The strike counts for itself, by a count wheel, so moving the minute hand on never brings strike and hands together: both go on by one. { wind-count-wheel-apart }
       *[british] The strike counts for itself, by a locking plate, so moving the minute hand on never brings strike and hands together: both go on by one. { wind-count-wheel-apart }
    }
wind-count-wheel-apart =
    { $waits ->
        [hours] If it strikes another hour than the hands show, push the hour hand alone, gently, round to the hour that it struck last; then move the minute hand forward to the right time, and wait at each hour. { wind-count-wheel-hand }
       *[halves] If it strikes another hour than the hands show, push the hour hand alone, gently, round to the hour that it struck last; then move the minute hand forward to the right time, and wait at each hour and half hour. { wind-count-wheel-hand }
    }
wind-count-wheel-hand = If the hour hand does not go with a light push, leave it. Or, where { $lever } can be reached without taking anything off, lift it and let it go while the minute hand is well away from where it strikes: each time it strikes what comes next. Do so until it has struck the hour that the hands show. If neither can be done, ask.
wind-half = If it strikes the hour at the half hour and one at the hour, lift { $lever } once in the same way, and let it strike.
wind-bells = The bells count for themselves. If it strikes other bells than are due, lift { $lever }, where it can be reached without taking anything off, and let it go while the minute hand is well away from the hour and the half hour: each time it strikes what comes next. Do so until it has struck the bells that are due: eight at four, at eight and at twelve o'clock. If it cannot be reached, ask.
wind-rack = The strike reads the hour from the wheel behind the hour hand. If it strikes another hour than the hands show, the hour hand has slipped: with the minute hand just past the hour, push the hour hand alone, gently, to the hour that it struck. If it does not go with a light push, leave it, and ask.
wind-chime-rights = If the quarters are out, leave it: they right themselves in an hour or two, and may be silent until then.
wind-chime = If the quarters are out, do not move the hands for it: lift the lever of the chime, if it can be reached without taking anything off, and let it chime round until it has chimed the quarter that the minute hand has last passed. If it cannot be reached, ask.
wind-back = Never turn the minute hand back: it can bend what lets the strike off.
wind-rate = If it has a pendulum and gains, lower the bob a little by the nut under it; if it loses, raise it.

## Boxes for what is measured

box-heading = What is measured
box-how = Put in what you have; leave the rest. A unit may be typed with it: mm, cm, in, g, kg, oz, lb, °. So may fractions (2 3/16 in, ¼") and several measures of one thing, a blank between (2.51 2.53 2.50): their mean is taken.
box-arbor = The { $arbor } arbor
box-mesh = { $driver } into { $driven }
# $part is empty but for what is told of one part of several.
box-thing =
    { $thing ->
        [spring_width] Width of the spring
        [spring_thick] Thickness of the spring
        [spring_long] Length of the spring, laid out
        [spring_arbor] Arbor that the spring is wound on, across
        [spring_opens] Open spring let down, across
        [barrel_inside] Barrel inside, across
        [barrel_high] Barrel inside, height
        [winding_turns] Turns of the key, run down to wound up
        [weight] Weight
        [drum] Drum, across
        [cord] Cord, thickness
        [double_cord] Cord over a pulley, thickness
        [fall] Fall of the weight
        [pendulum] From the bend of the suspension to the middle of the bob
        [pendulum_half_arc] Swing to one side
        [pendulum_bob] Bob and rod together
        [pendulum_nut] One turn of the rating nut moves the bob (or its threads to the inch: 40 tpi)
        [suspension] Suspension spring, free from chop to chop
        [suspension_wide] Width of the suspension spring, all strips together
        [suspension_thick] Thickness of the suspension spring, one strip
        [pivot] Pivot, across
        [hole] Its hole, across
        [centre] From middle to middle
        [lash] Shake of the driven part, in parts of a tooth
       *[outside] { $part } over its teeth
    }
box-stands = Now { $amount }
box-measured = Measured already
box-unknown = Don't know
box-sure = It is so
box-put-in = Put in
box-unit-mm = In millimetres
box-unit-in = In inches
box-drives = What drives the { $arbor } arbor?
box-drive =
    { $drive ->
        [barrel] A spring in a barrel
        [open] An open spring
        [weight] A weight
       *[pulley] A weight with a pulley
    }
box-nothing = Nothing was put in: type a measure into a box first.
box-wrong = Nothing is put in yet: see what is said at the boxes.
box-drawing = From where to where: { $thing }
box-not-positive = Nothing, or less than nothing: a measure is more than 0.
box-absurd = No clock has that: usual is { $least } to { $most }. A slip of the point, or another unit?
box-unusual = Far from usual, { $least } to { $most }. If it is so, say so beneath and put it in again.
box-unit =
    { $wanted ->
        [length] “{ $got }” is no unit of length: a length belongs here, in mm, cm, m or in.
        [mass] “{ $got }” is no unit of weight: a weight belongs here, in g, kg, oz or lb.
        [angle] “{ $got }” is no unit of an angle: degrees belong here, such as 2.5 or 2° 30'.
       *[number] “{ $got }”: a plain number belongs here.
    }
box-thousands = That may be { $point } or { $whole }: type it as one of these.
box-apart = These lie too far apart to be measures of one thing.
box-too-much = More than anything of a clock has.
box-spread = What stands behind ~ is no measure from 0.
box-unread =
    { $wanted ->
        [length] Not understood: a length belongs here, such as 2.51, 2,51 or 3/8 in.
        [mass] Not understood: a weight belongs here, such as 250 or 2 lb 3 oz.
        [angle] Not understood: degrees belong here, such as 2.5 or 2° 30'.
       *[number] Not understood: a number belongs here, such as 7.5.
    }
box-counts-missing = Counts are missing, and this needs them all: put them in first.
box-no-counts = Nothing is counted yet: count the train first.
box-count-found = Put these counts in
box-not-put-in = The sheet has no place for it any more: look at the page again.

## How it strikes, and what is asked of it

# Trade words are from memory.
kind-name =
    { $kind ->
        [count-wheel-and-cam] a count wheel, a cam and pins
        [count-wheel-outside] a count wheel outside the plate, no cam
        [rack] a rack and snail
        [quarters] quarters on bells, and the hour by a rack
        [ships-bell] a ship’s bell
        [tower] a tower movement, its count wheel driven from the barrel
       *[other] {""}
    }
kind-asks =
    { $question ->
        [halves] What does it strike at the half?
        [lifting_wheel] Which wheel lifts the hammer?
        [lifters] How many pins or star points lift the hammer?
        [cam_arbor] Which arbor carries the cam?
        [notches] How many notches has the cam?
        [stopped_by] When it has struck, what stops it?
        [locking_wheel] Which wheel carries the pin that is stopped?
        [warned_at] Which pin does the warning catch?
        [warning_wheel] Which wheel carries the warning pin?
        [count_moved] How is the count wheel moved?
        [count_wheel_on] On which arbor does the count wheel sit?
        [count_held] How is the count wheel held on its arbor?
        [drum_held] How is the drum that plays the quarters held on its arbor?
        [count_turns] How long does the count wheel take for a turn?
        [runs] Which way does the great wheel run, as you look at it?
        [lever] Is the count lever soft wire, or hardened?
        [as_it_came] Did it strike every hour right when it last was whole?
        [pace] How fast does it strike?
        [slot] How wide is a slot of the count wheel, at its bottom?
        [tip] How thick is the count lever where it falls into the slot, along the rim?
        [blade] How thick is the blade that falls into the slot, along the rim?
        [power] What drives the strike?
        [going] Shall the wheels that drive the hands, the going train, be counted here too?
        [ring] How are the teeth of the great wheel cut?
        [fly] Must the fly stand clear of anything when it is held?
        [locking_pins] How many pins has the locking wheel?
        [voices] What sounds at a blow?
        [plates] What holds the plate that is lifted?
        [cock] Does a small cock let one wheel out alone?
        [locked_by] What locks the strike?
        [at_will] Can it be silenced, or made to repeat?
        [pallet_arbor] Which arbor carries the gathering pallet?
        [pallet_held] How is the gathering pallet held?
        [rack_teeth] How many teeth has the rack?
        [rack_tail] Does the rack’s tail give way, or is it solid?
        [snail] What carries the snail?
        [hour_hand] How is the hour hand held?
        [chime] Is the chime train to be put down?
        [correction] Does the chime put itself right at the hour?
       *[other] {""}
    }
kind-choice =
    { $choice ->
        [halves-passing] one, from a cam that lifts the hammer itself
        [halves-halves] one, by the train
        [halves-ten] one, but none at half past twelve and half past one
        [halves-none] nothing
        [notches-one] one
        [notches-two] two
        [stopped_by-pin] a pin on a wheel, against an arm
        [stopped_by-notch] the lever, in the square notch of the cam
        [stopped_by-hoop] the lever, in the gap of a hoop wheel
        [warned_at-same] the same pin
        [warned_at-other] another pin
        [count_moved-pinion] by a pinion on the arbor of the hammer’s pins
        [count_moved-great] by the great wheel’s arbor
        [count_moved-pins] by a pin, a tooth at a blow
        [count_moved-train] it sits on an arbor of the train
        [count_held-fast] fast
        [count_held-square] on a square
        [count_held-friction] by friction
        [count_held-screw] by a screw
        [drum_held-fast] fast
        [drum_held-friction] by friction
        [drum_held-screw] by a screw
        [count_turns-half_day] twelve hours
        [count_turns-day] a day
        [lever-soft] soft wire
        [lever-hard] hardened
        [as_it_came-yes] yes
        [as_it_came-apart] yes, but it came in pieces
        [as_it_came-no] no
        [power-spring] a spring in a barrel
        [power-open_spring] an open spring
        [power-fusee] a spring and a fusee
        [power-weight] a weight
        [going-left_out] no, only the strike
        [going-there] yes, both trains
        [ring-outside] outside
        [ring-inside] inside a ring
        [fly-free] no
        [fly-clear] yes, of a wire or an arm
        [locking_pins-one] one
        [locking_pins-two] two, opposite
        [voices-one] one hammer
        [voices-two] two hammers
        [voices-bellows] a hammer and two bellows
        [plates-pins] pins
        [plates-nuts] nuts
        [plates-screws] screws
        [cock-none] no
        [cock-warning] yes, the warning wheel
        [cock-locking] yes, the locking wheel
        [locked_by-tail] the pallet’s tail, on the pin of the rack
        [locked_by-hook] the hook’s arm, on a pin
        [at_will-none] neither
        [at_will-silent] it can be silenced
        [at_will-repeat] it repeats when pulled
        [at_will-both] both
        [pallet_held-square] on a square
        [pallet_held-taper] on a taper, with a pin
        [rack_tail-solid] solid
        [rack_tail-sprung] it gives way to the side
        [snail-hour_wheel] the hour wheel
        [snail-star] a star of twelve
        [hour_hand-square] on a square
        [hour_hand-pinned] by a pin
        [hour_hand-friction] by friction
        [chime-there] yes
        [chime-left_out] not now
        [correction-there] yes
        [correction-none] no
       *[other] {""}
    }
not-described-kind = { $got } is no kind of strike; `trundle sheet` lists them
not-described-question = { $got } is no question of this kind of strike; `trundle sheet` lists them
not-described-answer = { $question } takes no such answer; `trundle sheet` lists what it takes
not-described-does-not-go = that answer to { $question } does not go with the others: what it names is not there
not-described-work = what is asked about is not on this sheet
not-described-width = a width of nothing, or wider than its wheel; expected WIDE/ACROSS, such as `1.2mm/48mm`
not-described-part = { $got } is no part of the { $arbor } arbor; { $hint }
not-described-arbor = { $got } is no arbor of this sheet; { $hint }
not-described-mesh = no mesh of { $driver } and { $driven } on this sheet
not-described-table = no { $id } on this sheet
not-described-taken = { $name } is there already
not-described-name = { $got } is no name; expected small letters, digits and `_`, a letter first
not-described-key = { $got } is no key there; { $hint }
not-described-carries = { $name } cannot go: { $carries } is on it or meshes with it
not-described-list = see `trundle keys`
not-set = { $written } cannot be set; expected PLACE=VALUE, such as `second.wheel=72`, `second.wheel=72?`, `third.pinion=lantern`, `track.slots.slot_deg=2.8` or, of a question, `halves=none`

## Cautions of the other sums (English only)

# Figures for mercury, radium, ammonia and solvents are those of outside/hazards.toml, with their sources; the rest is common practice, no source.
caution-let-down = Let the spring down with a key that fits, click held off, a quarter turn at a time, before any pillar is undone. It is pulled out and put in with a winder, in gloves and glasses, never by hand.
caution-weight = Take the weight off before the movement is touched: let it down on a hook or in the hand, and never cut a cord under load.
caution-mercury = Mercury: never vacuum or sweep a spill, never pour it away; more than two tablespoons, about 1 lb, is for professionals. The air over it at { $units ->
        [in] 68 °F (20 °C)
       *[mm] 20 °C
    } holds over a hundred times the 0.1 mg/m³ that is allowed at work in the United States (0.025 mg/m³ is recommended by its hygienists). Leave a jar shut.
caution-luminous = Luminous dials and hands of old clocks may hold radium, half of it still there after 1600 years: do not scrape, brush or wash them; loose hands and dials fall under licensing in many places.
caution-ammonia = Ammonia in a bath: 50 ppm in the air is the limit at work in the United States, 25 ppm in its recommendations, 300 ppm a danger to life. It can crack brass of more than 15 parts of zinc that is under stress; keep dips short and rinse well.
caution-solvents =
    { $units ->
        [in] Solvents burn: petrol gives off what burns at -45 °F (-43 °C), white spirit from 102 to 110 °F (39 to 43 °C). No petrol or benzine in a bath, whatever old books say; a window open, no flame, no spark.
       *[mm] Solvents burn: petrol gives off what burns at -43 °C (-45 °F), white spirit from 39 to 43 °C (102 to 110 °F). No petrol or benzine in a bath, whatever old books say; a window open, no flame, no spark.
    }
caution-out-of-case = A movement that runs out of its case: clamp it so that it cannot tip or walk, and keep fingers, sleeves, hair and the microphone's cable clear of the fly, the hammers and the swing of the pendulum.
caution-hanging-weight = A weight that hangs while it runs falls when a cord or a click lets go: nothing fragile under it, no foot, and a line that is sound.

## Measurements (English only)

# A number, its spread with it, and its unit. Their spaces do not break.
measured =
    { $unit ->
        [mm] { $number }{"\u00A0"}mm
        [m] { $number }{"\u00A0"}m
        [in] { $number }{"\u00A0"}in
        [kg] { $number }{"\u00A0"}kg
        [g] { $number }{"\u00A0"}g
        [lb] { $number }{"\u00A0"}lb
        [oz] { $number }{"\u00A0"}oz
        [n-mm] { $number }{"\u00A0"}N{"\u00A0"}mm
        [lb-in] { $number }{"\u00A0"}lb{"\u00A0"}in
        [j] { $number }{"\u00A0"}J
        [mj] { $number }{"\u00A0"}mJ
        [an-hour] { $number } an hour
        [m-per-s2] { $number }{"\u00A0"}m/s²
        [n-per-mm2] { $number }{"\u00A0"}N/mm²
        [mm2-per-s] { $number }{"\u00A0"}mm²/s at 40{"\u00A0"}°C
        [s] { $number }{"\u00A0"}s
        [hours] { $number }{"\u00A0"}hours
        [days] { $number }{"\u00A0"}days
        [years] { $number }{"\u00A0"}years
        [s-a-day] { $number }{"\u00A0"}s a day
        [min-a-day] { $number }{"\u00A0"}min a day
        [celsius] { $number }{"\u00A0"}°C
        [fahrenheit] { $number }{"\u00A0"}°F
        [turns] { $number }{"\u00A0"}turns
        [divisions] { $number }{"\u00A0"}divisions
       *[blows] { $number }{"\u00A0"}blows
    }
rate =
    { $way ->
        [loses] loses { $much }
       *[gains] gains { $much }
    }
unwritten = { $field } { $written } has { $what }
unwritten-nothing = nothing in it
unwritten-long = more figures than any measurement bears
unwritten-number = no number in front of its unit; expected one such as 2.5, 2,5 or 2 1/2
unwritten-unit = the unit { $got }; expected { $units }
unwritten-no-unit = the unit { $got }; a plain number is expected
unwritten-which-unit = no unit; expected { $units } after the number
unwritten-thousands = a comma that may be two things; write { $point } or { $whole }
unwritten-apart = measures too far apart to be of one thing
unwritten-too-much = more of it than anything of a clock has
unwritten-spread = no number from 0 after `~`, one standard deviation
not-understood =
    { $form ->
        [airs] { $field } { $written } is not understood; expected FROM..TO in hectopascals, such as `1013..980`
        [piece] { $field } { $written } is not understood; expected MASS@PLACE, MASS@FROM..TO or MASS@PLACE:disc=DIAMETER
        [strip] { $field } { $written } is not understood; expected WIDTHxTHICKxLONG, such as `19x0.4x1400mm`
       [across] { $field } { $written } is not understood; expected MASS@DIAMETER, such as `300g@80mm`
       *[turning] { $field } { $written } is not understood; expected MASS@RADIUS, such as `300g@40mm`
    }
out-of-bounds =
    { $out ->
        [latitude] { $field } { $written } is no latitude; expected 0 at the equator to 90 at a pole, south -
        [height] { $field } { $written } is no height above the sea; expected -500 to 9000 m
        [swing] { $field } { $written } is no swing to one side; expected more than 0 and less than 90 degrees
        [beats] { $field } { $written } is no pace of a clock; expected 60 to 360000 an hour
        [length] { $field } { $written } is no pendulum's length; expected 5 mm to 100 m
        [run] { $field } { $written } is no run of a winding; expected a minute to ten years
       *[vague] { $field } { $written } has a spread of more than half of it; what is known so little tells nothing
    }
not-known = { $field } { $written } is not known; expected { $words }
caution-line = Caution. { $says }

## Missing and doubtful counts (English only)

count-missing =
    { $kind ->
        [lost] { $name }: no count for { $lost }
        [doubted] { $name }: in doubt: { $doubted }
       *[both] { $name }: no count for { $lost }; in doubt: { $doubted }
    }
count-believed = { $missing }; in doubt, and taken as written, since so many cannot be worked out at once: { $believed }
count-written-as = { $part } (written as { $count })
count-open = { $missing }; good as far as it goes. `trundle count` finds the counts that fit
count-demands = What must come out, and what was measured:
count-cut =
    { $likeliest ->
        [yes] More fit than can be listed: the search from { $least } to { $most } teeth was cut short. These { $count } are the likeliest of all, the first first; how likely is told among them alone. Measure more.
       *[no] More fit than can be listed: the search from { $least } to { $most } teeth was cut short at { $count }, so these need not be the best. Measure more.
    }
# $likeliest is of those that were told; where nothing fits yet, $count is 0.
count-left =
    { $stopped ->
        [yes] { count-left-so-far } It was stopped before all counts from { $least } to { $most } teeth were tried.
       *[no] { count-left-so-far } Not all counts from { $least } to { $most } teeth were tried: there are too many. Measure more, or have it go on.
    }
count-left-so-far =
    { $count ->
        [0] None fits so far.
        [one] One set fits so far{ count-left-best }
       *[other] { $count } sets fit so far{ count-left-best }
    }
count-left-best =
    { $likeliest ->
        [yes] , the likeliest of all first; how likely is told among them alone.
       *[no] , and these need not be the best.
    }
count-begun = So far: just begun.
count-goes-on = It goes on by itself, and this page asks again every two seconds.
count-not-begun = A page of another site led here, so nothing was begun. If you want these counts searched for, press the button below.
count-stop = Stop: show what was found so far
count-on = Go on ten times as far
count-so-far =
    { $count ->
        [0] So far: { $tried } million steps, and nothing that fits.
        [one] So far: { $tried } million steps, and one set that fits: { $last }
       *[other] So far: { $tried } million steps, and { $count } sets that fit, { $last } the last of them
    }
count-clash = What was asked and the sheet do not agree: the { $arbor } arbor's counts and `winding_turns` already give { $sheet }, and a run of { $asked } was asked for. One of them is wrong; count again, or ask again.
count-found =
    { $count ->
        [0] Nothing fits, of all counts from { $least } to { $most } teeth.
        [one] One set fits, of all from { $least } to { $most } teeth, each held against every demand.
       *[other] { $count } sets fit, of all from { $least } to { $most } teeth, each held against every demand.
    }
count-broken =
    { $known ->
        [yes] But for this, something would: { $demand }; the nearest that the rest allows is { $nearest }. Count or measure that again.
       *[no] But for this, something would: { $demand }. Count or measure that again.
    }
count-broken-untried = Whether something would without one of the others was not tried to the end: there are too many counts.
count-set = { $counts }: { $odds }
count-of = { $part } { $count }
count-rest =
    { $asked ->
        [field] { $count } more, less likely: { $odds } that it is one of them.
       *[option] { $count } more, less likely: { $odds } that it is one of them; `--all` tells them.
    }
count-sure = How likely follows from the measurements and from what trains commonly have (The Modern Clock, Chicago 1905, p. 258). Cut no wheel on it before a size of the old one, or of its mate, agrees.
count-once-round = { $of } once round in { $turns } of { $per }
count-against = { $of } against { $per }
count-turns-of = { $turns } of { $of } in one of { $per }
# $aim is empty, or a comma and a figure.
count-turns-aim = turns of { $of } in one of { $per }{ $aim }
count-loop = the loop at { $mesh } closes
count-blow =
    { $kind ->
        [many] { $witness } goes on by one of its { $count } places at each blow
       *[few] { $witness } comes back to its place at each blow
    }
count-beats = beats an hour{ $aim }
count-run = hours of one winding of { $arbor }{ $aim }
count-sizes = { $one } and { $other } are of one module
count-turns =
    { $kind ->
        [one] 1 turn
       *[more] { $number } turns
    }
count-over-teeth = { $part } over its teeth
count-centre = { $one } to { $other }
# $off is empty, or how far off it is.
count-gives =
    { $unit ->
        [beats] { $number } beats an hour{ $off }
        [hours] { $number } hours of a winding{ $off }
       *[turns] { $number } turns{ $off }
    }
count-off = , { $number } of its spreads off
count-module = module { $module }, by { $by }
count-nothing-missing =
    { $asked ->
        [field] every count is there: none is lost or in doubt
       *[option] every count is on the sheet; write `"?"` for one that is lost, `"72?"` for one that is in doubt
    }
count-too-many = { $got } counts are not known; at most { $most } can be worked at once
count-unbound =
    { $asked ->
        [field] nothing that was counted or measured bears on { $part }; measure it over its teeth, or the distance of its arbor from the next, or say { $beats }, { $runs } or { $must }
       *[option] nothing that was counted or measured bears on `{ $part }`; measure `{ $name }_outside_mm` on its arbor or `centre_mm` in its mesh, or say { $beats }, { $runs } or { $must }
    }
count-not-joined = no path of meshes joins { $one } to { $other }
count-no-escape =
    { $asked ->
        [field] beats are given, but it is not plain which part is the escape wheel; say { $escape }, ARBOR.PART
       *[option] beats are given, but it is not plain which part is the escape wheel; say `--escape ARBOR.PART`
    }
count-no-time =
    { $asked ->
        [field] nothing in the train of { $arbor } says how long a turn takes
       *[option] nothing in the train of { $arbor } says how long a turn takes; write `turn_s` on an arbor, such as 3600 on the centre arbor
    }
count-no-winding =
    { $asked ->
        [field] { $runs } is given, but the turns of the key are not known on any arbor
       *[option] { $runs } is given, but no arbor has `winding_turns`
    }
count-bad-must = { $written } is no ratio; expected ARBOR:ARBOR=TURNS, such as `hour:centre=1/12` or `fly:warning=7.5~0.1`: turns of the first in one turn of the second
count-bad-part = { $written } is no part of this sheet; expected ARBOR.PART
count-bad-range = counts from { $least } to { $most }; expected the smaller number first, from 4 to 1000

## What drives a train (English only)

power-says-spring = The { $arbor } arbor's spring: { $turns }, { $stored } wound up; let down there is still { $left }.
# What is in a spring still; $about and $most are figures without a spread.
power-left =
    { $how ->
        [counted] { $known } in it
        [counted-nothing] { $about } in it
        [guessed-nothing] { $about } in it, if it has set as such strips mostly have. Its free turns were not counted, so treat it as wound
        [counted-about] { $about } in it; one such in twenty holds more than { $most }
       *[guessed] { $about } in it, if it has set as such strips mostly have; one such in twenty holds more than { $most }. Its free turns were not counted, so treat it as wound
    }
power-about =
    { $kind ->
        [less] less than { $number }
        [known] { $number }
       *[about] about { $number }
    }
power-says-lost = The { $arbor } arbor lost its spring: a strip { $thick } thick and { $long } long belongs there.
power-says-weight = The { $arbor } arbor's weight: { $torque } on the drum.
power-spring =
    { $kind ->
        [barrel] The { $arbor } arbor: a spring in a barrel, { $strip }
       *[open] The { $arbor } arbor: an open spring with a loop end, { $strip }
    }
power-lost = The { $arbor } arbor: a barrel without its spring
power-weight =
    { $pulley ->
        [yes] The { $arbor } arbor: a weight of { $mass }, on double cord over a pulley
       *[no] The { $arbor } arbor: a weight of { $mass }
    }
strip = { $wide } wide, { $thick } thick, { $long } long
power-turns = turns: { $turns }, from { $down } coils let down to { $up } wound up
power-fill =
    { $much ->
        [much] it fills { $part } of the room between arbor and wall; half gives the most turns; more than half, so there is little room to wind
        [little] it fills { $part } of the room between arbor and wall; half gives the most turns; less than a third
       *[right] it fills { $part } of the room between arbor and wall; half gives the most turns
    }
power-torque = torque: { $up } wound up, { $half } half way, { $down } at the last turn; { $turn } for each turn
power-stored = stored: { $stored } wound up, as a kilogram falling { $fall }; let down there is still { $left }
power-stress = stress of the strip wound up: { $stress }
power-overstressed = what was counted and measured here gives a stress of { $stress } wound up, and springs that have set bear { $bears }: the free turns, the thickness or the length is likely wrong, so count `spring_free_turns` again, and measure `spring_thick_mm` and `spring_long_mm`; torque and what is stored go by them too
power-instead = In its place, { $strip }:
power-instead-turns = turns: { $turns }, in place of { $before }
power-instead-stored = stored: { $stored }
power-beside = torque: { $up } wound up, against { $up_now } now; { $half } half way, against { $half_now }
# $follows is what follows for the train it drives.
power-follows = wound up { $up } times what it is now, half way { $half } times: { $follows }
# Of a torque that is more, less or like it wound up and half way.
power-follows-all =
    { $felt ->
        [like] nothing much follows
        [less]
            { $train ->
                [strike] it may die in the long hours before the winding is down
               *[going] a narrower swing, and it may stop before the winding is down
            }
       *[more]
            { $train ->
                [strike] wound up it strikes about { $up_pace } times as fast with the same fly, half way about { $pace } times; it lands and locks harder, and wears every pivot more; a larger fly slows it, and spares no pivot
               *[going] more wear on every pivot and pallet, and a wider swing; where that has no room it bangs at its ends
            }
    }
# Of one that is otherwise half way.
power-follows-up =
    { $felt ->
        [like] wound up it goes much as now
        [less]
            { $train ->
                [strike] wound up it strikes about { $pace } times as fast as now with the same fly
               *[going] wound up it swings narrower at first
            }
       *[more]
            { $train ->
                [strike] wound up it strikes about { $pace } times as fast as now with the same fly, lands and locks harder, and wears every pivot more
               *[going] wound up it swings wide at first, with more wear on every pivot and pallet; where the swing has no room it bangs at its ends
            }
    }
# Of one that is otherwise wound up.
power-follows-half =
    { $felt ->
        [like] half way it goes much as now
        [less]
            { $train ->
                [strike] half way it has less than now, and may die in the long hours before the winding is down
               *[going] half way it swings narrower, and it may stop before the winding is down
            }
       *[more]
            { $train ->
                [strike] half way it strikes about { $pace } times as fast as now with the same fly, lands and locks harder, and wears every pivot more
               *[going] half way it swings wider, with more wear on every pivot and pallet; where the swing has no room it bangs at its ends
            }
    }
power-belongs = A strip that fills half the room and gives { $turns } with some in hand: { $thick } thick, { $long } long
power-clash =
    { $by ->
        [fall] `winding_turns` says { $counted }, and the fall gives { $given }: one of them is wrong, so count at the key again, and measure fall, drum and cord; what follows goes by the { power-clash-used }
       *[spring] `winding_turns` says { $counted }, and the spring gives only { $given }: one of them is wrong, so count at the key again, and measure strip and barrel; what follows goes by the { power-clash-used }
    }
power-clash-used =
    { $used ->
        [counted] turns that were counted, which are fewer
       *[given] turns that are given, which are fewer
    }
power-must =
    { $enough ->
        [yes] { $time } take { $turns }, and it gives { $gives }
        [no] { $time } take { $turns }, and it gives only { $gives }: it does not run so long
       *[unknown] { $time } take { $turns }
    }
power-must-unknown = how many turns { $time } take is told with `turn_s` on an arbor of its train, or a strike
power-room = { $barrel } inside, an arbor of { $arbor }, and { $turns } to be given
power-room-strip = the strip that fills half the room and gives them with some in hand: { $thick } thick, { $long } long
power-room-width = as wide as the barrel lets it: { $width }
power-room-unknown = how wide, and with what torque, is told with `barrel_high_mm`
power-drum = torque on the drum: { $torque }
power-fall = the whole fall: { $turns }, { $cord } of cord, { $energy }
power-fall-unknown = how many turns it gives is told with `fall_mm`
power-runs =
    { $with ->
        [blows] a winding lasts { $time }, { $blows }
       *[time] a winding lasts { $time }
    }
power-runs-unknown = how long that runs is told with `turn_s` on an arbor of its train, or a strike
power-down =
    { $half ->
        [yes] Torque down the train, half way down; in brackets if nothing were lost in teeth and pivots:
       *[no] Torque down the train; in brackets if nothing were lost in teeth and pivots:
    }
power-at = { $arbor } { $likely }  ({ $lossless })
power-blow = For the hammer, on the { $arbor } arbor: { $energy } at each blow
power-spreads = ± is one standard deviation. Torque is that of clean coils; a dry or rough spring loses a third, up to a half (The Modern Clock, Chicago 1905, p. 274).
power-drawn-up = wound up, { $coils } coils
power-drawn-down = let down, { $coils } coils
power-drawn-turns = turns wound
power-drawn-torque = torque: { $down } to { $up }
power-nothing-to-draw = too little is known to draw what drives it: of a lost spring the height of its barrel inside is needed, of a weight its fall
power-wrong-arbor = the { $on } arbor: a spring arbor of { $arbor } mm in a barrel of { $barrel } mm leaves no room for a spring; measure both again
power-wrong-room = the { $on } arbor: that strip's edge covers { $strip } mm², and there are { $room } mm² between arbor and wall: the barrel cannot hold it and wind it; half the room is right
power-wrong-wide = the { $on } arbor: a strip { $strip } mm wide in a barrel { $barrel } mm high inside: the cover does not close; some tenths of air are needed
power-wrong-turns = the { $on } arbor: { $up } coils wound up and { $down } let down: no turn to give; measure strip and barrel again
power-wrong-strip =
    { $which ->
        [width] the { $on } arbor: a strip { $mm } mm wide is no clock's spring; expected 0.5 to 200 mm
        [thick] the { $on } arbor: a strip { $mm } mm thick is no clock's spring; expected 0.02 to 5 mm
       *[long] the { $on } arbor: a strip { $mm } mm long is no clock's spring; expected 20 to 30000 mm
    }
power-wrong-free = the { $on } arbor: { $free } turns when it lies free and only { $up } coils wound up: it would have no torque at all; `spring_free_turns` are its coils out of the barrel, fewer than in it
power-no-spring = another strip is asked for, and no spring drives what is asked of; leave it out, or ask of an arbor with a spring
power-nothing = no spring and no weight is on the sheet; write on the arbor that is wound `spring_width_mm`, `spring_thick_mm`, `spring_long_mm`, `spring_arbor_mm` and `barrel_inside_mm` (or `spring_opens_mm` for an open spring), or `weight_g`, `drum_mm`, `cord_mm` (or `double_cord_mm`) and `fall_mm`
power-missing = the { $arbor } arbor has no { $keys }; what is measured there tells nothing without
power-not-positive = { $key } on the { $arbor } arbor is 0 or less; expected more than 0
power-lacks-all = Nothing is measured yet of what drives it: say what does, and put its measures into the boxes.
power-lacks = Of the { $arbor } arbor is lacking: { $things }. Put it into the boxes.
power-lacks-size = { $thing }, on the { $arbor } arbor, is 0 or less: measure it again, and put it into its box.
power-nothing-on = no spring and no weight on the { $arbor } arbor

## Pendulums and rating (English only)

pendulum-falls =
    { $given ->
        [yes] Gravity there: { $gravity }.
       *[no] Gravity, wherever clocks go: { $gravity }.
    }
pendulum-length-for = { $beats } beats an hour: a simple pendulum of { $long }.
pendulum-beats-of = A pendulum of { $long } beats { $beats }.
pendulum-against = As it hangs the clock { $rate }, as far as its length tells.
pendulum-compound = All its pieces together, { $mass }, swing as a simple pendulum of { $long }; their weight hangs { $centre } below the suspension.
pendulum-arc = Swinging { $half } to either side it { $rate } against one that hardly swings. A rate that was measured has that in it already: bring it to time by the nut, and add nothing for this.
pendulum-wider = At { $half } to either side it { $rate } more, if it comes to that: an escapement that keeps its swing, as one with a remontoire or gravity arms does, holds it where it is, and then nothing of this is added.
pendulum-warmer =
    { $way ->
        [colder] A rod of { $rod }, { $warmth } colder: the clock { $rate }.
       *[warmer] A rod of { $rod }, { $warmth } warmer: the clock { $rate }.
    }
pendulum-buoyed = Borne by the air, against none, it { $rate }.
pendulum-thinner = With that change of the air it { $rate }.
pendulum-moved = Moved to the other place, the clock { $rate }.
pendulum-nut-turn =
    { $divided ->
        [yes] One turn of the nut up { $rate }; one division { $division }.
       *[no] One turn of the nut up { $rate }.
    }
pendulum-longer =
    { $way ->
        [up] For a clock that { $rate }: make the pendulum { $long } shorter.
       *[down] For a clock that { $rate }: make the pendulum { $long } longer.
    }
pendulum-way =
    { $way ->
        [up] shorter
       *[down] longer
    }
pendulum-nut-for =
    { $divided ->
        [yes] For a clock that { $rate }: turn the nut { $way } { $turns }, which is { $divisions }; that makes the pendulum { $long } { pendulum-way }.
       *[no] For a clock that { $rate }: turn the nut { $way } { $turns }; that makes the pendulum { $long } { pendulum-way }.
    }
pendulum-laid-on =
    { $way ->
        [off] { $mass } taken off { $below } below the suspension: the clock { $rate }.
       *[on] { $mass } laid on { $below } below the suspension: the clock { $rate }.
    }
pendulum-below = a weight { $below } below the suspension, and the pendulum is { $long } long: expected 0 to once and a half of it
pendulum-shoulder =
    { $way ->
        [off] Or, for a clock that { $rate }: take off { $mass } half way down the rod, where a small weight does most.
       *[on] Or, for a clock that { $rate }: lay on { $mass } half way down the rod, where a small weight does most.
    }
pendulum-torsion = It turns from side to side { $beats } times an hour. Its ribbon is taken to be of a nickel alloy or of bronze, { $shear } stiff against shearing (from memory): the one is stiffer than that, the other less.
pendulum-thickness = For { $beats } an hour the ribbon must be { $thick } thick.
# One strip or several side by side: "the strip" is all of it.
pendulum-suspended = The suspension spring bends under the bob so that the pendulum turns { $turns } below the upper chop; by its stiffness it goes as one that turns there freely and is { $shorter } shorter. Spring steel is taken, { $stiff } stiff; a strip of bronze bends more.
pendulum-thicker =
    { $way ->
        [lower] With a strip a tenth thicker it turns { $by } lower, and the clock { $rate }.
       *[higher] With a strip a tenth thicker it turns { $by } higher, and the clock { $rate }.
    }
pendulum-other-strip =
    { $way ->
        [lower] With a strip { $wide } wide, { $thick } thick and { $long } long it turns { $by } lower, and the clock { $rate }.
       *[higher] With a strip { $wide } wide, { $thick } thick and { $long } long it turns { $by } higher, and the clock { $rate }.
    }
pendulum-right-nut =
    { $divided ->
        [yes] To put that right, turn the nut { $way } { $turns }, which is { $divisions }; that makes the pendulum { $long } { pendulum-way }.
       *[no] To put that right, turn the nut { $way } { $turns }; that makes the pendulum { $long } { pendulum-way }.
    }
pendulum-right-length = To put that right, make the pendulum { $long } { pendulum-way }.
pendulum-suspension-long = a suspension spring free over { $strip } between its chops, and the pendulum is { $long } long: expected less than that
pendulum-spreads = ± is one standard deviation. A rate is that of the pendulum alone: what the escapement does is not in it.
pendulum-more = To be told more, say:
rod =
    { $rod ->
        [wood] wood along its grain
        [steel] steel
        [iron] iron
        [brass] brass
        [zinc] zinc
        [glass] glass
        [nickel-steel] nickel steel
       *[quartz] quartz
    }
want-length =
    { $asked ->
        [field] what there is: its length or its beats, on the sheet an escape wheel; its pieces, or a ribbon and what turns on it
       *[option] what there is: `--length 39.14in`, `--beats 3600`, or a SHEET with an escape wheel; a pendulum in pieces with `--part`; `--ribbon` with `--disc` or `--balls` for one that turns
    }
want-place =
    { $asked ->
        [field] where it hangs; till then gravity may be anything from equator to pole
       *[option] where it hangs: `--latitude 51.5 --height 100m`; till then gravity may be anything from equator to pole
    }
want-nut =
    { $asked ->
        [field] the nut: how far it goes in one turn, or its threads to the inch
       *[option] the nut: `--nut-pitch 0.7mm` or `--nut-threads 36` to the inch, and `--nut-divisions 30`
    }
want-error =
    { $asked ->
        [field] what the clock gains or loses in a day
       *[option] what the clock does: `--gains 12`, or `--gains=-12` for one that loses, in seconds a day
    }
want-warmth =
    { $asked ->
        [field] what the rod is of, and how much warmer it gets
       *[option] the rod: `--rod steel --warmer 10C`
    }
want-arc =
    { $asked ->
        [field] how far it swings to one side
       *[option] how far it swings: `--half-arc 2.5` degrees to one side, and `--arc-to 2`
    }
want-mass =
    { $asked ->
        [field] its mass, for small weights and the suspension spring
       *[option] its mass, for small weights and the suspension spring: `--mass 6kg`, and `--small 1g`
    }
want-suspension =
    { $asked ->
        [field] its suspension spring, for what another strip does: how long it is free between its chops, how wide all its strips are together, how thick one is
       *[option] its suspension spring, for what another strip does: `--suspension 6x0.1x10mm`, and `--suspension-to 6x0.12x10mm`
    }
want-torsion =
    { $asked ->
        [field] both the ribbon and what hangs on it
       *[option] both the ribbon and what hangs on it: `--ribbon 0.5x0.1x150mm --disc 300g@80mm`
    }
pendulum-for-no-train = a pendulum of { $long } beats { $beats }, and the train asks for { $train }, which is a pendulum of { $wanted }: no nut brings the one to the other; measure and count again
pendulum-weighs-nothing = the pieces weigh nothing; expected a mass above 0 in each
pendulum-top-heavy = the weight of the pieces together lies at the suspension or above it, 0 mm or less below: it does not hang
pendulum-too-stiff = no ribbon of that width and length turns that wheel { $beats }; a longer or narrower one would
pendulum-nut-too-coarse = a nut that moves the bob { $pitch } a turn, and the pendulum is { $long } long: expected less than that
pendulum-boundless = one of these figures is so large or so small that no number follows from them: look at each again
pendulum-not-positive = a length, a mass, a pitch or beats of 0 or less; expected more than 0

## Where oil goes, and where none (English only)

oil-says =
    { $first ->
        [clean] Take it down and clean it; then oil goes to { $count } places, and { $dry } things stay dry.
       *[oil] Oil goes to { $count } places; { $dry } things stay dry.
    }
oil-clean-first = Take it down and clean it first: new oil on old carries grit into every hole. Then:
oil-running = Nothing is taken apart: only what is come to from outside is topped up, and only where the oil that is there is clear and a sink has gone dry. If it is green, brown or thick, this helps nothing: it wants taking down and cleaning.
oil-goes-in = Oil goes in as it goes together, and before it is tried: nobody tests a dry clock.
oil-tower = A tower clock: pivots that take drops where a house clock takes a bead, and oil that must flow in frost. Follow what its keeper and its maker laid down, where that is known.
oil-lost = Counts are lost on this sheet ({ $parts }): how fast what lies behind them turns, and so which oil it has, is a guess.
oil-bush = Look before you oil: the { $arbor } arbor's side shake is { $shake } on a pivot of { $pivot }, { $part } of it. Take that arbor alone between the plates: if it leans plainly, or the hole is egg-shaped, polish the pivot, then bush the hole to it, at its old centre. (A book of 1905 let it come to half the pivot, The Modern Clock, p. 203: ruinously lax.)
oil-stage =
    { $stage ->
        [before] Before it goes together:
        [between] While it goes together, where the plates will hide it:
        [closed] With the plates closed: these in the order told from the back plate, then turned over once and the same from the front:
       *[last] Last:
    }
oil-place =
    { $place ->
        [coils] the { $arbor } arbor's spring, between its coils
        [barrel] the { $arbor } arbor where it turns in its barrel
        [click] the { $arbor } arbor's click, its rivet and ratchet
        [pulley] the pin of the { $arbor } arbor's pulley
        [friction] the { $arbor } arbor where the hands slip to be set
        [levers] the posts of the levers
        [pivots] the { $arbor } arbor's pivots
        [stud] the stud or pipe that the { $arbor } wheel turns on, outside the plates
        [hammer] the pivots of the hammer
        [hammers] the pivots of all { $arbor } hammers
        [crutch] where the crutch touches the pendulum
        [pallets] the pallets, by way of every fifth tooth of { $arbor }
        [lifting] what lifts the hammer, on the { $arbor } arbor
       *[tips] where levers rub: the locking face, the pins that unlock
    }
oil-bead =
    { $measured ->
        [yes] a bead { $across } across in each sink
       *[no] a bead { $across } across in each sink (pivot not measured)
    }
oil-top-up =
    { $measured ->
        [yes] only in a sink that has gone dry, up to a bead { $across } across
       *[no] only in a sink that has gone dry, up to a bead { $across } across (pivot not measured)
    }
oil-drops = some drops in each hole or cup, until it just shows beside the pivot
oil-film = a film, wiped nearly off
oil-trace = a trace
oil-step =
    { $worn ->
        [yes] { $place }: { $kind }, { $much }; its hole is worn: oil is no cure, bush it
       *[no] { $place }: { $kind }, { $much }
    }
oil-kind =
    { $kind ->
        [grease] grease
        [thick] thick oil
        [middling] middling oil
       *[thin] thin oil
    }
oil-duty =
    { $kind ->
        [grease] { oil-kind }: one that clings between sliding metal; its oil, { $thick }
        [thick] { oil-kind }: slow pivots under load, { $thick }
        [middling] { oil-kind }: pivots between, { $thick }
       *[thin] { oil-kind }: fast pivots that bear little, and pallets, { $thick }
    }
oil-stays-dry =
    { $what ->
        [teeth] all teeth, leaves and trundles, in all { $count } meshes
        [suspension] the suspension spring of the pendulum
        [fly] the fly on the { $arbor } arbor, and the spring that lets it slip
        [rack] rack and snail
        [count-wheel] rim and slots of the { $arbor } wheel
       *[bell] hammer head, bell and gong
    }
oil-dry = Dry:
oil-dry-all = Dry: { $all }.
oil-meant = What is meant:
oil-back = Look at it again after { $look }; clean and oil it again after { $again }, sooner where what you see in a sink is no longer clear.
oil-source = All of this is common practice, no source, but where one is named; sinks are filled to a third, so that oil stands about the pivot and does not run.
oil-heading = { $name }: oil

## The figures that are held to be so (English only)

assumed-title = # What is assumed
assumed-about = Where nothing was measured on the clock in hand, these figures are gone by. ± is one standard deviation, carried along. Common practice, no source: as the trade has it, and nobody has published it. Ours: this project's own choice.
assumed-made = This page is made of the program's own table: `trundle assumptions --markdown`; with `--json` each row has its figures in full. Without a log, how the train is held and how surely it is read are only as the sheet and the reading say them.
assumed-columns = | name | figure | what it is for | why | holds |
assumed-topic =
    { $topic ->
        [timing] Timing the strike train
        [windows] Windows that are worked out from the levers
        [power] Springs, weights and trains
        [workshop] Lost counts, pendulums, oil
        [places] Where arbors lie
        [sound] Listening
       *[tools] What the usual tools measure
    }
assumed-holds =
    { $holds ->
        [with-log] with a log
        [without-log] without a log
        [both] with a log and without
       *[no-log] no log in it
    }
assumed-figure =
    { $unit ->
        [part] { $number } in 100
        [half-window] { $number } of the half window
        [window] { $number } of the window
        [deg] { $number }°
        [opening] { $number } of an opening
        [tooth] { $number } of a tooth
        [turn] { $number } turns
        [mm] { $number } mm
        [g] { $number } g
        [n-per-mm2] { $number } N/mm²
        [s] { $number } s
        [s-a-day] { $number } s a day
        [year] { $number } years
        [celsius] { $number } °C
        [ppm] { $number } parts in a million
        [spread] { $number } spreads
       *[ratio] { $number }
    }
assumed-what =
    { $row ->
        [wrong-way] how often a hand turns a wheel the wrong way
        [slip] how often a wheel slips a tooth as the plates close, either way alike
        [reading-spread] how surely a look in degrees is read where no spread is said, one standard deviation
        [even-range] how surely a look is read that only names a range (in the slot, on the edge, a tooth, an hour of the face), of that range
        [oclock] the range that is meant by an hour of the face
        [notch] how surely one sees at rest how far a tip went into its notch
        [least-telling] the most that a look which tells little may use of the widest spread
        [hold] how surely the drop is held where the sheet has no `hold_deg`; without a log there is none but the sheet's
        [build] how far a sound movement's witness may stand from its best, one standard deviation
        [lever-fall] how long the lever that locks a train falls, where a pace was measured and this was not
        [usual-window] how surely the ends of a window are known that rests on usual proportions alone, one standard deviation
        [bent] how often one lever is bent, or one part has slipped on its arbor
        [unnoticed] how often, at each look, something has happened that nobody noticed
        [usual-lash] the free travel of a mesh without `lash_teeth`, for a look at a train that hangs loose
        [eye] how many times as wide as was said readings and the hold spread, until looks that repeat each other or follow on a shift show it
        [eye-handed-on] how much of the eye that the last twelve jobs with looks show, begun before this one in the same bench book, is taken for the eye of this one; a log of the command line, a lesson and a book's first job begin with the usual eye
        [look] what one more look costs
        [mesh] what each mesh that is moved in an opening costs besides
        [cock] what it costs to take a wheel out by a small cock of its own, the plates left together
        [steel] stiffness of spring steel
        [bears] stress that a spring which has set bears wound up: taken where its free turns were not counted, held against where they were
        [coils-in-barrel] how the coils lie at a barrel's wall, against the sum
        [coils-open] how many coils an open spring has let down, against the sum
        [free-turns] how surely `spring_free_turns` are counted
        [room-to-wind] the part of the room between arbor and wall from which a strip cannot be wound
        [in-hand] turns that a strip which fits has beside those of the winding
        [shake] air above and below a strip in its barrel, together
        [thick-least] how surely a strip's thickness is measured: at least
        [thick-part] how surely a strip's thickness is measured: at least such a part
        [rule-least] how surely a strip's length, or an open spring's width across, is measured: at least
        [rule-part] how surely a strip's length is measured: at least such a part
        [weight-part] how surely a driving weight is weighed
        [fall-least] how surely a fall is measured: at least
        [fall-part] how surely a fall is measured: at least such a part
        [through-a-mesh] what of the torque comes through one mesh and its pivots
        [felt] from how much more torque, or less of it half way, it is said what follows
        [fits] how far off a measured thing may be and still fit
        [wheel-to-pinion] the middle ratio of wheel to pinion
        [wheel-to-pinion-log] the spread of the logarithm of that ratio
        [any-ratio] how often a mesh has any ratio, as motion work has
        [doubtful-count] how often a count that is in doubt is as it was written
        [by-the-nut] how much of its length a nut can bring a pendulum to time
        [by-the-bob] how near the middle of the bob is to the centre of swing
        [taken-along] how far the centre of swing goes with a bob that is moved, against the bob
        [strip-stiffer] how much stiffer a suspension strip bends than a bar of its width and thickness
        [side-shake] the side shake, of the pivot, from which a hole is named for a look
        [sink-filled] how much of its sink a bead of oil fills
        [far-module] how many times as coarse as the others, or as fine, the teeth of a mesh may come out by its places before they are held to be wrong
        [place-off] how far off, of what its counts make it, the distance of a mesh may be by its places and still be right
        [touch-off] how far off a centre is touched; and nearer than this two arbors stand on one spot
        [look-again] when to look at the oil again
        [clean-again] when to clean and oil again
        [rough-room] how much sooner where there is dust, smoke, damp or cold
        [tower-pivot] the pivot from which a clock is taken for a tower clock
        [tower-look] when to look at a tower clock's oil again
        [tower-clean] when to clean and oil a tower clock again
        [clock-ppm] how surely a recorder's clock is known that was never compared
        [length-least] how surely a length is measured: at least
        [length-part] how surely a length is measured: at least such a part
        [mass-least] how surely a mass is weighed: at least
        [mass-part] how surely a mass is weighed: at least such a part
        [run-part] how surely a run is said
        [rate-least] how surely a rate is measured
        [arc-least] how surely a swing is read
        [warmth-least] how surely a change of warmth is known
        [key-turns] how surely turns are counted at the key
       *[other] ?
    }
assumed-why =
    { $row ->
        [wrong-way] with the way told as you look at it; common practice, no source
        [slip] common practice, no source
        [reading-spread] someone who looks closely tells a tenth of the half window; common practice, no source
        [even-range] all of the range is as likely: one over the root of twelve
        [oclock] half an hour of it; common practice, no source
        [notch] about a twelfth of a usual notch; from memory
        [least-telling] at the widest, a quarter of the way to the next place, it tells one place from the next no better than a guess; ours
        [hold] the edge of the cam is a click, and a finger stops it there to about that; common practice, no source
        [build] half way from best to the window's end is then three standard deviations, and farther off a lever is the likelier cause; common practice, no source
        [lever-fall] some hundredths of a second; common practice, no source
        [usual-window] one that lies off by so much costs a sixth more openings, by simulation on the schoolroom train; how far they truly lie off nobody measured: common practice, no source
        [bent] a mis-set lever is the exception among trains that will not lock; common practice, no source
        [unnoticed] rare, but without it a belief that went wrong once could never be mended; ours
        [usual-lash] wheels have shake enough to feel; common practice, no source
        [eye] four in ten are as said and nine in ten from half to twice as wide, rougher oftener than finer; ours
        [eye-handed-on] the eye is the book's, whoever reads: the rest is for another hand, light or clock; ours
        [look] the levers are hooked off, the train is led to the drop and each part is read, some minutes; an opening is an hour; common practice, no source
        [mesh] the plates are apart anyhow; common practice, no source
        [cock] two screws and one pivot to find, no other pivot at risk; common practice, no source
        [steel] a published table of spring moduli, address left out: 29.5e6 lb/in² for thin music wire; 205 GPa in worked examples
        [bears] blued carbon steel, from memory; springs differ by more, so one whose free turns are not counted is told as wound
        [coils-in-barrel] the first and last coil are worth a quarter of a coil; ours
        [coils-open] they do not lie at a wall, and their number is known to one in seven; ours
        [free-turns] by eye, to a quarter of a turn; common practice, no source
        [room-to-wind] hooks and coils that do not lie close take the rest; ours
        [in-hand] stop work leaves some unused at either end (The Modern Clock, Chicago 1905, p. 283: seven of seventeen); for where there is none common practice, no source
        [shake] common practice, no source
        [thick-least] a micrometer; common practice, no source
        [thick-part] a micrometer on a strip that is not even; common practice, no source
        [rule-least] a rule along a strip; common practice, no source
        [rule-part] a rule along a strip; common practice, no source
        [weight-part] kitchen or bathroom scales; common practice, no source
        [fall-least] a rule in a case; common practice, no source
        [fall-part] a rule in a case; common practice, no source
        [through-a-mesh] between nothing lost and the three quarters that The Modern Clock, Chicago 1905, p. 267, gives for a whole train
        [felt] ours
        [fits] of a thousand good measurements three are further
        [wheel-to-pinion] table of going trains, The Modern Clock, Chicago 1905, p. 258
        [wheel-to-pinion-log] 0.23 in the table; half as much again for trains of other kinds, ours
        [any-ratio] ours
        [doubtful-count] ours
        [by-the-nut] an inch of a seconds pendulum; common practice, no source
        [by-the-bob] common practice, no source
        [taken-along] a light rod; ours
        [strip-stiffer] its edges are held from curling across: from 1 for a narrow strip to 1/(1 − 0.29²), 1.09, for a wide one; from memory
        [side-shake] ours; whether it is bushed is told by the arbor alone between the plates. Half the pivot, as The Modern Clock had it in 1905, p. 203, is history
        [sink-filled] so that it stands about the pivot and does not run; common practice, no source
        [far-module] from the great wheel to the fly the coarsest teeth are hardly twice as coarse as the middle ones; common practice, no source
        [place-off] a photograph is not taken quite straight, and wheels are not meshed to a hair; common practice, no source
        [touch-off] a finger on a picture of a plate; common practice, no source
        [look-again] common practice, no source
        [clean-again] common practice, no source
        [rough-room] common practice, no source
        [tower-pivot] common practice, no source
        [tower-look] common practice, no source
        [tower-clean] common practice, no source
        [clock-ppm] a crystal; common practice, no source
        [length-least] a calliper in a hand; common practice, no source
        [length-part] a rule in a hand; common practice, no source
        [mass-least] a small balance; common practice, no source
        [mass-part] scales for what is heavy; common practice, no source
        [run-part] a winding is counted in days; common practice, no source
        [rate-least] against a good clock over a day or two; common practice, no source
        [arc-least] half of what is read off a degree plate by eye; common practice, no source
        [warmth-least] a room thermometer; common practice, no source
        [key-turns] common practice, no source
       *[other] ?
    }

## The pages of these sums (English only)

# Each field by the name of the option that asks for the same; $unit is what is meant where none is written.
field =
    { $field ->
        [beats] Beats an hour
        [runs] How long it runs on a winding
        [must] Turns of one arbor in one of another
        [escape] The escape wheel
        [least] The fewest teeth tried
        [most] The most teeth tried
        [instead] A strip in its place
        [on] Of the arbor
        [length] From the bend of the suspension to the middle of the bob
        [latitude] Latitude, degrees
        [height] Above the sea
        [moved-to] Latitude it goes to, degrees
        [moved-up] Above the sea where it goes
        [half-arc] Swing to one side, degrees
        [arc-to] Swing it will have, degrees
        [rod] What the rod is of
        [warmer] How much warmer it gets
        [gains] Seconds gained a day; lost −
        [nut-pitch] One turn of the nut moves it
        [nut-threads] Threads of the nut to the inch
        [nut-divisions] Divisions on the nut's edge
        [mass] Mass of bob and rod
        [small] A small weight
        [below] Where it lies, below the suspension
        [bob] What the bob is of
        [pressure] The air now and then, hectopascals
        [part] Pieces, one on a line
        [suspension] The suspension spring: width x thickness x length
        [suspension-to] A strip in its place: width x thickness x length
        [ribbon] The ribbon
        [disc] A disc that turns on it
        [balls] Balls or a ring that turn on it
        [state] What the movement is like
        [room] Where it goes
        [left-at] Tapped at the left end of the swing, seconds from the beginning
        [arc] Swing to one side, degrees
        [nut] One turn of the rating nut moves the bob
        [clock-ppm] How surely the recorder's clock is known, parts in a million
       *[worn] Arbors whose holes are worn
    }
field-in = { $field } ({ $unit })
field-unsaid = not said
bob =
    { $bob ->
        [lead] lead
        [brass] brass
        [iron] iron
        [zinc] zinc
       *[mercury] mercury
    }
oil-state =
    { $state ->
        [clean] cleaned, being put together
        [running] going, and not opened
       *[gummed] old oil in it, green, brown or thick
    }
oil-room =
    { $room ->
        [lived] a room people live in
        [dusty] dust, smoke, a fire
       *[cold] a tower, a church: cold and damp
    }
refused-needs = “{ $field }” is told only with “{ $other }” beside it
refused-either = “{ $field }” and “{ $other }” say the same: fill in one
sum =
    { $sum ->
        [counts] Missing and doubtful counts
        [power] What drives it
        [pendulum] Pendulum and rating
       *[oil] Where oil goes
    }
sum-back = Back to: { stage }
sum-ask = Work it out
sum-more = More that is known
sum-how = Where no unit is written, the one in brackets is meant; mm, cm, m, in, g, kg, oz, lb, C and F are known, and so are 2,5, 2 1/2, ¼" and 2° 30'. Several measures of one thing stand one after another: 2.51 2.53 2.50. Give or take stands after ~, one standard deviation: 39.14in~0.02. Without it, that of the usual tools is taken.
sum-lacking = Not known yet
sum-drawing =
    { $sum ->
        [counts] The movement with the likeliest counts; the parts without a count in blue, what they may be beside them.
        [power] What drives it: the spring wound up and let down, and its torque over the turns, or the weight and its fall.
        [pendulum] The pendulum as it hangs, its length beside it.
       *[oil] The movement, with the number of its step at each place.
    }
count-likeliest = Likeliest: { $set }.
count-all = Tell all that fit
count-wanted = What must come out
power-wanted = Another strip, or another run
power-on-all = all that are wound
pendulum-wanted = What is there, and what is wanted
pendulum-group =
    { $of ->
        [there] Beats and swing
        [place] Where it hangs, and where it goes
        [air] Rod, warmth and air
        [weights] Small weights
        [strips] Suspension spring
       *[pieces] A pendulum in pieces, or one that turns
    }
oil-wanted = How it is, and where it goes
oil-hang = Print this page: the drawing and its numbers hang by the bench.
known-blanks =
    { $count ->
        [one] One count is not there yet, lost or in doubt.
       *[other] { $count } counts are not there yet, lost or in doubt.
    }
known-lacking = Not known yet: { $what }.

## The strike run through its hours (English only)

strike-not = { $got } not { $owed }
strike-early = { $got } early
strike-turn = { $turns } turn
strike-fullness =
    { $fall ->
        [full] full
        [half] half
       *[none] none
    }
strike-of-tooth = { $degrees } ({ $teeth } tooth)
strike-ahead = { $lever } { $ahead } to the edge ahead
strike-between = { $lever } { $short } short, { $ahead } ahead
strike-rack = rack fallen { $teeth } ({ $short } short, { $ahead } ahead), snail { $edge_short } short, { $edge_ahead } ahead
strike-and-more = { $told } and { $more } more
strike-thin =
    { $more ->
        [0] Thin at { $told }.
       *[other] Thin at { $told }, and { $more } more.
    }
strike-before = As it was put together it did not lie locked: it struck { $blows } before it came to rest.
strike-total = { $blows } blows, of { $owed }.
strike-not-past = It did not get past { $time }. Before that it struck { $blows }, of { $owed } due.
strike-not-past-first = It did not get past { $time }, the first.
strike-none-whole = It did not get as far as the first of its hours.
strike-notes =
    { $whole ->
        [yes] { $notes } notes of the chime, of { $owed }.
       *[no] { $notes } notes of the chime before that, of { $owed } due.
    }
strike-voices =
    { $alike ->
        [yes] { $voices } strokes of the hammers: a blow has { $each } voices.
       *[no] { $voices } strokes of the hammers: a blow may have more voices than one.
    }
strike-same-place = It ends as it began.
strike-same-place-wrong = All stands again as it began, so the next round goes the same way: { $wrong } of { $all } strike wrong.
strike-same-place-bad = The numbers are right, but { $bad } of { $all } places are not good: it may strike so today and not tomorrow.
strike-another-place = It does not come back to where it began.
strike-chime-waits = The chime waits, and is in step from { $from } on: leave it, it has put itself right.
strike-round =
    { $all ->
        [yes] Each strikes { $blows }, a whole round of the count: the lever comes down but once in it.
       *[no] At { $times } it strikes { $blows } or more, a whole round of the count.
    }

# The seven points of a good place; common practice, no source.
point-name =
    { $number ->
        [1] the number
        [2] the hammer at rest
        [3] the hammer while warned
        [4] the warning run
        [5] the lever in time
        [6] the locking arm while warned
       *[7] the rack's pallet and hook
    }
limit-of = { $point }, { $of }
limit-paced =
    { $by ->
        [pace] { $limit }, by the pace that was measured
       *[pace-and-fall] { $limit }, by the pace and the fall that were measured
    }
limit-none = nothing that was looked for
windows-head = Windows that are not on the sheet, worked out from the levers:
windows-line = { $name }: { $from } to { $to }, best { $best }, either end good to { $spread }; bounded by { $short } and { $ahead }
windows-line-usual = { $name }: { $from } to { $to }, best { $best }; the strike does not judge it, so it is only what is usual
windows-line-rests = as usual, not measured: { $figures }
point-not-good = not good: { $points }
point-at =
    { $at ->
        [all] At every one: { $said }.
       *[some] At { $times }: { $said }.
    }
point-number =
    { $blows ->
        [1] one blow, not { $owed }
       *[other] { $blows } blows, not { $owed }
    }
point-early =
    { $blows ->
        [1] a blow at the warning, before its time
       *[other] { $blows } blows at the warning, before their time
    }
point-notes = { $notes } notes, not { $owed }
point-held-up =
    { $how ->
        [touched] the next pin touches the tail of the { $hammer } as the train locks
       *[held] the { $hammer } is held { $by } off its stop as the train locks
    }
point-lifting = the { $hammer } is lifted { $by } while the train is warned
point-warning-run = the { $arm } warns after { $turns } turn; a quarter to three quarters is good, a half best
point-unwarned =
    { $how ->
        [missed] it goes off without a warning: the { $arm } catches no pin
       *[short] it goes off without a warning: the { $arm } stands { $short } too low as the train is let go
    }
point-not-down = the { $lever } is not right down as the train locks: { $part } in 100 of its fall
point-lead =
    { $by ->
        [usual] the { $pin } has only { $lead } still to go as the lever drops; an eighth of a turn (45°) is the least, a fifth usual, as no pace is known
        [pace] the { $pin } has only { $lead } still to go as the lever drops; at the pace that was measured it goes { $least } in the usual time of a lever's fall
       *[pace-and-fall] the { $pin } has only { $lead } still to go as the lever drops; at the pace that was measured it goes { $least } while the lever falls, as that was measured
    }
point-in-path = the { $arm } is { $by } short of being clear of its pin while the train is warned
point-over-pin = the { $arm } stands over its pin while the train is warned, and would come down on it
point-pallet-in =
    { $when ->
        [warned] the { $pallet } is in the rack's teeth while the train is warned, { $to_go } before it has gathered (a quarter of its turn, as usual)
       *[rest] the { $pallet } is in the rack's teeth at rest, { $to_go } before it has gathered (a quarter of its turn, as usual)
    }
point-hook-up =
    { $how ->
        [left] the train locks with { $left } of the rack's teeth still to gather, the hook not behind the last
       *[held] the hook's arbor is held { $by } up as the train locks, not full behind the last tooth
    }

# What a bend does. The first is in the help and in KINDS.md with the same words.
bend-about = Up is the way that the lever's own end goes. Where its tip lies on a track, it has to sink farther to touch: its arbor, and all else on it, stands lower. An arm that stops or lifts stands higher where its arbor is. A tail or lever that pins lift is met later by them and lifted less; between pins it lies on its stop. The rack's tail, told as rack, lets the rack fall farther. Down is the other way.
bend-feels =
    { $way ->
        [up] The { $lever }'s end is bent up { $by }, off the { $track }: it has to sink farther to touch, so the { $arbor } arbor and all else on it stand { $by } lower, unless another lever holds them.
       *[down] The { $lever }'s end is bent down { $by }, into the { $track }: it touches sooner, so the { $arbor } arbor and all else on it stand { $by } higher.
    }
bend-lifted =
    { $way ->
        [off] The { $lever }'s end is bent up { $by }, clear of the { $track }: nothing lifts the { $arbor } arbor by it.
        [up] The { $lever }'s end is bent up { $by }, away from the { $track }: it is met later, and the { $arbor } arbor is lifted { $by } less.
       *[down] The { $lever }'s end is bent down { $by }, towards the { $track }: it is met sooner, and the { $arbor } arbor is lifted { $by } more.
    }
bend-hook =
    { $way ->
        [up] The { $lever }'s end is bent up { $by }, off the rack: it has to sink farther to touch, so the { $arbor } arbor stands { $by } lower and must be lifted farther before the rack is free.
       *[down] The { $lever }'s end is bent down { $by }, into the rack: it touches sooner, so the { $arbor } arbor stands { $by } higher, and the rack is free sooner.
    }
bend-stops =
    { $how ->
        [below] The { $lever }'s end is bent { $way } { $by }: it is in the path of the { $pin } while the { $arbor } arbor is below { $now }, not { $sound }.
       *[above] The { $lever }'s end is bent { $way } { $by }: it is in the path of the { $pin } once the { $arbor } arbor is at { $now }, not { $sound }.
    }
bend-lifts = The { $lever }'s end is bent { $way } { $by }: it begins to lift the { $lifted } arbor once its own, { $arbor }, is at { $now }, not { $sound }.
bend-tail =
    { $way ->
        [up] The rack's tail is bent up { $by }, off the snail: the rack falls { $teeth } tooth farther.
       *[down] The rack's tail is bent down { $by }, into the snail: the rack falls { $teeth } tooth less far.
    }
# Common practice, no source.
bend-soft = Before you bend one: is it soft wire, or hardened or cast? A soft one was made to be bent, and is bent last; any other breaks.
strike-jams =
    { $rest ->
        [yes] It jams{ $after }: { $why }.
       *[no] As it was put together it does not come to rest: it jams{ $after }: { $why }.
    }
# The blows tell where counting stopped, and nothing of the clock.
strike-runaway =
    { $rest ->
        [yes] It runs on{ $after }: nothing stops the train of the { $train } arbor. { strike-given-up }
       *[no] As it was put together it did not lock and runs on: nothing stops the train of the { $train } arbor. { strike-given-up }
    }
strike-given-up =
    { $blows ->
        [0] It was given up after no blow at all: that is only where counting stopped.
        [1] It was given up after 1 blow: that is only where counting stopped.
       *[other] It was given up after { $blows } blows: that is only where counting stopped.
    }
strike-left-off = So much goes on in it that it was left off; what is told is what was struck until then. A mistyped `turn_s` or count is the likeliest cause.
strike-left-off-seen = left off
strike-cut-short = So much goes on that only the first { $events } events are shown, until { $time }.
strike-last-good = {" "}at { $time }, after { $good }
strike-jam-wall =
    { $hand ->
        [held] the { $lever } lies in the { $track } and nothing lifts it over the wall that comes, so the hands are held
       *[free] the { $lever } lies in the { $track } and nothing lifts it over the wall that comes
    }
strike-jam-snail = the rack's tail lies deep on the { $track } as its higher step comes, so the hands are held
strike-jam-past = the rack falls past its last tooth
strike-jam-hand = an arm is in the path of the { $pin }, so the hands are held
strike-held = the train held at the drop of twelve
strike-lifts = the { $lever } begins to be lifted
strike-runs = the train of the { $train } arbor is free and runs
strike-warned = warned: the { $pin } against the { $lever }
strike-locked = locked: the { $pin } against the { $lever }
strike-locked-wall = locked: the { $lever } against its wall
strike-falls-none = the { $lever } leaves its edge and is held: no fall
strike-falls-full = the { $lever } leaves its edge and falls { $fell }: a full fall
strike-falls-half = the { $lever } leaves its edge and falls { $fell } of { $whole }: half a fall
strike-blow = a blow on { $bell }
strike-voice = and, within the same blow, { $bell }
strike-voice-of = and, within the same blow, the { $lever }
strike-let-go = the { $lever } is let go
strike-rack-falls-one = the rack falls one tooth
strike-rack-falls = the rack falls { $teeth } teeth
strike-gathers-last = the pallet gathers the last tooth
strike-gathers = the pallet gathers, { $left } left
strike-it-jams = it jams: { $why }
strike-runs-on = the train of the { $train } arbor runs on, and nothing stops it
strike-over = all hours are struck

# Why it cannot be run, or something not be put in wrong.
strike-no-levers = the sheet has no levers, so its strike cannot be run; expected `[[track]]`, `[[pin]]` and `[[lever]]`, as in movements/schoolroom.toml
strike-no-strike = the sheet has no `[strike]`, so nothing is owed at any hour
strike-no-hammer = no lever of the sheet strikes; expected `strikes` on the lever of a hammer
strike-too-fine = counts and angles of the sheet together are finer than can be reckoned; write angles with fewer figures
strike-too-many = tracks, tips and levers of the sheet together make more edges than can be reckoned; leave out what the strike does not need
unput-no-mesh = the shift { $written } names no mesh that can be shifted; expected one of { $all }, then `=` and a whole number of teeth
unput-no-teeth = the shift { $written } has no whole number of teeth after `=`; ahead is positive, as in `=2` or `=-1`
unput-no-angle = { $written } has no plain decimal number of degrees after `=`
unput-no-number = { $written } has no whole number from 1 after `:`, in the order they come
unput-beyond = { $written } is the number of nothing there; expected 1 to { $last }
unput-no-slots = { $written } names a track without slots, and only slots wear here; expected one of { $all }
unput-none-wears = { $written } names nothing that can be worn: only slots wear here, and no track of the sheet has any
unput-no-pins = { $written } names a track without pins, so none can be missing; expected one of { $all }
unput-past-wheel = the shift { $written } goes more than once round its wheel; expected at most { $teeth } teeth either way
unput-too-far = { $written } is more than can be bent or slipped; expected at most { $most } degrees either way
unput-no-wear = { $written } is no wear, which takes away at each edge; expected 0 to { $most } degrees
unput-together-past-wheel = the shift { $written } adds to what was shifted there before, and together that goes more than once round the wheel; expected at most { $teeth } teeth either way
unput-together-too-far = { $written } adds to what was put in there before, and together that is too much; expected at most { $most } degrees
unput-none = { $written } names nothing of this sheet; the sheet has none
unput-not-there = { $written } names nothing of this sheet; expected one of { $all }

# The page on which it is shown running.
running = The strike, shown running
running-link = See it strike, event by event
running-loading = Nothing is shown yet
running-play = Play
running-pause = Pause
running-next = Next event
running-before = Event before
running-slow = Slow
running-real = As it strikes
running-pace = How fast
running-pace-about = As it strikes is a blow in { $blow } seconds, { $measured ->
        [yes] as was measured
       *[no] as the sheet has no pace
    }; slow is a quarter of that. The hands go { $hand } times faster than on the wall.
running-sound = Let it be heard
running-quiet = Be quiet
running-sound-about = The sound is made by the page and is no likeness of this bell.
running-hours = The hours
running-hour = { $time }, { $blows } of { $owed }
running-right = as it should
running-wrong = wrong
running-thin = thin
running-thin-mark = An hour with a notched edge is thin: a tip keeps less than a fifth of its room from an edge. One with a broken edge is wrong.
running-events = Every event
running-events-of = What is seen until { $time }
running-at = { $time }: { $what }
running-warning = warning run { $turns }
running-fall = fall { $fall }
running-lead = { $lead } still to go
running-put-in = Put something in wrong
running-shift = Mesh, teeth wrong
running-bend = Lever, degrees bent
running-worn = Track, degrees worn
running-missing = Track or pin, which is missing
running-slip = Track or pin, degrees slipped
running-none = nothing
running-by = by
running-run = Run it so
running-clear = Put all right again
running-levers = Levers stand on the drawing where their heights on the sheet put them. Where their arbors are is not on the sheet.

## What was heard (English only)

listen-an-hour = { $beats } beats an hour.
listen-few = It ticks, but too few beats were heard to tell the rate.
listen-rate =
    { $way ->
        [gains] Gains { listen-seconds } a day.
       *[loses] Loses { listen-seconds } a day.
    }
listen-rate-within =
    { $way ->
        [gains] Gains { listen-seconds } a day (from { $low } to { $high }).
       *[loses] Loses { listen-seconds } a day (from { $low } to { $high }).
    }
listen-seconds =
    { $count ->
        [one] { $seconds } second
       *[other] { $seconds } seconds
    }
listen-keeps = Neither gains nor loses, as far as this recording tells.
listen-keeps-within = Neither gains nor loses, as far as this recording tells (from { $low } to { $high }).
listen-signed =
    { $way ->
        [loses] loses { $much }
       *[gains] gains { $much }
    }
listen-less = less than { $least }
listen-bounds = Seconds a day: { $low } to { $high }, 95 times in 100, the recorder's own clock included.
listen-in-beat = In beat.
listen-out-of-beat =
    { $count ->
        [one] Out of beat by { $much } thousandth of a second.
       *[other] Out of beat by { $much } thousandths of a second.
    }
listen-struck-once = Struck { listen-times }.
listen-times =
    { $blows ->
        [1] once
        [2] twice
       *[other] { $blows } times
    }
listen-struck = Struck { $counts }.
listen-struck-right = Struck { $count } times, each its number.
listen-struck-but = Struck { $count } times; { $wrong }.
listen-struck-wrong = Struck { $count } times; { $wrong } of the hours due are wrong or missing.
listen-chimed =
    { $count ->
        [one] One chime.
       *[other] { $count } chimes.
    }
listen-comes-round = Something comes round with { $arbors }.
listen-arbor = the { $arbor } arbor
listen-round-short = every { $turn } s
listen-hour =
    { $half ->
        [yes] half past { $hour }
       *[no] { $hour } o'clock
    }
listen-bells =
    { $count ->
        [one] one bell
       *[other] { $count } bells
    }
listen-doubled =
    { $times ->
        [2] { $hour } was struck twice: { $counts }
       *[other] { $hour } was struck { $times } times: { $counts }
    }
listen-miscounted = { $hour } struck { $blows } for { $due }
listen-late =
    { $way ->
        [late] { $hour } came { $minutes } minutes late
       *[early] { $hour } came { $minutes } minutes early
    }
listen-missing = { $hour } is missing
listen-wrong = { $wrong }.
listen-nut =
    { $way ->
        [up] Turn the rating nut up by { $turns } turns, then listen again.
       *[down] Turn the rating nut down by { $turns } turns, then listen again.
    }
listen-crutch = Move the foot of the crutch to the { listen-side } against the pendulum; a little, then listen again.
listen-crutch-by = Move the foot of the crutch to the { listen-side } against the pendulum, by no more than { $degrees }°; a little, then listen again.
listen-side =
    { $side ->
        [left] left
       *[right] right
    }
listen-which-side =
    { $asked ->
        [option] Which side is late is known only after a tap at the left end of the swing: --left-at SECONDS.
       *[field] Which side is late is known only after a tap at the left end of the swing: say when it came.
    }
listen-look-at = Look at { $arbors }: lateness of { $much } thousandths of a second either way comes round every { $turn } seconds; the chance that it is chance: { $chance }.
listen-rare = less than 1 in 200
listen-beats = Beats: { $count } heard in { $minutes } minutes, { $beats } an hour (from { $low } to { $high }); one beat strays by { $strays } thousandths of a second.
listen-period = from tick to tick { $period } s, give or take { $spread } s
listen-no-train =
    { $asked ->
        [option] whether that gains or loses is known only with a sheet whose train has turn_s and an escape wheel: --sheet SHEET
       *[field] whether that gains or loses is known only with a sheet whose train has turn_s and an escape wheel
    }
listen-drifts = drifts by { $drift } seconds a day for each day (from { $low } to { $high })
listen-steady = overlapping Allan deviation: { $each }
listen-steady-over = { $value } over { $seconds } s
listen-blows = Blows:
listen-at =
    { $blows ->
        [one] at { $at }  { $blows } blow
       *[other] at { $at }  { $blows } blows
    }
listen-at-hour =
    { $blows ->
        [one] at { $at }  { $hour }: { $blows } blow
       *[other] at { $at }  { $hour }: { $blows } blows
    }
listen-paced = { $struck }, { $pace } s from blow to blow
listen-warned = { $struck }; warned { $minutes } minutes before
listen-unwarned = { $struck }; no warning heard
listen-pace-falls = from blow to blow { $first } s at the beginning, { $last } s at the end
listen-chime = at { $at }  chime, bells by pitch, 1 the highest: { $order }
listen-clipped = Some of the recording is cut off, being too loud: further away, or less gain.
listen-full = Only the first { $hours } hours were listened to: more is not kept.
listen-stopped-after = Stopped after { $at }; what is before that was heard.
listen-short = The recording breaks off after { $at }; what is before that was heard.
listen-silent = Nothing is on this recording. Was the microphone on? Lay it on the case or against the backboard.
listen-too-short = Only { $seconds } seconds: too short for anything to repeat. Record a minute at least, five for the rate.
listen-too-loud = Too loud: { $part } in 100 of the recording is cut off, and no beat can be made out. Further away, or less gain.
listen-nothing = No clock can be made out. Go nearer, touch the case with the microphone, keep quiet, and record longer.
not-sound = { $name } { $why }
not-sound-empty = is empty: got no bytes, expected a recording
not-sound-unknown = is no recording that can be read: expected WAV, FLAC, MP3 or Ogg Vorbis, whatever its name ends in
not-sound-unsupported = is packed in a way that is not read ({ $what }): save it as WAV or FLAC
not-sound-header =
    contradicts itself: { $what ->
        [breaks-off] its description of the samples breaks off
        [no-samples] no samples within the first 64 thousand bytes
        [sample-size] samples of an unheard-of size
        [channels] an impossible number of channels
        [frame-size] sizes of samples that contradict each other
       *[nonsense] its own description of itself makes no sense
    }; record or save it anew
not-sound-rate = says it has { $rate } samples a second: expected { $least } to { $most }
not-sound-samples = has a header and no sound after it: it was cut off, or nothing was recorded
not-sound-io = cannot be read: { $error }
listen-bad-clock = { $field }: got { $got }, expected how surely the recorder's clock is known, as in 0.5, or by how much it runs fast and how surely, as in 12~0.5; parts in a million
listen-bad-number = { $field }: expected a number greater than nought
listen-heard = { $time } heard
listen-minutes = minutes
listen-gains-loses = gains / loses, seconds
listen-tick = tick
listen-tock = tock
listen-noted = From a recording of { $time }.
listen-noted-beats = { $beats } beats an hour, { $low } to { $high } 95 times in 100.

# The page on which it is listened to.
listen = Listen to it
listen-to-do = What to do
listen-note = Note this in the job
listen-noted-as = It stands in the log as number { $n }.
listen-plot = How it gains or loses, tick and tock each by its own line. { $answer }
listen-plot-about = Up is ahead of right time, from the first beat on; the band is how far single beats stray. Between tick and tock lies what it is out of beat.
listen-guilty = Where it comes from
listen-guilty-says = Lateness comes round every { $turn } seconds, as { $arbors } does.
listen-sound = The sound
listen-sound-about = A long stroke under the line is a tick, a short one a tock; where they stand too close, a bar says that they were made out. A wedge over the line is a blow, the number how many came together.
listen-strip = The sound, { $time } long: beats made out: { $beats }; strikes: { $strikes }.
listen-place = Place in the sound
listen-place-at = { $at } of { $all }
listen-play-about = Touch the sound, and it is played from there; arrow keys move by a second, with Shift by ten.
listen-not-kept = This recording is too long to be kept here for playing.
listen-hours = The hours as struck
listen-hours-about = A filled wedge is a blow that was heard, an open one a blow that was due and was not; one that stands apart was too many.
listen-pace = How fast it strikes
listen-pace-put = Put this pace on the sheet
listen-pace-stands = The sheet has { $blow } s. How much time a lever has to fall follows from it.
listen-what-strikes-so = See what would make it strike so
listen-how = What to listen to
listen-again = Listen again
listen-chosen = A recording
listen-do = Listen to this recording
listen-sending = How much was listened to
listen-far = { $part } listened to
listen-stop = Stop
listen-stopped = Stopped; nothing of this recording was kept.
listen-forms = WAV, FLAC, MP3 or Ogg Vorbis, up to twelve hours. A minute tells the beat, five the rate, twelve hours every strike. Lay the microphone on the case or against the backboard, and keep quiet.
listen-known = What is known beside it
listen-known-about = What the sheet has is taken from there. A recorder that was never compared with known time is taken as good to 50 parts in a million; one that runs 12 fast, sure to 0.5, is written 12~0.5.
listen-now = Listen now
listen-now-about = With this device's microphone. Only this program hears it; the last three recordings are kept beside the book for a day at most, to be played, and then thrown away.
listen-hearing = Listening; the first sentence comes after some seconds.
listen-left = Tap at the left end of the swing
listen-left-about = Touch it once just as the pendulum stands at the left end of its swing: then it is known which side is late.
listen-marked = Marked: left at { $at } s.
listen-end = That is enough
listen-microphone = the microphone
listen-none-chosen = No recording was chosen: choose a file, or listen with the microphone.
listen-too-many-coming = Two recordings are being listened to already: wait until one of them is done, and send this one again.
listen-no-room = There is no room on the disk for the microphone's sound: make room, and listen again.
listen-too-many = Two microphones are listened to already, or this one is of a kind that is not read: end one of them, or record with the phone and choose the file.
microphone-refused = The browser was not allowed to use the microphone. Allow it for this page (in most browsers by the sign beside the address) and touch “Listen now” again; or record with the phone and choose the file here.
microphone-absent = No microphone was found. Plug one in and touch “Listen now” again; or record with the phone and choose the file here.
microphone-failed = The microphone could not be opened; another program may hold it. Close that and touch “Listen now” again; or record with the phone and choose the file here.
refused-no-recording = That recording is no longer on the bench: listen to it once more.
refused-long-recording = This recording is too long: at most twelve hours can be listened to at once, and 12 GB of file. Cut it, or save it as FLAC, MP3 or Ogg.
