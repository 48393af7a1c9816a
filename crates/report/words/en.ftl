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
