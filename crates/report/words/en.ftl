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

## The way of a job (English only)

stage =
    { $stage ->
        [in] In
        [down] Down
        [look] Look over
        [together] Together
        [prove] Prove
        [rate] Rate
       *[out] Out
    }
stage-about =
    { $stage ->
        [in] received, photographed, counted and measured
        [down] let down, taken apart, cleaned
        [look] looked over for wear
        [together] put together, the strike timed
        [prove] run through every hour
        [rate] set in beat and brought to time
       *[out] oiled, cased, handed back
    }
stage-home = Gone home

# What is to be done: the sentence of the next step, and the point on its list.
do-picture-before = Photograph it as it came.
do-complaint = Write down what is said to be wrong with it.
do-together = Keep weights, pendulum, key and hands together, named.
do-counted = Count and measure it: the sheet.
do-power = Let the power down: a spring with a key, a weight taken off and held.
do-power-of = Let the power of the { $arbor } arbor down: a spring with a key, a weight taken off and held.
do-let-down = Let the spring on the { $arbor } arbor down with a proper key.
do-weight-off = Take the weight of the { $arbor } arbor off, and hold it as it comes.
do-apart = Take the lever springs off, then the plates apart.
do-clean = Clean and dry everything.
do-pivots = Look over every pivot and its hole.
do-teeth = Look over wheels, pinions and pins.
do-spring-looked = Look over the spring of the { $arbor } arbor, its click and the click's rivet.
do-line-looked = Look over the line of the { $arbor } arbor, its drum and its click.
do-levers = Look over levers, hammer and their springs.
do-end-shake = Feel the end shake of every arbor as the plates close.
do-timed = Time the strike train.
do-hours = Let it strike every hour, and count.
do-beat = Set it in beat.
do-rate = Bring it to time.
do-oiled = Oil it.
do-cased = Case it.
do-picture-after = Photograph it as it goes.
do-handed-back = Hand it back.
do-go-on = Go on to the next stage.
do-nothing = Nothing is left to do.

## What can hurt, at each stage (English only)

# Each names the public authority whose rules to follow. What hurts and how is common practice, no source, unless it says otherwise.
# Rules on stored energy, lifting, guards and heights: from memory. Limits: OSHA chemical data and NIOSH Pocket Guide, as in outside/hazards.toml.
danger-weights = Weights off first, and held as they come: a dropped weight goes through a foot or a case. (Lifting: HSE Manual Handling Operations Regulations; NIOSH lifting equation.)
danger-tower = A tower clock has rules of its own: weights blocked or lowered, the train locked out before a hand goes in, and a second person there. (OSHA 29 CFR 1910.147; HSE Work at Height Regulations.)
danger-springs = A wound mainspring can break a hand. Let it down with a proper key, or clamp it, before plates are spread; an open spring that is let down still pushes. Eyes covered. (Stored energy: OSHA 29 CFR 1910.147; HSE PUWER.)
danger-fusee = A fusee keeps its set-up when the train has run down: let that down at the click too, and mind the chain or gut. (Stored energy: OSHA 29 CFR 1910.147; HSE PUWER.)
danger-edges = Plates, strips and old glass have edges. Gloves where the hand does not have to feel. (HSE Personal Protective Equipment at Work Regulations; OSHA 29 CFR 1910.138.)
danger-mercury = Mercury in a pendulum: keep the jar upright and closed. A spill is never swept, vacuumed or sent down a drain. (OSHA limit 0.1 mg/m³; NIOSH 0.05 mg/m³; spills: EPA, and your local authority.)
danger-radium = Hands or dial that ever glowed may carry radium: no scraping, no brushing, no ultrasonic bath; wrap it and ask. (NRC 10 CFR 31.12, or the state's or country's own licensing body.)
danger-chemicals = Cleaning fluids: open air or an extractor, no flame, gloves and eyes covered, and the maker's data sheet read. (OSHA 29 CFR 1910.1200; NIOSH: Stoddard solvent 350 mg/m³; HSE COSHH.)
danger-ammonia = Ammonia cracks brass that is under strain, and hurts eyes and lungs: short dips, rinsed and dried, never a spring barrel or a tight bush left in it. (Test: ASTM B858. Air: OSHA limit 50 ppm; NIOSH 25 ppm.)
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
work-measured = { $what }: { $value } { $unit }.
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
work-handed-back = Handed back.
work-handed-back-to = Handed back to { $to }.
work-removal = Removed for good from { $numbers }.
removed = (removed)
unit-teeth = teeth
unit-turns = turns
unit-s-per-day = s a day

## The printed record (English only)

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
record-ran = How it ran
record-ran-none = No trial is written down.
record-plot = What it gained or lost a day in each of { $count } trials
record-plot-gains = gains
record-plot-loses = loses
record-plot-unit = Seconds a day, trial by trial.
record-wind = How to wind and set it
record-oil = When to oil it next
# Common practice, no source.
record-oil-next = Oiled by { $from }. Have it looked at in { $least } to { $most } years, sooner where it stands in dust or damp; dry or dirty oil wears the holes.
record-oil-none = No oiling is written down: ask before you run it.
record-picture = The clock: { $says }
record-picture-of = Picture of entry { $n }
record-pictures = Pictures, by number of entry
record-log = All that was seen and done
record-sheet = The sheet
record-scale = Scale { $drawn } : { $real }.
record-no-scale = Proportions only: no distance between two arbors is on the sheet.
record-bar = This bar is 50 mm long.
record-local = Weights, springs and what is on an old dial can hurt. Local codes and licensed practice come first.
